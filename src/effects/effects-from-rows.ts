import type { ChangeContext, Loading } from "./arm-change.js";
import { changeOnScale } from "./change-on-scale.js";
import type { Note } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { ArmRelation } from "./arm-relation.js";
import { armContrast } from "./arm-contrast.js";
import type { ArmReading } from "./arm-reading.js";
import { armReading } from "./arm-reading.js";
import { spreadLender } from "./borrowed-spread.js";
import type { LentSpread } from "./lent-spread.js";
import type { LoadedEffect } from "./covariance-blocks.js";
import { covarianceBlocks } from "./covariance-blocks.js";
import type { EffectGrounds } from "./effect-assumptions.js";
import { effectAssumptions } from "./effect-assumptions.js";
import type { Candidate } from "./effect-candidates.js";
import { comparisonNotes } from "./comparison-notes.js";
import { effectCandidates } from "./effect-candidates.js";
import { effectIds } from "./effect-ids.js";
import { effectSetNotes } from "./effect-set-notes.js";
import type { Effect, EffectScale, EffectSet } from "./effect.js";
import { scales } from "./scales.js";
import type { EffectsOptions, ResolvedEffectsOptions } from "./effects-options.js";
import { resolvedEffectsOptions } from "./effects-options.js";
import { improvementSign } from "./improvement-sign.js";
import type { PeopleOf } from "./people-of-rows.js";
import { peopleOfRows } from "./people-of-rows.js";
import type { ResolvedCorrelation } from "./pre-post-correlation.js";
import { cohortOf, correlationResolver } from "./pre-post-correlation.js";
import { printedDifference } from "./printed-difference.js";
import type { Refusal } from "./refusal.js";
import { isRefusal, orRefusal, rowNote } from "./refusal.js";
import { manyPeople, rowParticipants } from "./row-participants.js";
import { rowUses } from "./row-uses.js";
import { isScore, scalesOfRows } from "./scale-of-row.js";

// Longer than most: the entry to the room, where every step of the way from rows to effects is in view.

/** An effect in the making: the outcome's own direction, before ids and sign. */
type Made = Readonly<{
  candidate: Candidate;
  scale: EffectScale;
  relation: ArmRelation;
  estimate: number;
  variance: number;
  loadings: readonly Readonly<{ row: OutcomeRow; loading: Loading }>[];
  correlations: readonly ResolvedCorrelation[];
  lent?: readonly LentSpread[];
  betweenLimbs?: number;
  route: string;
  notes: readonly Note[];
}>;

/**
 * Effects of a file's rows on one scale and contrast, with what became of every row, the covariances
 * between effects that share people or controls, and every number that was assumed.
 *
 * Positive always means improvement (scales of spread have no such direction). Rows that cannot reach
 * the scale are set aside, each with its reason; nothing is dropped in silence.
 *
 * @param rows  validated rows, in the file's order
 * @param options  scale, contrast, correlations; see `effectsDefaults`
 * @returns the effects in the order of their rows
 * @throws {CallError} when an option is unknown or out of range
 * @source none: it puts the room's formulas together; each names its source in its own file
 */
export const effectsFromRows = (
  rows: readonly OutcomeRow[],
  options: EffectsOptions = {},
): EffectSet => {
  const resolved = resolvedEffectsOptions(options);
  const readings = new Map<OutcomeRow, ArmReading | Refusal>();
  for (const row of rows) {
    if (row.statisticOf !== "difference from comparator")
      readings.set(
        row,
        orRefusal(() => armReading(row)),
      );
  }
  const read = [...readings.values()].filter((one): one is ArmReading => !isRefusal(one));
  const correlationOf = correlationResolver(read, resolved);
  const context: ChangeContext = {
    options: resolved,
    correlationOf,
    lentTo: spreadLender(read, resolved, correlationOf),
  };
  const peopleOf = peopleOfRows(rows);
  const { candidates, reasons } = effectCandidates(rows, peopleOf, resolved);
  const scaleOf = scalesOfRows(rows, resolved.scale);
  const made: Made[] = [];
  const refusals = new Map<OutcomeRow, string>(reasons);
  const beyond: Note[] = [];
  const without: Made[] = [];
  for (const candidate of candidates) {
    const relation = relationOf(candidate, peopleOf);
    const scale = scaleOf(candidate.treated);
    const own = { ...context, options: { ...resolved, scale } };
    const outcome = madeEffect(candidate, relation, readings, own);
    if (isRefusal(outcome) && outcome.estimate !== undefined && candidate.comparator === undefined)
      without.push({
        ...{ candidate, scale, relation, estimate: outcome.estimate, variance: 0 },
        ...{ loadings: [], correlations: [], route: outcome.refused, notes: [] },
      });
    if (isRefusal(outcome))
      refusals.set(
        candidate.treated,
        resolved.scale === "log-ratio-of-means" && isScore(candidate.treated)
          ? `a score with a floor and a ceiling is compared in points, not as a ratio: ${outcome.refused}`
          : outcome.refused,
      );
    else made.push({ ...outcome, scale });
    // Numbers were given and read, so whoever wrote them expects an effect: every answer says that there is none.
    if ("beyond" in outcome)
      beyond.push(
        rowNote(candidate.treated, "effect-beyond-measure", `set aside: ${outcome.refused}`),
      );
  }
  const ids = effectIds(made.map(({ candidate }) => candidate));
  const effects = made.map((one, index) => effectOf(one, ids[index] ?? "", resolved));
  const loaded = made.map((one): LoadedEffect => ({
    cluster: cohortOf(one.candidate.treated),
    variance: one.variance,
    loadings: one.loadings,
  }));
  const { blocks, effectsResting, notes } = covarianceBlocks(loaded, peopleOf, resolved);
  const grounds = made.map((one): EffectGrounds => ({
    family: one.candidate.treated.outcomeFamily,
    correlations: one.correlations,
    lent: one.lent ?? [],
    ...(one.betweenLimbs !== undefined && { betweenLimbs: one.betweenLimbs }),
  }));
  return {
    scale: resolved.scale,
    contrast: resolved.contrast,
    effects,
    unweighted: without.map((one) => {
      const { variance: _none, ...shown } = effectOf(
        one,
        String(one.candidate.treated.line),
        resolved,
      );
      return shown;
    }),
    blocks,
    rowUses: rowUses(rows, effects, refusals, new Set(candidates.map(({ treated }) => treated))),
    assumptions: effectAssumptions(grounds, effectsResting, resolved),
    notes: [...beyond, ...effectSetNotes(effects, resolved), ...notes],
  };
};

const relationOf = ({ treated, comparator }: Candidate, peopleOf: PeopleOf): ArmRelation => {
  if (comparator === undefined || peopleOf(treated) !== peopleOf(comparator)) {
    return "different people";
  }
  return treated.design === "crossover" ? "periods of the same people" : "limbs of the same people";
};

/**
 * Largest effect, and largest standard error, that anything can be said with: a thousandfold, a hundred standard
 * deviations; in an outcome's own unit, what still leaves room to square and sum.
 */
const largest = { "log ratio": Math.log(1000), deviations: 100, raw: 1e12 } as const;
/**
 * Smallest standard error that a measurement of people has, a ten-thousandth of a percent; in an outcome's own unit, what a
 * sum of weights still holds.
 */
const smallest = { "log ratio": 1e-6, deviations: 1e-6, raw: 1e-12 } as const;

/** Why numbers that can be put into the formulas give nothing to average or show; undefined where they do. */
const beyondMeasure = (
  { estimate, variance }: Pick<Made, "estimate" | "variance">,
  scale: EffectScale,
): string | undefined => {
  const { kind } = scales[scale];
  const words = {
    "log ratio": "a thousandfold",
    deviations: "100 standard deviations",
    raw: "a million million",
  }[kind];
  if (!Number.isFinite(estimate) || Math.abs(estimate) > largest[kind])
    return `its numbers give an effect of more than ${words}; look at its means, their unit and its spreads again`;
  if (!Number.isFinite(variance) || Math.sqrt(variance) > largest[kind])
    return `its spreads are so large that the effect could lie ${words} either way; look at its spreads and people again`;
  if (variance < smallest[kind] ** 2)
    return "its spreads are so small that it would outweigh everything else; look at its spreads and people again";
  return undefined;
};

const madeEffect = (
  candidate: Candidate,
  relation: ArmRelation,
  readings: ReadonlyMap<OutcomeRow, ArmReading | Refusal>,
  context: ChangeContext,
): Omit<Made, "scale"> | Refusal | (Refusal & Readonly<{ beyond: true }>) => {
  const raw = orRefusal(() => unchecked(candidate, relation, readings, context));
  if (isRefusal(raw)) return raw;
  const beyond = beyondMeasure(raw, context.options.scale);
  return beyond === undefined ? raw : { refused: beyond, beyond: true };
};

const unchecked = (
  candidate: Candidate,
  relation: ArmRelation,
  readings: ReadonlyMap<OutcomeRow, ArmReading | Refusal>,
  context: ChangeContext,
): Omit<Made, "scale"> | Refusal => {
  const { treated, comparator } = candidate;
  const isDifference = treated.statisticOf === "difference from comparator";
  if (context.options.contrast === "change-within-arm") {
    if (isDifference) {
      return {
        refused: "its numbers are a difference from a comparator, not a change within the arm",
      };
    }
    const reading = readings.get(treated);
    if (reading === undefined || isRefusal(reading)) return reading ?? unread;
    if (needsPeople([reading], context.options)) return withoutPeople;
    const change = changeOnScale(reading, context);
    if (isRefusal(change)) return change;
    const { loading, correlation, lent, ...rest } = change;
    return {
      ...rest,
      candidate,
      relation,
      loadings: [{ row: treated, loading }],
      correlations: correlation === undefined ? [] : [correlation],
      lent: lent === undefined ? [] : [lent],
    };
  }
  const contrast = isDifference
    ? printedDifference(treated, comparator, relation, context)
    : fromBothArms(candidate, relation, readings, context);
  if (isRefusal(contrast)) return contrast;
  const { treatedLoading, comparatorLoading, ...rest } = contrast;
  return {
    ...rest,
    candidate,
    relation,
    loadings: [
      { row: treated, loading: treatedLoading },
      ...(comparator === undefined ? [] : [{ row: comparator, loading: comparatorLoading }]),
    ],
  };
};

/** Scales that divide by a deviation need to know how many people a standard error is of. */
const needsPeople = (readings: readonly ArmReading[], { scale }: ResolvedEffectsOptions): boolean =>
  !/^(?:log-ratio-of-means|raw-)/.test(scale) &&
  readings.some(({ participants }) => participants === manyPeople);

const withoutPeople: Refusal = {
  refused: "how many people were measured is not given, and this scale divides by a deviation",
};

const unread: Refusal = { refused: "its numbers could not be read" };

const fromBothArms = (
  { treated, comparator }: Candidate,
  relation: ArmRelation,
  readings: ReadonlyMap<OutcomeRow, ArmReading | Refusal>,
  context: ChangeContext,
) => {
  const own = readings.get(treated);
  if (own === undefined || isRefusal(own)) return own ?? unread;
  if (comparator === undefined) return { refused: "it has no comparator row" };
  const other = readings.get(comparator);
  if (other === undefined || isRefusal(other)) {
    const why = other?.refused ?? "its numbers are a difference from another arm";
    return {
      refused: `its comparator (arm "${comparator.arm}", line ${comparator.line}) cannot be used: ${why}`,
    };
  }
  return needsPeople([own, other], context.options)
    ? withoutPeople
    : armContrast(own, other, relation, context);
};

const participantsOf = (made: Made): number => {
  const { treated, comparator } = made.candidate;
  const people = [treated, comparator].flatMap((row) => {
    const read = row === undefined ? undefined : rowParticipants(row);
    return read === undefined || isRefusal(read) ? [] : [read.participants];
  });
  return made.relation === "different people"
    ? people.reduce((sum, one) => sum + one, 0)
    : people.length === 0
      ? 0
      : Math.min(...people);
};

const effectOf = (made: Made, effectId: string, options: ResolvedEffectsOptions): Effect => {
  const { treated, comparator } = made.candidate;
  const { scale } = made;
  const sign = improvementSign(treated, scale);
  const [correlation] = made.correlations;
  const told = [
    ...new Set(made.correlations.map((one) => `${one.value.toFixed(2)} (${one.source})`)),
  ];
  const route =
    told.length === 0 ? made.route : `${made.route}; pre–post correlation ${told.join(" and ")}`;
  const notes = [...made.notes, ...comparisonNotes(made, options)];
  return {
    effectId,
    study: treated.study,
    cohort: cohortOf(treated),
    arm: treated.arm,
    ...(comparator !== undefined && { comparatorArm: comparator.arm }),
    scale,
    contrast: options.contrast,
    // Adding 0 turns the −0 of a flipped zero into 0.
    estimate: sign * made.estimate + 0,
    variance: made.variance,
    route: sign === 1 ? route : `${route}; sign turned because lower is better`,
    ...(correlation !== undefined && { prePostCorrelation: correlation.value }),
    correlationSource: correlation?.source ?? "not needed",
    ...(made.lent !== undefined && made.lent.length > 0 && { borrowed: made.lent }),
    participants: participantsOf(made),
    row: treated,
    ...(comparator !== undefined && { comparatorRow: comparator }),
    notes,
  };
};
