/** Kind of evidence: closed form. A log-likelihood −z² of z = log parameter falls by half a limit L at z = ±√(L/2). */
import { expect, test } from "vitest";
import { profileLimits, type CurveProfile } from "../../src/dose/curve-profile.js";
import type { BlockFit } from "../../src/synthesis/fit-blocks.js";

const heightAt = (place: number): number => -(Math.log(place) ** 2);
const fitAt = (place: number) => ({ logLikelihood: heightAt(place) }) as unknown as BlockFit;
const steps = [-4, -3, -2, -1, -0.5, 0.5, 1, 2, 3, 4];
const places = steps.map(Math.exp);
const limit = 2 * 1.5 ** 2;
const limitsOf = (heights: readonly number[]) =>
  profileLimits({ parameter: 1, places, heights } as unknown as CurveProfile, fitAt, 0, {
    limit,
    start: [],
    reset: () => undefined,
  });

test("limits stand where the likelihood has fallen so far", () => {
  const { low, high } = limitsOf(places.map(heightAt));
  expect(Math.log(low!)).toBeCloseTo(-1.5, 4);
  expect(Math.log(high!)).toBeCloseTo(1.5, 4);
});

test("and there too where the lattice's own fits stopped short of the best", () => {
  const { low, high } = limitsOf(
    steps.map((step, at) => (Math.abs(step) === 1 ? -9 : heightAt(places[at]!))),
  );
  expect(Math.log(low!)).toBeCloseTo(-1.5, 4);
  expect(Math.log(high!)).toBeCloseTo(1.5, 4);
});

test("no limit is told where no fit falls so far", () => {
  const level = (place: number) => ({ logLikelihood: 0 * place }) as unknown as BlockFit;
  expect(
    profileLimits(
      { parameter: 1, places, heights: places.map(() => -9) } as unknown as CurveProfile,
      level,
      0,
      { limit, start: [], reset: () => undefined },
    ),
  ).toEqual({ low: null, high: null });
});
