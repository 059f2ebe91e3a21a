/**
 * When a file can answer a dose question, and what is missing when it cannot.
 *
 * The rules are ours: they ask for less than would make an answer safe, and for enough that an answer
 * is about more than one or two trials.
 */
import { withUnit } from "../protocol/with-unit.js";
import { refusal, type Refusal } from "../errors.js";
import type { CurveUse } from "./curve-design.js";
import type { DoseAxis } from "./dose-axes.js";
import type { DoseData } from "./dose-data.js";
import type { DoseSupport } from "./dose-support.js";

/** What is said where an iteration gives up. */
export const didNotSettle = refusal(
  "did-not-settle",
  "the computation does not settle on these effects",
);

/** Robust degrees of freedom below which an interval is not to be relied on (Tipton 2015). */
export const trustedFreedom = 4;
/** Fewest studies that compare doses head to head before a within-study slope is given. */
export const fewestStudiesWithin = 3;
/** Fewest studies, and fewest distinct study means, before a between-study slope is given. */
export const fewestStudiesBetween = 4;
export const fewestMeans = 3;
/** Fewest studies with an arm away from the commonest dose. */
export const fewestStudiesElsewhere = 3;
/** Share of arms at one dose from which on the axis counts as not varied. */
export const nearlyAllShare = 0.9;

/** Share of arms at one dose that the words call nearly all. */
const spokenOfAsNearlyAll = 0.8;

const counted = (count: number, one: string, many: string): string =>
  `${count} ${count === 1 ? one : many}`;

/** A dose with its unit: `100% of MVC`, `3`. */
export const doseText = (value: number, axis: DoseAxis): string => {
  const number = String(Number(value.toPrecision(4)));
  if (axis.kind === "levels") {
    return axis.levels?.[value] ?? number;
  }
  return withUnit(number, axis.unit);
};

/** The refusal for the whole axis, or undefined when at least one part can be looked at. */
export const axisRefusal = (support: DoseSupport, axis: DoseAxis): Refusal | undefined => {
  if (support.effects === 0) {
    return refusal(
      "dose-not-coded",
      `${axis.label} cannot be told for any arm: no slope for ${axis.label}`,
    );
  }
  if (support.effects < 2 || support.studies < 2) {
    return refusal(
      "too-few-effects",
      `only ${counted(support.effects, "effect", "effects")} of ${counted(support.studies, "study", "studies")} with known ${axis.label}: no slope for ${axis.label}`,
    );
  }
  const { commonest } = support;
  if (support.doses.length === 1) {
    return refusal(
      "one-dose",
      `all arms ${heldAt(commonest!.dose, axis)}: no slope for ${axis.label}`,
    );
  }
  if (
    commonest !== undefined &&
    support.studiesWithin < fewestStudiesWithin &&
    (commonest.share >= nearlyAllShare || support.studiesOffCommonest < fewestStudiesElsewhere)
  ) {
    return refusal(
      "nearly-one-dose",
      commonest.share >= spokenOfAsNearlyAll
        ? `nearly all arms ${heldAt(commonest.dose, axis)} (${commonest.arms} of ${support.arms}): no slope for ${axis.label}`
        : `only ${counted(support.studiesOffCommonest, "study has", "studies have")} an arm whose ${axis.label} is not ${doseText(commonest.dose, axis)}, at least ${fewestStudiesElsewhere} are needed: no slope for ${axis.label}`,
    );
  }
  return undefined;
};

/** `train at 100% of MVC`, `have a hold length of 6 s`, `have the same number of sessions a week, 3`. */
const heldAt = (dose: number, axis: DoseAxis): string => {
  if (axis.name === "intensityPercent") return `train at ${doseText(dose, axis)}`;
  if (axis.kind === "levels") return `have the same ${axis.label}, ${doseText(dose, axis)}`;
  return axis.unit === "" || axis.unit === "weeks"
    ? `have the same number of ${axis.label}, ${doseText(dose, { ...axis, unit: "" })}`
    : `have a ${axis.label} of ${doseText(dose, axis)}`;
};

/** The refusal for the comparison inside studies, or undefined when it can be made. */
export const withinRefusal = (support: DoseSupport, axis: DoseAxis): Refusal | undefined =>
  support.studiesWithin >= fewestStudiesWithin
    ? undefined
    : refusal(
        "too-few-comparisons",
        support.studiesWithin === 0
          ? `no study with a weight compares arms that differ in ${axis.label}; at least ${fewestStudiesWithin} are needed`
          : `only ${counted(support.studiesWithin, "study with a weight compares", "studies with a weight compare")} arms that differ in ${axis.label}; at least ${fewestStudiesWithin} are needed`,
      );

/** The refusal for the comparison of studies' means, or undefined when it can be made. */
export const betweenRefusal = (support: DoseSupport, axis: DoseAxis): Refusal | undefined =>
  support.studies >= fewestStudiesBetween && support.distinctMeans >= fewestMeans
    ? undefined
    : refusal(
        "too-few-studies",
        `${counted(support.studies, "study", "studies")} with ${counted(support.distinctMeans, "distinct mean", "distinct means")} of ${axis.label}; at least ${fewestStudiesBetween} studies and ${fewestMeans} means are needed`,
      );

/**
 * The comparisons a curve is made of, or why there are none to make it of.
 *
 * @param wanted `best identified` takes comparisons inside studies where there are enough, else between studies
 * @source none: the rules of identifiability.ts in order
 */
export const chooseComparisons = (
  data: DoseData,
  wanted: CurveUse | "best identified",
): CurveUse | Refusal => {
  const { support, axis } = data;
  const whole = axisRefusal(support, axis);
  if (whole !== undefined) return whole;
  const within = withinRefusal(support, axis);
  const between = betweenRefusal(support, axis);
  if (wanted === "within studies") return within ?? wanted;
  if (wanted !== "best identified")
    return between === undefined || within === undefined ? wanted : between;
  if (within === undefined) return "within studies";
  if (between === undefined) return "between studies only";
  return refusal("too-few-comparisons", `${within.reason}; and ${between.reason}`);
};

/** Doses of the arms, an arm counted once at each; inside studies, of the studies that compare doses. */
export const comparedDoses = (data: DoseData, use: CurveUse): readonly number[] => {
  const distinct = new Map<string, Set<number>>();
  data.effects.forEach(({ study }, row) => {
    const doses = distinct.get(study) ?? new Set<number>();
    distinct.set(study, doses.add(data.doses[row]!));
  });
  const seen = new Map<string, number>();
  data.effects.forEach((effect, row) => {
    if (use === "within studies" && distinct.get(effect.study)!.size < 2) return;
    seen.set(`${effect.study}\u0000${effect.arm ?? ""}\u0000${data.doses[row]!}`, data.doses[row]!);
  });
  return [...seen.values()];
};
