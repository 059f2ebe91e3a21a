/** A statement that further trials could settle: its own rows, claim and doses in place of the whole file's. */
import { doseAxes, type DoseAxis } from "../dose/dose-axes.js";
import type { Contrast, EffectScale } from "../effects/effect.js";
import { CallError } from "../errors.js";
import { confidenceWords } from "../tables/number-format.js";
import { exampleStatements } from "./example-statements.js";
import type { Evidence } from "./evidence.js";
import type { HeadlineGroup } from "./headline-selection.js";
import { effectShape } from "./effect-options.js";
import { option, text } from "./option.js";
import type { outcomeShape } from "./outcome-groups.js";
import type { Options } from "./question.js";
import { averageTarget, verdictTarget, type Decide, type SettleTarget } from "./settle-targets.js";
import { readStatements, type StatementsGiven } from "./statement-file.js";
import type { ReadStatement, StatementReading } from "./statement-form.js";
import type { StatementChoices } from "./statement-ground.js";
import { askingOf, testedStatement } from "./statement-tested.js";

export const statementOption = option(text().optional(), {
  help: "a statement to be settled, by its own rows, claim and doses: its number among the statements, or the sentence itself",
  value: "<statement>",
});

/** A statement with what further trials are asked of, or why they cannot be. */
export type StatementToSettle =
  | Readonly<{
      kind: "told";
      group: HeadlineGroup;
      axis: DoseAxis | undefined;
      target: SettleTarget;
      amount: number;
      amountIs: string;
      about: string;
      untold: string;
      unknown: string;
      /** How it is asked, in a sentence. */
      asked: string;
      scale: EffectScale;
      contrast: Contrast;
    }>
  | Readonly<{
      kind: "cannot";
      about: string;
      reason: string;
      scale: EffectScale;
      contrast: Contrast;
    }>;

const readOne = (statement: string, given: StatementsGiven | undefined): ReadStatement => {
  const isNumber = /^\d+$/.test(statement);
  const { statements } = readStatements(isNumber ? (given ?? exampleStatements) : [statement]);
  const one = isNumber ? statements[Number(statement) - 1] : statements[0];
  if (one === undefined)
    throw new CallError({
      code: "unknown-choice",
      where: "--statement",
      needs: `a number from 1 to ${statements.length}, or a sentence`,
      got: statement,
    });
  return one;
};

/** Why claims of other kinds are not simulated. */
const otherClaims = {
  threshold:
    "a threshold is read off the shape of a curve, and trials of two doses do not tell a shape",
  enough:
    "what is enough is read off the shape of a curve, and trials of two doses do not tell a shape",
  optimum:
    "an optimum is read off the shape of a curve, and trials of two doses do not tell a shape",
  "time course":
    "a course needs trials that measure several weeks, and only two arms at one time are simulated",
  "joint angle":
    "a carry-over needs trials that test several angles, and only two arms at one angle are simulated",
  endurance: "it is asked of published endurance times, which no training trial changes",
} as const;

const cannotOf = ({ claim, equal, compared }: StatementReading): string | undefined => {
  if (claim in otherClaims) return otherClaims[claim as keyof typeof otherClaims];
  if (equal !== undefined)
    return `at equal ${equal} two variables change together, and trials of one are simulated`;
  return compared === "isometric or dynamic"
    ? "trials of arms that move are not simulated"
    : undefined;
};

/**
 * What further trials are asked of for one statement: only effects it is about, its own scale, contrast and claim, decided
 * where the interval lies inside the claim (supported) or wholly outside (against) with as many studies as a verdict needs.
 *
 * @param statement its number among the statements given, else the sentence
 * @throws {CallError} "unknown-choice" where there is no such statement or its form is not complete
 * @source none: the verdict on a statement, asked again with trials added
 */
export const statementToSettle = (
  evidence: Evidence,
  statement: string,
  given: StatementsGiven | undefined,
  options: Options<typeof outcomeShape> & Readonly<{ amount?: unknown; on?: unknown }>,
): StatementToSettle => {
  for (const name of ["outcome", "on", "amount"] as const)
    if (options[name] !== undefined)
      throw new CallError({
        code: "unknown-choice",
        where: `--${name}`,
        needs: "no such choice beside --statement, which says it itself",
        got: String(options[name]),
      });
  const choices: StatementChoices = Object.fromEntries(
    [...Object.keys(effectShape), "confidence"].map((name) => [name, options[name as "where"]]),
  ) as never;
  const read = readOne(statement, given);
  if (read.reading === undefined)
    throw new CallError({
      code: "unknown-choice",
      where: "--statement",
      needs: read.asked.map(({ field, question }) => `${field}: ${question}`).join(" "),
      got: read.statement,
    });
  const asking = askingOf(evidence, read.reading, choices);
  const tested = testedStatement(asking);
  const { settle, needed, about } = tested;
  const { scale, contrast } = asking.options;
  const said = `“${read.statement.replace(/\.$/, "")}”`;
  const cannot = (reason: string): StatementToSettle => ({
    kind: "cannot",
    about: said,
    ...{ reason, scale, contrast },
  });
  if (settle === undefined)
    return cannot(cannotOf(read.reading) ?? tested.why ?? "no number is asked of this file for it");
  if (settle.cannot !== undefined) return cannot(settle.cannot);
  const { on, group, set, amount: counts, side, span } = settle;
  // In a unit of its own the file knows no amount that counts; the statement's own then scales what is drawn.
  const { least = 0, most = 0 } = read.reading;
  const scaled = Number.isFinite(counts) ? counts : Math.max(Math.abs(least), Math.abs(most));
  if (scaled === 0)
    return cannot(
      "no amount that counts is known in the outcome's own unit, by which futures are drawn",
    );
  const { confidence, limbsCorrelation } = options;
  const decide: Decide = (told, studies) => {
    const own = told === undefined || studies < needed ? "neither" : side(told);
    return own === "inside" ? "supported" : own === "outside" ? "against" : undefined;
  };
  const target =
    on === "average"
      ? averageTarget(set, { amount: scaled, confidence, decide })
      : verdictTarget(set, on, {
          ...{ amount: scaled, confidence, limbs: limbsCorrelation, others: [], span, decide },
        });
  if (target.span !== undefined && !(target.span.high > target.span.low))
    return cannot("neither the file nor the statement says which two doses are compared");
  return {
    kind: "told",
    group: { ...group, headline: set },
    axis: on === "average" ? undefined : doseAxes[on],
    ...{ target, amount: scaled, scale, contrast },
    amountIs: Number.isFinite(counts) ? "the amount that counts" : "the amount that is claimed",
    about: `${said} (${about})`,
    untold: "whether it is supported or against",
    unknown: `whether ${said} is supported or against`,
    asked: `Asked by the statement's own rows, scale, claim and doses${asking.options.where === undefined ? "" : ` (${asking.options.where})`}, alone and at ${confidenceWords(confidence)}: supported where the interval lies inside the claim, against where it lies wholly outside.`,
  };
};
