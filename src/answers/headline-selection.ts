/**
 * What belongs in a headline, decided once for every question: one way of testing, the trained angle, the end
 * of training. The wider selections stand beside it by name, so that nothing is hidden.
 */
import type { Effect, EffectScale, EffectSet } from "../effects/effect.js";
import { scales } from "../effects/scales.js";
import { effectSubset } from "../effects/effect-subset.js";
import { sameAngleWithinDegrees, testDistanceDegrees } from "../projection/goals.js";
import { grouped } from "../records/grouped.js";
import { familyNotCoded, familyRecord, placeOfFamily } from "../records/outcome-families.js";
import { testModeOf, type TestMode } from "../records/test-mode.js";
import { kebabName } from "../tables/dose-table.js";

/** Effects of one family tested in one way, and which of them stand in the headline. */
export type HeadlineGroup = Readonly<{
  /** File-name form, e.g. `strength` or `strength-lifting`. */
  id: string;
  /** In words, e.g. "strength" or "strength, tested by lifting". */
  label: string;
  family: string;
  testMode: TestMode;
  /** The outcome, where a family holds unlike outcomes that are never averaged together. */
  outcome?: string;
  /** The effects of the headline. */
  headline: EffectSet;
  /** All angles and weeks. */
  all: EffectSet;
  /** Arms without a test near an angle they trained at. */
  armsWithoutNearTest: readonly Readonly<{ study: string; arm: string; nearestDegrees: number }>[];
}>;

const modeWords: Readonly<Record<TestMode, string>> = {
  isometric: "",
  "moving at fixed speed": "tested moving at fixed speed",
  lifting: "tested by lifting",
  other: "tested in another way",
};
const modes = Object.keys(modeWords) as readonly TestMode[];

/** The outcome family of an effect, in words also where it is not coded. */
export const familyOf = ({ row }: Effect): string => row.outcomeFamily ?? familyNotCoded;

/** Whether unlike outcomes stand in a family, so that each is averaged by itself. */
const isMixed = (family: string): boolean => family === "other" || family === familyNotCoded;

type Key = Readonly<{ family: string; testMode: TestMode; outcome: string; scale: EffectScale }>;

const keyOf = (effect: Effect): Key => {
  const family = familyOf(effect);
  return {
    family,
    testMode: testModeOf(effect.row),
    outcome: isMixed(family) ? effect.row.outcome : "",
    scale: effect.scale,
  };
};

const distanceOf = (effect: Effect): number | undefined =>
  familyRecord(familyOf(effect)).testedAtAnAngle ? testDistanceDegrees(effect.row) : undefined;

const armOf = ({ cohort, study, arm, comparatorArm }: Effect): string =>
  JSON.stringify([cohort, study, arm, comparatorArm]);

/** The week an effect was measured in, where that was during training. */
const weekInTraining = ({ row: { weekMeasured, weeks } }: Effect): number | undefined =>
  weekMeasured !== undefined && weeks !== undefined && weekMeasured > weeks
    ? undefined
    : (weekMeasured ?? weeks ?? Infinity);

const isNear = (effect: Effect): boolean => {
  const distance = distanceOf(effect);
  return distance === undefined || distance <= sameAngleWithinDegrees;
};

/** The last tests in training, of everything that a key tells apart. */
export const lastInTraining = (
  effects: readonly Effect[],
  keyOfEffect: (effect: Effect) => string,
): readonly Effect[] => {
  const last = new Map<string, number>();
  for (const effect of effects) {
    const week = weekInTraining(effect);
    const key = keyOfEffect(effect);
    if (week !== undefined) last.set(key, Math.max(week, last.get(key) ?? 0));
  }
  return effects.filter((effect) => {
    const week = weekInTraining(effect);
    return week !== undefined && week === last.get(keyOfEffect(effect));
  });
};

/** The last test in training of each arm, outcome and angle: what is asked of angles that were not trained. */
export const lastAtEveryAngle = (set: EffectSet): EffectSet => {
  const last = new Set(
    lastInTraining(set.effects, (effect) =>
      JSON.stringify([armOf(effect), effect.row.outcome, effect.row.testAngleDegrees]),
    ),
  );
  return effectSubset(set, (effect) => last.has(effect));
};

/** What is said of a group beside others of its family on another scale. */
const scaleWords = (scale: EffectScale): string =>
  scales[scale].falls === true ? "where lower is better" : "scores";

/** Effects of one scale as a set of that scale, in their unit where they share one. */
const onScale = (set: EffectSet, scale: EffectScale): EffectSet => {
  const units = new Set(set.effects.map(({ row }) => row.unit));
  const [unit] = units;
  return {
    ...set,
    scale,
    ...(scales[scale].kind === "raw" && units.size === 1 && unit !== undefined ? { unit } : {}),
  };
};

/** The effects of a set that stand in a headline: each arm's tests near an angle it trained at, at the end of training. */
export const headlineOf = (
  set: EffectSet,
): Pick<HeadlineGroup, "headline" | "armsWithoutNearTest"> => {
  const arms = [...grouped(set.effects, armOf).values()];
  const chosen = new Set(
    arms.flatMap((effects) => lastInTraining(effects.filter(isNear), ({ row }) => row.outcome)),
  );
  return {
    headline: effectSubset(set, (effect) => chosen.has(effect)),
    armsWithoutNearTest: arms.flatMap((effects) => {
      const distances = effects.flatMap((effect) => distanceOf(effect) ?? []);
      const nearestDegrees = Math.min(...distances);
      const [first] = effects;
      return first !== undefined &&
        distances.length === effects.length &&
        nearestDegrees > sameAngleWithinDegrees
        ? [{ study: first.study, arm: first.arm, nearestDegrees }]
        : [];
    }),
  };
};

/** Changes without a weight that would stand in the headline of a kind of outcome. */
export const unweightedOf = (
  set: EffectSet,
  kind: Pick<HeadlineGroup, "family" | "testMode" | "outcome"> | undefined,
): readonly Effect[] => {
  if (kind === undefined) return [];
  const { family, testMode, outcome } = kind;
  const own = (set.unweighted ?? []).filter(
    ({ scale, row }) =>
      scale === set.scale &&
      (row.outcomeFamily ?? familyNotCoded) === family &&
      testModeOf(row) === testMode &&
      (outcome === undefined || row.outcome === outcome),
  );
  // Where a test belongs does not depend on its variance.
  const effects = own.map((effect): Effect => ({ ...effect, variance: 0 }));
  return headlineOf({ ...set, effects, blocks: [] }).headline.effects;
};

/**
 * The groups that are averaged, each with its headline: outcome families in their order, isometric tests first,
 * each outcome of the family "other" by itself.
 *
 * @param set effects of one scale and contrast
 * @source none: a choice of rows; 5° is within what trials call the same angle
 */
export const headlineGroups = (set: EffectSet): readonly HeadlineGroup[] => {
  const scalesOf = grouped(set.effects, familyOf);
  return [...grouped(set.effects, (effect) => JSON.stringify(keyOf(effect))).values()]
    .map((effects): HeadlineGroup => {
      const { family, testMode, outcome, scale } = keyOf(effects[0]!);
      const own = new Set(effects);
      const all = onScale(
        effectSubset(set, (effect) => own.has(effect)),
        scale,
      );
      const name = outcome === "" ? family : `${family}: ${outcome}`;
      const mode = modeWords[testMode];
      // Of a family on several scales, those that are not the one asked for say what they are.
      const isBeside =
        outcome === "" &&
        scale !== set.scale &&
        (scalesOf.get(family) ?? []).some((other) => other.scale !== scale);
      const beside = isBeside ? scaleWords(scale) : "";
      return {
        id: kebabName(
          [name, mode === "" ? "" : testMode, beside].filter((part) => part !== "").join(" "),
        ),
        label: [name, mode, beside].filter((part) => part !== "").join(", "),
        family,
        testMode,
        ...(outcome === "" ? {} : { outcome }),
        all,
        ...headlineOf(all),
      };
    })
    .sort(
      (first, second) =>
        placeOfFamily(first.family) - placeOfFamily(second.family) ||
        modes.indexOf(first.testMode) - modes.indexOf(second.testMode) ||
        (first.label < second.label ? -1 : 1),
    );
};
