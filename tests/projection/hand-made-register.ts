import type { EffectSet } from "../../src/effects/effect.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import type { PrepareProjectionOptions } from "../../src/projection/prepare-projection.js";
import { handMadeSet, sessionOf, type WrittenEffect } from "../dose/hand-made-set.js";

/** Points enough for a test of anything but the quadrature itself. */
export const quickOptions = {
  goal: "strength at the trained angle",
  quadrature: { points: 7, tolerance: Infinity },
} as const satisfies PrepareProjectionOptions;

const pair = (
  study: string,
  estimates: readonly [number, number],
  efforts: readonly [number, number],
  fields: Partial<OutcomeRow> = {},
): readonly WrittenEffect[] =>
  estimates.map((estimate, i) => ({
    study,
    arm: i === 0 ? "low" : "high",
    estimate,
    variance: 0.002,
    row: { ...sessionOf(4, 5, 6, efforts[i]), muscleLength: "middle", ...fields },
  }));

/** Eight invented studies of two arms each, 4 × 5 × 6 s three times a week, at a lower and a higher effort. */
export const registerPairs: readonly WrittenEffect[] = [
  ...pair("Ash", [0.14, 0.21], [50, 80]),
  ...pair("Birch", [0.18, 0.26], [60, 90], { weeks: 12 }),
  ...pair("Cedar", [0.1, 0.13], [50, 70], { weeks: 6 }),
  ...pair("Elm", [0.2, 0.22], [60, 80]),
  ...pair("Hazel", [0.12, 0.2], [55, 85]),
  ...pair("Larch", [0.16, 0.25], [50, 90], { weeks: 10 }),
  ...pair("Oak", [0.11, 0.16], [60, 75], { weeks: 6 }),
  ...pair("Rowan", [0.22, 0.27], [65, 90], { weeks: 12 }),
];

export const handMadeRegister = (written: readonly WrittenEffect[] = registerPairs): EffectSet =>
  handMadeSet(written);
