/** What every statement needs before it is asked: its kind of outcome, the claimed region, and trials set beside it. */
import { sideOf, type ClaimSide } from "../certainty/statement-verdict.js";
import type { DoseAxisName } from "../dose/dose-axes.js";
import type { Contrast, EffectScale, EffectSet } from "../effects/effect.js";
import { scales } from "../effects/scales.js";
import { CallError } from "../errors.js";
import { grouped } from "../records/grouped.js";
import { higherIs } from "../records/outcome-families.js";
import { symmetricInterval } from "../synthesis/inference.js";
import type { Coefficient, Interval } from "../synthesis/synthesis-results.js";
import { scaleDisplay } from "../tables/scale-display.js";
import type { AnswerToRate } from "./certainty-of.js";
import type { ComparedVariable } from "./compared-variables.js";
import { amountFor } from "./counted-amount.js";
import type { EffectChoices } from "./effect-options.js";
import type { Evidence } from "./evidence.js";
import type { HeadlineGroup } from "./headline-selection.js";
import { outcomeGroups } from "./outcome-groups.js";
import type { StatementReading } from "./statement-form.js";
import { trialComparisons, type TrialComparison } from "./trial-comparisons.js";

/** One trial beside a claim, by its own interval; without one it is silent. */
export type TrialBeside = Readonly<{
  study: string;
  /** In the outcome's own direction and the statement's unit, or points of percent for a difference of two gains. */
  value: number | null;
  interval: Interval | null;
  side: ClaimSide;
}>;

/** An average, or a difference between doses, that further trials could settle. */
export type ToSettle = Readonly<{
  on: "average" | DoseAxisName;
  group: HeadlineGroup;
  /** Effects the statement is about. */
  set: EffectSet;
  /** The amount that counts on the effects' scale; infinite where none is known. */
  amount: number;
  /** Where an answer lies beside the claim. */
  side: (told: Coefficient) => ClaimSide;
  /** Doses that are claimed to differ or not, where the statement names both. */
  span?: Interval | undefined;
  /** Why further trials cannot be simulated for it; lower case, no full stop. */
  cannot?: string;
}>;

/** What a file has to say to a statement. */
export type Tested = Readonly<{
  /** What the number is, as it begins a sentence. */
  about: string;
  unit: string;
  /** The claimed region, in the number's own unit; open ends are infinite. */
  claimed: Interval;
  estimate?: number;
  /** The estimate's interval at a coverage. */
  interval?: (confidence: number) => Interval;
  /** The side at a coverage; undefined where nothing could be estimated. */
  side?: (confidence: number) => ClaimSide;
  /** Whether the side is the same at every coverage: of published times, which no file changes. */
  isFixed?: true;
  /** The range of a further study, where the number is an average. */
  further?: Interval | null;
  studies: number;
  needed: number;
  /** Why there is no interval, or what it cannot be told apart from; lower case, no full stop. */
  why?: string;
  trials: readonly TrialBeside[];
  lines: readonly number[];
  /** What its certainty is rated from, on the effects' scale. */
  toRate?: AnswerToRate;
  /** What the question settle asks of further trials; undefined for all but averages and doses set against each other. */
  settle?: ToSettle;
}>;

/** Rows, assumptions and coverage that all statements of a file share. */
export type StatementChoices = Omit<EffectChoices, "scale" | "contrast"> &
  Readonly<{ confidence: number }>;

/** A statement asked of a file. */
export type Asking = Readonly<{
  evidence: Evidence;
  reading: StatementReading;
  options: StatementChoices & Readonly<{ scale: EffectScale; contrast: Contrast }>;
  /** All angles and weeks in place of the headline, for averages and doses. */
  wide?: boolean;
}>;

/** How numbers of a set read in the outcome's own direction: of blood pressure a fall is below 0. */
export type Literal = Readonly<{ scale: EffectScale; falls: boolean; unit: string }>;

const literalOf = ({ scale, unit }: EffectSet, group: HeadlineGroup): Literal => {
  const row = group.all.effects[0]?.row;
  const display = scaleDisplay(scale);
  return {
    scale,
    falls: scales[scale].falls === true || (row !== undefined && higherIs(row) === "worse"),
    unit: display.shownAsPercent ? "%" : (unit ?? display.unit),
  };
};

export const asLiteral = ({ scale, falls }: Literal, value: number): number =>
  (falls ? -1 : 1) * scaleDisplay(scale).toShown(value);

export const literalInterval = (literal: Literal, { low, high }: Interval): Interval => {
  const [a, b] = [asLiteral(literal, low), asLiteral(literal, high)];
  return literal.falls ? { low: b, high: a } : { low: a, high: b };
};

/** An estimate of a model as a statement takes it: its number, and its interval at every coverage. */
export const toldAs = (
  literal: Literal,
  {
    estimate,
    standardError,
    degreesOfFreedom,
  }: Pick<Coefficient, "estimate" | "standardError" | "degreesOfFreedom">,
) => ({
  estimate: asLiteral(literal, estimate),
  interval: (confidence: number): Interval =>
    literalInterval(
      literal,
      symmetricInterval(estimate, standardError, degreesOfFreedom, confidence),
    ),
});

/** The region that a claim about one number names; undefined where no amount that counts is known. */
const claimedRegion = (
  { claim, least, most }: StatementReading,
  counts: Interval | undefined,
): Interval | undefined => {
  if (claim === "more") return { low: least ?? 0, high: Infinity };
  if (claim === "less") return { low: -Infinity, high: most ?? 0 };
  if (claim !== "no difference") return { low: least ?? -Infinity, high: most ?? Infinity };
  if (least !== undefined && most !== undefined) return { low: least, high: most };
  const own = most ?? least;
  return own === undefined ? counts : { low: -Math.abs(own), high: Math.abs(own) };
};

/** A statement about which nothing can be asked, and why. */
export const untested = (about: string, needed: number, why: string): Tested => ({
  ...{ about, needed, why, unit: "", claimed: { low: -Infinity, high: Infinity }, studies: 0 },
  ...{ trials: [], lines: [] },
});

/** Why numbers of a statement cannot be set beside those of the file. */
const otherUnit = (
  { claim, unit, least, most }: StatementReading,
  own: string,
): string | undefined =>
  (least === undefined && most === undefined && (claim !== "no difference" || unit === "%")) ||
  unit.toLowerCase() === own.toLowerCase()
    ? undefined
    : `the file's numbers stand in ${own || "units of their own"} and the statement's in ${unit}`;

/** The ground a statement stands on. */
export type Ground = Readonly<{
  group: HeadlineGroup;
  literal: Literal;
  /** The amount that counts on the effects' scale. */
  amount: number;
  claimed: Interval;
}>;

/**
 * The kind of outcome a statement is about, of a family the way of testing that leads, and what it claims of it; or why
 * it cannot be asked.
 *
 * @param what compared, in words after the outcome
 */
export const groundOf = (
  { evidence, reading, options, wide = false }: Asking,
  what: string,
  needed: number,
): Ground | Tested => {
  const not = (why: string, name: string = reading.outcome): Tested =>
    untested(`${name}, ${what}`, needed, why);
  try {
    const [own] = outcomeGroups(evidence, { ...options, outcome: reading.outcome }).groups;
    if (own === undefined) return not("no row it is about has a weight");
    const group = wide ? { ...own, headline: own.all } : own;
    const literal = literalOf(group.headline, group);
    const amount = amountFor(group.headline, group.family, undefined);
    const unlike = otherUnit(reading, literal.unit);
    if (unlike !== undefined) return not(unlike, group.label);
    const claimed = claimedRegion(
      reading,
      amount === undefined ? undefined : literalInterval(literal, { low: -amount, high: amount }),
    );
    if (claimed === undefined)
      return not(
        "no amount that counts is known in the outcome's own unit; most says it",
        group.label,
      );
    return { group, literal, amount: amount ?? Infinity, claimed };
  } catch (error) {
    if (!(error instanceof CallError)) throw error;
    return not(
      error.code === "no-rows"
        ? "no row meets its conditions"
        : error.code === "unknown-choice"
          ? `no row about ${reading.outcome} has a weight`
          : error.message,
    );
  }
};

/** Trials by study: several of one study agree or are silent. */
export const besideByStudy = <One>(
  many: readonly One[],
  studyOf: (one: One) => string,
  told: (one: One) => Readonly<{ value: number | null; interval: Interval | null }>,
  claimed: Interval,
): readonly TrialBeside[] =>
  [...grouped(many, studyOf)].map(([study, own]): TrialBeside => {
    const all = own.map((one) => {
      const { value, interval } = told(one);
      return { value, interval, side: interval === null ? "neither" : sideOf(interval, claimed) };
    });
    const sides = new Set(all.map(({ side }) => side));
    sides.delete("neither");
    const [side] = sides;
    const shown =
      all.find((one) => one.side === side) ??
      all.find(({ interval }) => interval !== null) ??
      all.find(({ value }) => value !== null) ??
      all[0]!;
    return {
      ...shown,
      study,
      side: sides.size === 1 ? (side as ClaimSide) : "neither",
    };
  });

/** Comparisons of two arms as trials beside a claim; `turned` sets the lower dose against the higher. */
export const comparisonsBeside = (
  comparisons: readonly TrialComparison[],
  { falls }: Pick<Literal, "falls">,
  claimed: Interval,
  turned = false,
): readonly TrialBeside[] =>
  besideByStudy(
    comparisons,
    ({ study }) => study,
    ({ difference, interval }) => {
      const turn = falls === turned ? 1 : -1;
      return {
        value: difference === null ? null : turn * difference,
        interval:
          interval === null || turn === 1 ? interval : { low: -interval.high, high: -interval.low },
      };
    },
    claimed,
  );

/** What trials of a kind of outcome compared in one variable. */
export const comparisonsOn = (
  { evidence, options }: Asking,
  group: HeadlineGroup,
  variable: ComparedVariable,
): readonly TrialComparison[] =>
  trialComparisons(evidence, options, [variable]).comparisons.filter(
    (one) => one.group === group.id,
  );

export const comparedLines = (comparisons: readonly TrialComparison[]): readonly number[] =>
  [...new Set(comparisons.flatMap(({ lower, higher }) => [lower.line, higher.line]))].sort(
    (a, b) => a - b,
  );

/** How many trials have an interval of their own. */
export const weightedIn = (trials: readonly TrialBeside[]): number =>
  trials.filter(({ interval }) => interval !== null).length;
