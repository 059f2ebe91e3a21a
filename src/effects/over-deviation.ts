import { demanded } from "./arm-summary.js";
import { chosenSmallSampleFactor } from "./standardised-mean-difference.js";

/**
 * A difference in units of an estimated deviation, corrected for small samples, and its variance by exact moments.
 *
 *   g = J(ν)·D/S      V = J²·(ν/(ν−2))·(v/S² + g²) − g²
 *   D, v = difference and its variance;  S, ν = deviation and its degrees of freedom, independent of D
 *
 * The standardised scales differ in what D and S are (s₁, s₂ before, after; s_c of the changes; r = pre–post correlation):
 *
 *   one arm            D = mean change, v = s_c²/n;  S = s₁ or s₂ with ν = n−1,
 *                      or pooled over the two, S² = (s₁²+s₂²)/2 with ν = 2(n−1)/(1+r²)
 *   different people   D = D_T − D_C, v = s_cT²/n_T + s_cC²/n_C;  S² pooled over the arms by (nᵢ−1),
 *                      ν = (N−2)²/Σ((nᵢ−1)²/νᵢ), which is N−2 for νᵢ = nᵢ−1
 *   the same people    v = (s_cT² + s_cC² − 2·ρ_c·s_cT·s_cC)/n;  S² the mean of both,
 *                      ν = 2·min(ν₁, ν₂)/(1+ρ²);  ρ_c, ρ = correlation of their changes, of their scores before
 *
 * @param parts  difference, its variance, deviation above 0, more than 2 degrees of freedom
 * @param smallSample  kind of small-sample factor
 * @returns estimate in deviations and its variance
 * @throws {CallError} "out-of-range" for a deviation of 0 or too few degrees of freedom
 * @source Becker BJ (1988) British Journal of Mathematical and Statistical Psychology 41:257–278 (one arm); Morris SB
 *   (2008) Organizational Research Methods 11:364–386 (two); the degrees of freedom of a deviation that correlated
 *   scores share are derived from Var(ln S) = (1+ρ²)/(4(n−1)) under normality, and checked by simulation
 */
export const overDeviation = (
  parts: Readonly<{
    difference: number;
    variance: number;
    deviation: number;
    degreesOfFreedom: number;
  }>,
  smallSample: "exact" | "approximate" = "exact",
): Readonly<{ estimate: number; variance: number }> => {
  const where = "overDeviation";
  const deviation = demanded(parts.deviation, {
    where,
    needs: "a standard deviation above 0",
    holds: (value) => value > 0,
  });
  const freedom = demanded(parts.degreesOfFreedom, {
    where,
    needs: "more than 2 degrees of freedom",
    holds: (value) => value > 2,
  });
  const factor = chosenSmallSampleFactor(freedom, smallSample);
  const estimate = (factor * parts.difference) / deviation;
  const scatter = parts.variance / deviation ** 2;
  const moments = factor ** 2 * (freedom / (freedom - 2)) * (scatter + estimate ** 2);
  return { estimate, variance: moments - estimate ** 2 };
};
