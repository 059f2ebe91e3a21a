import { expect, test } from "vitest";
import { contrasts, effectScales } from "../../src/effects/effect.js";
import { scaleNamed } from "../../src/effects/ready-effect.js";
import { contrastLabel, scaleLabel } from "../../src/effects/scale-label.js";

test("every standardised scale names its denominator, and no two labels are alike", () => {
  const standardised = effectScales.filter((scale) => scale.startsWith("standardised"));
  for (const scale of standardised) expect(scaleLabel(scale)).toMatch(/in .*standard deviations/);
  expect(new Set(effectScales.map(scaleLabel)).size).toBe(effectScales.length);
  expect(new Set(contrasts.map(contrastLabel)).size).toBe(contrasts.length);
});

test("a cell names a scale by id or label; words without a denominator name none", () => {
  for (const scale of effectScales) {
    expect(scaleNamed(scale)).toBe(scale);
    expect(scaleNamed(scaleLabel(scale).toUpperCase())).toBe(scale);
  }
  expect(scaleNamed("log ratio of means")).toBe("log-ratio-of-means");
  expect(scaleNamed("standardised mean difference")).toBe("standardised-mean-difference");
  expect(scaleNamed("standardised mean change")).toBeUndefined();
  expect(scaleNamed("effect size")).toBeUndefined();
});
