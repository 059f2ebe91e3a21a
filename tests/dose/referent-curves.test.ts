import { describe, expect, test } from "vitest";
import { pooledCurve, type ReferentStudy } from "../../src/dose/referent-curves.js";
import { identity, matrixOf } from "../../src/numeric/matrix.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { expectPrinted, expectRelative } from "../effects/agreement.js";

const curveOfStudy = (study: ReferentStudy) => pooledCurve([study], { variation: "none" });

describe("the curve of one study", () => {
  const covariances = [
    [0.054, 0.021, 0.018],
    [0.021, 0.055, 0.02],
    [0.018, 0.02, 0.057],
  ];
  const slope = (shared: boolean) =>
    curveOfStudy({
      study: "one",
      estimates: [-0.2, 0.15, 0.44],
      columns: matrixOf([[2], [6], [11]]),
      covariance: matrixOf(
        covariances.map((row, i) => row.map((value, j) => (shared || i === j ? value : 0))),
      ),
    });

  test("independent: slope and its variance with the covariances of the shared referent, and without, in base R", () => {
    // sum(x * solve(S, y)) / sum(x * solve(S, x)) and 1 / sum(x * solve(S, x)); S as above, and its diagonal
    const shared = slope(true);
    expectPrinted(shared.coefficients[0]!, "0.04355292");
    expectPrinted(shared.covariance.values[0]!, "0.00043072");
    const apart = slope(false);
    expectPrinted(apart.coefficients[0]!, "0.03291984");
    expectPrinted(apart.covariance.values[0]!, "0.00035070");
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
    const two = pooledCurve(
      studies.map((study) => {
        const { coefficients, covariance } = curveOfStudy(study);
        return { study: study.study, estimates: coefficients, columns: identity(2), covariance };
      }),
    );
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
