import fc from "fast-check";
import { expect, test } from "vitest";

import { axisTicks } from "../../src/figures/axis-ticks.js";
import { scaleDisplay } from "../../src/tables/scale-display.js";

const percentChange = scaleDisplay("log-ratio-of-means");
const asItStands = scaleDisplay("raw-mean-difference");

test("a log-ratio axis is marked at round percentages, each at its logarithm", () => {
  const ticks = axisTicks([Math.log(0.88), Math.log(1.34)], percentChange);
  expect(ticks.map(({ label }) => label)).toEqual(["−10%", "0%", "10%", "20%", "30%"]);
  for (const { position, label } of ticks) {
    const percent = Number(label.replace("−", "-").replace("%", ""));
    expect(position).toBeCloseTo(Math.log(1 + percent / 100), 12);
  }
});

test("a wide ratio axis is marked at doublings and halvings", () => {
  const ticks = axisTicks([-1.8, 1.8], percentChange);
  expect(ticks.map(({ label }) => label)).toEqual(["−75%", "−50%", "0%", "100%", "300%"]);
});

test("a plain axis is marked at round numbers", () => {
  const ticks = axisTicks([-0.45, 1.3], asItStands);
  expect(ticks.map(({ position }) => position)).toContain(0);
  expect(ticks.map(({ position }) => position)).toContain(1);
});

test("marks lie inside the axis, rise, and are few enough to read, whatever the range", () => {
  fc.assert(
    fc.property(
      fc.double({ min: -8, max: 8, noNaN: true }),
      fc.double({ min: 1e-4, max: 14, noNaN: true }),
      fc.boolean(),
      (low, span, ratio) => {
        const display = ratio ? percentChange : asItStands;
        const ticks = axisTicks([low, low + span], display);
        expect(ticks.length).toBeLessThan(12);
        ticks.forEach(({ position, label }, index) => {
          expect(position).toBeGreaterThanOrEqual(low - 1e-9 * Math.abs(low));
          expect(position).toBeLessThanOrEqual(low + span + 1e-9);
          expect(label).not.toMatch(/NaN|Infinity/);
          if (index > 0) expect(position).toBeGreaterThan(ticks[index - 1]?.position ?? Infinity);
        });
      },
    ),
    { seed: 11, numRuns: 300 },
  );
});
