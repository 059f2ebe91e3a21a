import { isOverScores, type ArmChange, type ChangeContext } from "./arm-change.js";
import { changeOnScale } from "./change-on-scale.js";
import type { ArmReading } from "./arm-reading.js";
import type { ArmContrast, ArmRelation } from "./arm-relation.js";
import { relationCorrelation } from "./arm-relation.js";
import type { ScaledEstimate } from "./arm-summary.js";
import { demanded } from "./arm-summary.js";
import { isSpreadScale } from "./improvement-sign.js";
import { pooledContrast } from "./pooled-contrast.js";
import type { Refusal } from "./refusal.js";
import { isRefusal } from "./refusal.js";

const isPooled = ({ options }: ChangeContext): boolean =>
  options.scale === "standardised-mean-difference" ||
  options.scale === "standardised-mean-change-change-deviation" ||
  (isOverScores(options.scale) && options.baselineDenominator === "pooled-over-both-arms");

const hasReadyEffect = (reading: ArmReading): boolean =>
  reading.row.statistic === "effect computed elsewhere";

/**
 * One arm against another on the scale asked for: the difference of the two arms' changes, or for the
 * standardised scales one difference over a deviation pooled over both arms.
 *
 * @param treated  the arm of interest
 * @param comparator  the other arm, same outcome, angle, site, side and week
 * @param relation  whether the arms share people
 * @param context  resolved options and where correlations come from
 * @returns estimate, variance and story, or why this scale cannot be reached
 * @source Morris SB (2008) for baseline deviations; the formulas' own files for the rest
 */
export const armContrast = (
  treated: ArmReading,
  comparator: ArmReading,
  relation: ArmRelation,
  context: ChangeContext,
): ArmContrast | Refusal => {
  if (isPooled(context) && !hasReadyEffect(treated)) {
    return pooledContrast(treated, comparator, relation, context);
  }
  const first = changeOnScale(treated, context);
  if (isRefusal(first)) return first;
  const second = changeOnScale(comparator, context);
  if (isRefusal(second)) {
    return {
      refused: `its comparator (arm "${comparator.row.arm}", line ${comparator.row.line}) cannot be used: ${second.refused}`,
    };
  }
  return differenceOfChanges(first, second, relation, context);
};

/**
 * Difference of two estimates from the same people, allowing for their correlation.
 *
 *   V = v_T + v_C − 2·ρ·√(v_T·v_C)      ρ = correlation of the two limbs' changes
 *
 * @param trained  estimate and variance of the trained limb
 * @param other  the same for the comparison limb, on the same scale
 * @param correlation  of the two estimates, within −1 to 1
 * @returns estimate on the same scale and its variance
 * @source none: variance of a difference of two correlated estimates
 */
export const withinPersonDifference = (
  trained: ScaledEstimate,
  other: ScaledEstimate,
  correlation: number,
): ScaledEstimate => {
  demanded(correlation, {
    where: "withinPersonDifference",
    needs: "a correlation within −1 to 1",
    holds: (value) => Math.abs(value) <= 1,
  });
  const shared = Math.sqrt(trained.variance * other.variance);
  return {
    scale: trained.scale,
    estimate: trained.estimate - other.estimate,
    variance:
      (Math.sqrt(trained.variance) - Math.sqrt(other.variance)) ** 2 +
      2 * (1 - correlation) * shared,
  };
};

const differenceOfChanges = (
  first: ArmChange,
  second: ArmChange,
  relation: ArmRelation,
  context: ChangeContext,
): ArmContrast => {
  const { scale } = context.options;
  const changes = relationCorrelation(relation, context.options);
  // Log deviations of two normal quantities correlate as the square of the quantities themselves.
  const between = isSpreadScale(scale) ? changes ** 2 : changes;
  const { estimate, variance } = withinPersonDifference(
    { scale, estimate: first.estimate, variance: first.variance },
    { scale, estimate: second.estimate, variance: second.variance },
    between,
  );
  const shared =
    relation === "different people" ? "variances added" : `${relation}, correlation ${changes}`;
  const route =
    first.route === second.route
      ? `in each arm: ${first.route}`
      : `trained arm: ${first.route}; comparator: ${second.route}`;
  return {
    estimate,
    variance,
    treatedLoading: first.loading,
    comparatorLoading: { mean: -second.loading.mean, spread: -second.loading.spread },
    correlations: [first.correlation, second.correlation].filter((one) => one !== undefined),
    lent: [first.lent, second.lent].filter((one) => one !== undefined),
    ...(relation !== "different people" && { betweenLimbs: changes }),
    route: `${route}; difference of the two changes, ${shared}`,
    notes: [...first.notes, ...second.notes],
  };
};
