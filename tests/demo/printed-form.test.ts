import { describe, expect, it } from "vitest";
import { printedForm } from "../../src/demo/printed-form.js";
import { fProbability } from "../../src/numeric/f-distribution.js";
import { quantile } from "simple-statistics";

// Small sample worked by hand: changes 2, 4, 3, 7, so mean 4, variance (4+0+1+9)/3 = 14/3.
const pre = [10, 12, 14, 16];
const post = [12, 16, 17, 23];
const deviation = Math.sqrt(14 / 3);
const t = 4 / (deviation / 2);

describe("printed forms", () => {
  it("prints means with deviations, errors or nothing", () => {
    const means = printedForm("means", pre, post, 2);
    expect(means).toMatchObject({ pre_mean: "13.00", post_mean: "17.00" });
    // deviations of 10, 12, 14, 16: √(20/3)
    expect(means.pre_spread).toBe(Math.sqrt(20 / 3).toFixed(2));
    expect(printedForm("standard errors", pre, post, 2).pre_spread).toBe(
      Math.sqrt(20 / 12).toFixed(3),
    );
    expect(printedForm("no spread", pre, post, 2).pre_spread).toBe("not reported");
  });

  it("prints the correlation that the law of differences gives", () => {
    // variances 20/3 and 62/3, change 14/3: r = (20/3 + 62/3 − 14/3) / (2 √(20/3 · 62/3))
    const r = 68 / 3 / (2 * Math.sqrt((20 / 3) * (62 / 3)));
    expect(printedForm("means and correlation", pre, post, 1).pre_post_correlation).toBe(
      r.toFixed(2),
    );
  });

  it("t, F, p and the interval tell the same story", () => {
    expect(printedForm("t value", pre, post, 1).t_value).toBe(t.toFixed(2));
    expect(printedForm("F value", pre, post, 1)).toMatchObject({
      f_value: (t * t).toFixed(2),
      direction: "increase",
    });
    // F with one numerator degree of freedom is t squared: another distribution, the same p
    expect(printedForm("p value", pre, post, 1).p_value).toBe(
      fProbability(t * t, 1, 3, "upper").toFixed(3),
    );
    const interval = printedForm("change with interval", pre, post, 2);
    // t quantile for 3 degrees of freedom, 97.5 %: 3.182446 (printed tables)
    expect(Number(interval.interval_high)).toBeCloseTo(4 + (3.182446 * deviation) / 2, 2);
    expect(Number(interval.interval_low)).toBeCloseTo(4 - (3.182446 * deviation) / 2, 2);
  });

  it("prints a falling number with its direction and sign", () => {
    expect(printedForm("p value", post, pre, 1).direction).toBe("decrease");
    expect(printedForm("t value", post, pre, 1).t_value).toBe((-t).toFixed(2));
  });

  it("prints percent changes of the people, not of the means", () => {
    const percent = [20, (100 * 4) / 12, (100 * 3) / 14, (100 * 7) / 16];
    const mean = percent.reduce((total, value) => total + value, 0) / 4;
    expect(printedForm("percent change", pre, post, 1).change_percent_mean).toBe(mean.toFixed(1));
  });

  it("prints medians with quartiles or extremes", () => {
    expect(printedForm("medians with quartiles", pre, post, 2)).toMatchObject({
      pre_median: "13.00",
      pre_quartile_low: quantile(pre, 0.25).toFixed(2),
    });
    expect(printedForm("medians with range", pre, post, 0)).toMatchObject({
      pre_minimum: "10",
      pre_maximum: "16",
      post_median: "17",
    });
  });

  it("prints a ready effect as the mean log ratio", () => {
    const logs = pre.map((value, index) => Math.log((post[index] ?? 0) / value));
    const mean = logs.reduce((total, value) => total + value, 0) / 4;
    expect(printedForm("ready effect", pre, post, 1).effect).toBe(mean.toFixed(3));
  });
});
