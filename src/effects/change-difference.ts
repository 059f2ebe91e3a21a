import type { PairedSummary, ScaledEstimate } from "./arm-summary.js";
import { checkedPaired, demanded, pooledDeviation } from "./arm-summary.js";
import type { StandardisedDifferenceOptions } from "./standardised-mean-difference.js";
import { correctedStandardisedDifference } from "./standardised-mean-difference.js";

const meanChange = (arm: PairedSummary): number => arm.after.mean - arm.before.mean;

/**
 * Difference of two arms' mean changes in units of the deviation after training pooled over both arms.
 *
 * The variance is that of a difference of independent groups and takes no account of the pairing, so no
 * correlation is needed; with a correlation above one half it is on the cautious side.
 *
 *   d = (D_T − D_C)/S_after      g = J(N−2)·d      variance as in `correctedStandardisedDifference`
 *
 * @source the form printed by Diong J et al. (2022) Musculoskeletal Science and Practice
 */
export const changeDifferenceByPooledPostDeviation = (
  treated: PairedSummary,
  control: PairedSummary,
  options: StandardisedDifferenceOptions = {},
): ScaledEstimate => {
  const where = "changeDifferenceByPooledPostDeviation";
  checkedPaired(treated, { where });
  checkedPaired(control, { where });
  const deviation = demanded(
    pooledDeviation(
      { deviation: treated.after.deviation, participants: treated.participants },
      { deviation: control.after.deviation, participants: control.participants },
    ),
    { where, needs: "a pooled standard deviation after training above 0", holds: (v) => v > 0 },
  );
  return correctedStandardisedDifference(
    {
      uncorrected: (meanChange(treated) - meanChange(control)) / deviation,
      treated: treated.participants,
      control: control.participants,
    },
    options,
  );
};

/**
 * Difference of two arms' mean changes in units of the deviation of the changes pooled over both arms.
 *
 *   d = (D_T − D_C)/S_c      g = J(N−2)·d      V = 1/n_T + 1/n_C + g²/(2N)
 *
 * @source Hedges LV (1981) Journal of Educational Statistics 6:107–128, applied to change scores
 */
export const changeDifferenceByPooledChangeDeviation = (
  treated: Readonly<{ meanChange: number; changeDeviation: number; participants: number }>,
  control: Readonly<{ meanChange: number; changeDeviation: number; participants: number }>,
  options: StandardisedDifferenceOptions = {},
): ScaledEstimate => {
  const deviation = demanded(
    pooledDeviation(
      { deviation: treated.changeDeviation, participants: treated.participants },
      { deviation: control.changeDeviation, participants: control.participants },
    ),
    {
      where: "changeDifferenceByPooledChangeDeviation",
      needs: "a pooled standard deviation of the changes above 0",
      holds: (value) => value > 0,
    },
  );
  const corrected = correctedStandardisedDifference(
    {
      uncorrected: (treated.meanChange - control.meanChange) / deviation,
      treated: treated.participants,
      control: control.participants,
    },
    options,
  );
  return { ...corrected, scale: "standardised-mean-change-change-deviation" };
};
