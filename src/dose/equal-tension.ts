import { trustedFreedom } from "./identifiability.js";
import { effectSubset } from "../effects/effect-subset.js";
import type { EffectSet } from "../effects/effect.js";
import { CallError, type Note, type Refusal } from "../errors.js";
import { familiesOf, familyOf } from "../records/outcome-families.js";
import { doseAxes } from "./dose-axes.js";
import { doseData } from "./dose-data.js";
import {
  equalTensionPairs,
  equalTensionQuestions,
  type EqualTensionPair,
  type EqualTensionQuantity,
  type EqualTensionQuestion,
} from "./equal-tension-pairs.js";
import { pooledPairs, type PooledPairs } from "./pooled-pairs.js";

export type EqualTensionOptions = Readonly<{
  /** What has to be equal in the two arms. */
  quantity?: EqualTensionQuantity;
  /** The larger total may exceed the smaller by this share. */
  tolerance?: number;
  /** The longer hold is at least so many times the shorter. */
  leastHoldRatio?: number;
  /** The higher intensity is at least so many points of MVC above the easier. */
  leastIntensityPoints?: number;
  confidence?: number;
}>;

export const equalTensionDefaults = {
  quantity: "tension time",
  tolerance: 0.1,
  leastHoldRatio: 1.5,
  leastIntensityPoints: 10,
  confidence: 0.95,
} as const satisfies Required<EqualTensionOptions>;

export type EqualTensionAnswer = Readonly<{
  question: EqualTensionQuestion;
  family: string;
  /** Every pair found, in the order of the file. */
  pairs: readonly EqualTensionPair[];
  studies: number;
  people: number;
  pooled: PooledPairs | Refusal;
  /** The same for pairs whose arms are alike in everything else that is coded; absent where all are. */
  alikeOtherwise?: PooledPairs | Refusal | undefined;
  /** The average spoken of first: of pairs alike in everything else where there is one, else of all. */
  headline: Readonly<{
    answer: PooledPairs | Refusal;
    of: "pairs alike otherwise" | "all pairs";
  }>;
  notes: readonly Note[];
}>;

/** Pairs of arms at equal tension, averaged. */
export type EqualTension = Readonly<{
  quantity: EqualTensionQuantity;
  tolerance: number;
  leastHoldRatio: number;
  leastIntensityPoints: number;
  confidence: number;
  /** One for each question and outcome family of the set. */
  answers: readonly EqualTensionAnswer[];
  model: string;
  assumptions: readonly string[];
}>;

/**
 * The same work given otherwise: long against short holds, and high against low intensities, at equal total tension
 * time (or torque–time), by outcome family.
 *
 * All pairs of arms of one study whose totals agree within the tolerance are found and listed, each with its
 * contrast and interval; people and controls the two arms share are taken out of its error. Pairs are averaged
 * with random parts for study and pair and bias-reduced errors by study. No pair, or pairs of one study only, is
 * a refusal.
 *
 * @param set changes within arms, or arms against a control
 * @param options see `equalTensionDefaults`
 * @throws {CallError} "between-arms", "bad-rules"
 * @source Gleser and Olkin (2009) in The Handbook of Research Synthesis, chapter 19 (contrasts); Pustejovsky and
 *   Tipton (2022) Prevention Science 23:425–438 (average, robust after a working model)
 */
export const equalTension = (set: EffectSet, options: EqualTensionOptions = {}): EqualTension => {
  const resolved = { ...equalTensionDefaults, ...options };
  const { quantity, tolerance, leastHoldRatio, leastIntensityPoints, confidence } = resolved;
  if (!(tolerance >= 0 && leastHoldRatio > 1 && leastIntensityPoints > 0)) {
    throw new CallError({
      code: "bad-rules",
      where: "equal tension",
      needs: "a tolerance from 0, a hold ratio above 1 and intensity points above 0",
      got: `${tolerance}, ${leastHoldRatio} and ${leastIntensityPoints}`,
    });
  }
  doseData(
    effectSubset(set, () => false),
    doseAxes.holdSeconds,
  );
  const families = familiesOf(set.effects.map(({ row }) => row));
  const answers = equalTensionQuestions.flatMap((question) =>
    families.map((family): EqualTensionAnswer => {
      const own = effectSubset(set, ({ row }) => familyOf(row) === family);
      const { pairs, covarianceOf } = equalTensionPairs(own, question, quantity, resolved);
      const studies = new Set(pairs.map(({ study }) => study)).size;
      const ids = new Set(pairs.flatMap(({ more, less }) => [more.effectId, less.effectId]));
      const paired = effectSubset(own, ({ effectId }) => ids.has(effectId));
      const none = `no study compares arms of equal ${quantity} (within ${percent(tolerance)}) that differ ${apart(question, resolved)}`;
      const pool = (chosen: readonly EqualTensionPair[], refusal: string) =>
        pooledPairs(chosen, covarianceOf, confidence, refusal);
      const clean = pairs.filter(({ alsoDiffer }) => alsoDiffer.length === 0);
      const pooled = pool(pairs, none);
      const alikeOtherwise =
        clean.length === pairs.length
          ? undefined
          : pool(clean, `no such pair is alike in everything else that is coded`);
      const headline = headlineOf(pooled, alikeOtherwise);
      return {
        question,
        family,
        pairs,
        studies,
        people: pairs.length === 0 ? 0 : doseData(paired, doseAxes.holdSeconds).people,
        pooled,
        alikeOtherwise,
        headline,
        notes: notesOf(pairs, headline.answer),
      };
    }),
  );
  return {
    quantity,
    tolerance,
    leastHoldRatio,
    leastIntensityPoints,
    confidence,
    answers,
    model:
      "average of contrasts between arms of one study, random parts for study and pair, bias-reduced errors by study",
    assumptions: [
      "holds count in full: ramps up to the target are part of the hold, so that very short holds carry less tension than their seconds say",
      "ranges of hold length or intensity count as their midpoints",
    ],
  };
};

const headlineOf = (
  pooled: PooledPairs | Refusal,
  alikeOtherwise: PooledPairs | Refusal | undefined,
): EqualTensionAnswer["headline"] => {
  if (alikeOtherwise === undefined) return { answer: pooled, of: "pairs alike otherwise" };
  return alikeOtherwise.kind === "told"
    ? { answer: alikeOtherwise, of: "pairs alike otherwise" }
    : { answer: pooled, of: "all pairs" };
};

const percent = (share: number): string => `${Number((100 * share).toPrecision(3))}%`;

const apart = (
  question: EqualTensionQuestion,
  rules: Readonly<{ leastHoldRatio: number; leastIntensityPoints: number }>,
): string =>
  question === "hold length"
    ? `in hold length by a factor of ${rules.leastHoldRatio} or more`
    : `in intensity by ${rules.leastIntensityPoints} points of MVC or more`;

const notesOf = (
  pairs: readonly EqualTensionPair[],
  pooled: PooledPairs | Refusal,
): readonly Note[] => {
  const notes: Note[] = [];
  const implied = pairs.filter((pair) => !pair.pooled).length;
  if (implied > 0) {
    notes.push({
      code: "pairs-implied",
      message: `${implied} of ${pairs.length} pairs ${implied === 1 ? "follows" : "follow"} from other pairs of the same study and ${implied === 1 ? "is" : "are"} listed without being averaged`,
    });
  }
  const mixed = pairs.filter(({ alsoDiffer }) => alsoDiffer.length > 0);
  if (mixed.length > 0) {
    const what = [...new Set(mixed.flatMap(({ alsoDiffer }) => alsoDiffer))].join(", ");
    notes.push({
      code: "pairs-also-differ",
      message: `${mixed.length} of ${pairs.length} pairs also differ in ${what}`,
    });
  }
  if (pooled.kind === "told" && pooled.degreesOfFreedom < trustedFreedom) {
    notes.push({
      code: "robust-few-degrees-of-freedom",
      message: `the average rests on ${pooled.degreesOfFreedom.toFixed(1)} degrees of freedom; below four its interval is not to be relied on`,
    });
  }
  return notes;
};
