import { describe, expect, test } from "vitest";
import { curveOfStudy, pooledCurve, twoStagePooledCurve } from "../../src/dose/referent-curves.js";
import { findRoot } from "../../src/numeric/find-root.js";
import { matrixOf, type Matrix } from "../../src/numeric/matrix.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { expectPrinted, expectRelative } from "../effects/agreement.js";
import { alcohol1992 } from "../published/alcohol-1992.js";

describe("Greenland and Longnecker 1992: alcohol and breast cancer", () => {
  const { participants, cases, relativeRisks, intervals, doses, printed } = alcohol1992;
  /** Pseudo-counts that agree with the relative odds and both margins; the odds of the referent are found. */
  const casesAt = (referent: number): readonly number[] => {
    const odds = referent / (participants[0] - referent);
    return participants.map((n, i) => {
      const r = relativeRisks[i]!;
      return i === 0 ? referent : (n * odds * r) / (1 + odds * r);
    });
  };
  const total = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0);
  const referent = findRoot((a) => total(casesAt(a)) - cases, 1, participants[0] - 1);
  const counts = casesAt(referent);
  const ownVariance = (i: number): number => 1 / counts[i]! + 1 / (participants[i]! - counts[i]!);
  const exposed = [1, 2, 3];
  const variances = exposed.map(
    (i) => (Math.log(intervals[i]![1] / intervals[i]![0]) / (2 * 1.959964)) ** 2,
  );
  const covariance = (shared: boolean): Matrix =>
    matrixOf(
      exposed.map((i, a) =>
        exposed.map((j, b) => {
          if (a === b) return variances[a]!;
          const r =
            ownVariance(0) /
            Math.sqrt((ownVariance(0) + ownVariance(i)) * (ownVariance(0) + ownVariance(j)));
          return shared ? r * Math.sqrt(variances[a]! * variances[b]!) : 0;
        }),
      ),
    );
  const slope = (shared: boolean): number =>
    curveOfStudy({
      study: "one",
      estimates: exposed.map((i) => Math.log(relativeRisks[i]!)),
      columns: matrixOf(exposed.map((i) => [doses[i]!])),
      covariance: covariance(shared),
    }).coefficients[0]!;

  test("slope with the covariances of the shared referent, and without (counts from memory)", () => {
    expectPrinted(slope(true), printed.slopeWithCovariance);
    expectPrinted(slope(false), printed.slopeWithout);
  });
});

describe("one stage and two stages", () => {
  const doses = [0, 10, 20, 40];
  const stream = randomStream(5);
  const studies = Array.from({ length: 8 }, (_, s) => {
    const own = [0.02 + 0.01 * stream.normal(), -0.0002 + 0.0001 * stream.normal()];
    return {
      study: `s${s}`,
      estimates: doses.slice(1).map((d) => own[0]! * d + own[1]! * d * d + 0.05 * stream.normal()),
      columns: matrixOf(doses.slice(1).map((d) => [d / 40, (d / 40) ** 2])),
      covariance: matrixOf(
        doses.slice(1).map((_, i) => doses.slice(1).map((__, j) => (i === j ? 0.005 : 0.0025))),
      ),
    };
  });

  test("identity: they agree where every study identifies the whole curve", () => {
    const one = pooledCurve(studies);
    const two = twoStagePooledCurve(studies);
    one.coefficients.forEach((b, k) => expectRelative(b, two.coefficients[k]!, 1e-4));
    one.covariance.values.forEach((v, k) => expectRelative(v, two.covariance.values[k]!, 1e-3));
  });

  test("identity: without variation between studies the estimate is that of all contrasts at once", () => {
    const common = pooledCurve(studies, { variation: "none" });
    // normal equations summed by hand over studies, S⁻¹ of a compound-symmetric covariance in closed form
    const information = [0, 0, 0, 0];
    const score = [0, 0];
    for (const { estimates, columns } of studies) {
      const inverse = (i: number, j: number): number =>
        ((i === j ? 1 : 0) - 0.0025 / (0.0025 + 3 * 0.0025)) / 0.0025;
      for (let i = 0; i < 3; i++) {
        for (let j = 0; j < 3; j++) {
          for (let a = 0; a < 2; a++) {
            score[a]! += columns.values[2 * i + a]! * inverse(i, j) * estimates[j]!;
            for (let b = 0; b < 2; b++)
              information[2 * a + b]! +=
                columns.values[2 * i + a]! * inverse(i, j) * columns.values[2 * j + b]!;
          }
        }
      }
    }
    const [p, q, r, s] = information as [number, number, number, number];
    const determinant = p * s - q * r;
    expectRelative(common.coefficients[0]!, (s * score[0]! - q * score[1]!) / determinant, 1e-9);
    expectRelative(common.coefficients[1]!, (p * score[1]! - r * score[0]!) / determinant, 1e-9);
  });

  test("refuses no studies, and too few doses", () => {
    expect(() => pooledCurve([])).toThrow(/at least one study/);
    const { columns, estimates } = studies[0]!;
    expect(() =>
      curveOfStudy({
        study: "thin",
        estimates: estimates.slice(0, 1),
        columns: { rows: 1, columns: 2, values: columns.values.slice(0, 2) },
        covariance: matrixOf([[0.005]]),
      }),
    ).toThrow(/2 distinct doses.*thin/);
  });
});
