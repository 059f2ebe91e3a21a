/** Verdicts on variables with each study left out in turn: which of them rest on one. */
import type { VariableRow } from "../dose/variable-table.js";
import { effectSubset } from "../effects/effect-subset.js";
import { refusal } from "../errors.js";
import { grouped } from "../records/grouped.js";
import { capital, counted } from "../tables/number-format.js";
import { verdictShort } from "../tables/variables-table.js";
import { effectsOptionsOf } from "./effect-options.js";
import { effectsOf, type Evidence } from "./evidence.js";
import { headlineGroups } from "./headline-selection.js";
import type { AnswerPart } from "./outcome-groups.js";
import type { Tell } from "./question.js";
import { verdictsOn, type VariablesOptions } from "./variables.js";

/** A verdict with the studies without which it is another. */
export type InfluencedVerdict = Readonly<{
  family: string;
  variable: string;
  verdict: string;
  studies: number;
  restsOn: readonly Readonly<{ study: string; becomes: string }>[];
}>;

/**
 * Every verdict that compares doses inside studies, made anew without each study of the headlines, and judged together
 * with all others as the question does.
 */
export const influencedVerdicts = (
  evidence: Evidence,
  options: VariablesOptions,
  tell: Tell,
): readonly InfluencedVerdict[] => {
  const key = ({ family, axis }: VariableRow): string => `${family} ${axis.name}`;
  const shown = verdictsOn(evidence, options).rows.filter(({ within }) => within !== undefined);
  const effects = headlineGroups(effectsOf(evidence, effectsOptionsOf(options))).flatMap(
    ({ headline }) => headline.effects,
  );
  const cohorts = [...grouped(effects, ({ cohort }) => cohort).keys()];
  const without = cohorts.map((study, place) => {
    tell(`verdicts without ${study}: ${place + 1} of ${cohorts.length}`);
    const { rows } = verdictsOn(evidence, options, ({ headline }) =>
      effectSubset(headline, ({ cohort }) => cohort !== study),
    );
    return { study, words: new Map(rows.map((row) => [key(row), verdictShort(row)])) };
  });
  return shown.map((row) => {
    const verdict = verdictShort(row);
    return {
      family: row.family,
      variable: row.axis.label,
      verdict,
      studies: cohorts.length,
      restsOn: without.flatMap(({ study, words }) => {
        const becomes = words.get(key(row)) ?? "not studied";
        return becomes === verdict ? [] : [{ study, becomes }];
      }),
    };
  });
};

/** What is said of them: each verdict that is another without some study, with that study's name. */
export const influencedPart = (verdicts: readonly InfluencedVerdict[]): AnswerPart => {
  if (verdicts.length === 0) {
    const reason = "no variable is compared inside studies";
    return {
      headline: `No verdict to look at, as ${reason}.`,
      refusal: refusal("not-told", reason),
    };
  }
  const resting = verdicts.filter(({ restsOn }) => restsOn.length > 0);
  const others = (one: InfluencedVerdict): string =>
    one.restsOn.map(({ study, becomes }) => `${study} (${becomes})`).join(", ");
  const text = (key: string, label: string) => ({ key, label, align: "left" }) as const;
  return {
    headline: `${resting.length} of ${counted(verdicts.length, "verdict")} ${resting.length === 1 ? "rests" : "rest"} on one study: without it the verdict is another.`,
    sentences: resting.map(
      (one) =>
        `${capital(one.family)}, ${one.variable}: "${one.verdict}" is another without ${others(one)}.`,
    ),
    tables: [
      {
        id: "left-out-verdicts",
        title: "Verdicts with each study left out in turn",
        columns: [
          text("family", "Outcome"),
          text("variable", "Variable"),
          text("verdict", "Verdict shown"),
          text("restsOn", "Another without"),
        ],
        rows: verdicts.map((one) => ({
          family: one.family,
          variable: one.variable,
          verdict: one.verdict,
          restsOn: others(one),
        })),
        notes: [],
      },
    ],
  };
};
