/** Draws of the truth and the counting of decisions. Kind of evidence: closed forms by hand. */
import { expect, test } from "vitest";
import { furtherTrials, truthSampler } from "../../src/certainty/further-trials.js";
import { chiSquaredProbability } from "../../src/numeric/chi-squared.js";
import { normalProbability } from "../../src/numeric/normal.js";
import { randomStream } from "../../src/numeric/random-stream.js";

test("with equal errors the spread is max(0, S/q − v): its share at zero and its middle are those of χ²", () => {
  const own = [0.1, 0.3, 0.2, 0.5, 0.4].map((estimate) => ({ estimate, variance: 0.02 }));
  // Mean 0.3, S = 0.04 + 0 + 0.01 + 0.04 + 0.01 = 0.1.
  const sample = truthSampler(own, { mean: 9, spread: 9 });
  const stream = randomStream(5);
  const draws = Array.from({ length: 4000 }, () => sample(stream));
  const zero = draws.filter(({ variance }) => variance === 0).length / draws.length;
  // P(χ² on 4 above S/v = 5) = 0.2873: τ² is 0 there.
  expect(chiSquaredProbability(5, 4, "upper")).toBeCloseTo(0.2873, 4);
  expect(Math.abs(zero - 0.2873)).toBeLessThan(3 * Math.sqrt((0.2873 * 0.7127) / 4000));
  // The middle of χ² on 4 is 3.357: the middle of τ² is 0.1/3.357 − 0.02 = 0.00979.
  const sorted = draws.map(({ variance }) => variance).sort((a, b) => a - b);
  expect(sorted[2000]).toBeGreaterThan(0.0085);
  expect(sorted[2000]).toBeLessThan(0.0111);
  const mean = draws.reduce((sum, draw) => sum + draw.mean, 0) / draws.length;
  expect(Math.abs(mean - 0.3)).toBeLessThan(0.006);
});

test("without a study the mean is normal around zero with the stated deviation", () => {
  const sample = truthSampler([], { mean: 2, spread: 0.5 });
  const stream = randomStream(7);
  const draws = Array.from({ length: 4000 }, () => sample(stream));
  const above = draws.filter(({ mean }) => mean > 2).length / draws.length;
  expect(Math.abs(above - 0.1587)).toBeLessThan(0.018);
  const wide = draws.filter(({ variance }) => variance > 0.25).length / draws.length;
  expect(Math.abs(wide - 0.3173)).toBeLessThan(0.022);
});

test("a rule of one normal mean is decided as often as its closed form says, and errors are √(p(1 − p)/B)", () => {
  // m trials of n people find 0.4 ± 1/√n each; decided where their mean is above 0.5 or below 0.
  const chances = furtherTrials(
    {
      truth: () => ({ mean: 0.4, variance: 0 }),
      draws: 1,
      trialOf: (found, [error], people) => found + error! / Math.sqrt(people),
      decide: (added) => {
        const mean = added.reduce((sum, one) => sum + one, 0) / added.length;
        return mean > 0.5 ? "more" : mean < 0 ? "less" : undefined;
      },
    },
    {
      plans: [
        { trials: 1, people: 10 },
        { trials: 4, people: 10 },
      ],
      simulations: 2000,
      seed: 3,
    },
  );
  for (const { trials, people, share, error, each } of chances) {
    const scale = Math.sqrt(trials * people);
    const more = normalProbability(0.1 * scale, "upper");
    const less = normalProbability(-0.4 * scale);
    expect(error).toBeCloseTo(Math.sqrt((share * (1 - share)) / 2000), 12);
    expect(Math.abs(share - more - less)).toBeLessThan(3.5 * error);
    expect(Math.abs(each["more"]! - more)).toBeLessThan(3.5 * error);
  }
});
