import { mean, quantile, sampleStandardDeviation as deviation } from "simple-statistics";
import { studentTProbability, studentTQuantile } from "../numeric/student-t.js";
import type { DemoReporting } from "./demo-study.js";

/** Cells of the codebook's number columns, by column name. */
export type PrintedCells = Readonly<Record<string, string>>;

const correlation = (first: readonly number[], second: readonly number[]): number => {
  const firstMean = mean(first);
  const secondMean = mean(second);
  const products = first.map(
    (value, index) => (value - firstMean) * ((second[index] ?? secondMean) - secondMean),
  );
  return (
    (mean(products) * first.length) / ((first.length - 1) * deviation(first) * deviation(second))
  );
};

/** p as papers print it: three decimals, never nought. */
const printedP = (p: number): string => (p < 0.001 ? p.toExponential(1) : p.toFixed(3));

/**
 * The number cells of one row, in the form the invented paper prints.
 *
 * @param reporting which of the codebook's printed forms
 * @param pre scores before, one per person
 * @param post scores after, in the same order
 * @param decimals decimals of the paper's means and deviations
 */
export const printedForm = (
  reporting: DemoReporting,
  pre: readonly number[],
  post: readonly number[],
  decimals: number,
): PrintedCells => {
  const people = pre.length;
  const change = post.map((value, index) => value - (pre[index] ?? value));
  const standardError = deviation(change) / Math.sqrt(people);
  const t = mean(change) / standardError;
  const degreesOfFreedom = people - 1;
  const show = (value: number, extra = 0): string => value.toFixed(decimals + extra);
  const means = { pre_mean: show(mean(pre)), post_mean: show(mean(post)) };
  const direction = mean(change) >= 0 ? "increase" : "decrease";
  const spreads = {
    pre_spread: show(deviation(pre)),
    post_spread: show(deviation(post)),
    spread_kind: "standard deviation",
  };
  switch (reporting) {
    case "means":
      return { statistic: "means at both times", ...means, ...spreads };
    case "means and correlation":
      return {
        statistic: "means at both times",
        ...means,
        ...spreads,
        pre_post_correlation: correlation(pre, post).toFixed(2),
      };
    case "standard errors":
      return {
        statistic: "means at both times",
        ...means,
        pre_spread: show(deviation(pre) / Math.sqrt(people), 1),
        post_spread: show(deviation(post) / Math.sqrt(people), 1),
        spread_kind: "standard error",
      };
    case "no spread":
      return {
        statistic: "means at both times",
        ...means,
        pre_spread: "not reported",
        post_spread: "not reported",
      };
    case "percent change": {
      const percent = change.map((value, index) => (100 * value) / (pre[index] ?? 1));
      return {
        statistic: "percent change with spread",
        change_percent_mean: mean(percent).toFixed(1),
        change_percent_spread: deviation(percent).toFixed(1),
        spread_kind: "standard deviation",
      };
    }
    case "change with spread":
      return {
        statistic: "change with spread",
        pre_mean: means.pre_mean,
        pre_spread: spreads.pre_spread,
        change_mean: show(mean(change), 1),
        change_spread: show(deviation(change), 1),
        spread_kind: "standard deviation",
      };
    case "change with interval": {
      const half = standardError * studentTQuantile(0.975, degreesOfFreedom);
      return {
        statistic: "change with interval",
        pre_mean: means.pre_mean,
        pre_spread: spreads.pre_spread,
        spread_kind: "standard deviation",
        change_mean: show(mean(change), 1),
        interval_low: show(mean(change) - half, 1),
        interval_high: show(mean(change) + half, 1),
        interval_percent: "95",
      };
    }
    case "t value":
      return { statistic: "t value", ...means, t_value: t.toFixed(2) };
    case "F value":
      return { statistic: "F value", ...means, f_value: (t * t).toFixed(2), direction };
    case "p value":
      return {
        statistic: "p value",
        ...means,
        p_value: printedP(2 * studentTProbability(Math.abs(t), degreesOfFreedom, "upper")),
        direction,
      };
    case "medians with quartiles":
    case "medians with range": {
      const at = (values: readonly number[], share: number): string =>
        show(quantile(values, share));
      if (reporting === "medians with quartiles")
        return {
          statistic: reporting,
          pre_median: at(pre, 0.5),
          pre_quartile_low: at(pre, 0.25),
          pre_quartile_high: at(pre, 0.75),
          post_median: at(post, 0.5),
          post_quartile_low: at(post, 0.25),
          post_quartile_high: at(post, 0.75),
        };
      return {
        statistic: reporting,
        pre_median: at(pre, 0.5),
        pre_minimum: show(Math.min(...pre)),
        pre_maximum: show(Math.max(...pre)),
        post_median: at(post, 0.5),
        post_minimum: show(Math.min(...post)),
        post_maximum: show(Math.max(...post)),
      };
    }
    case "ready effect": {
      const logs = post.map((value, index) => Math.log(value / (pre[index] ?? value)));
      return {
        statistic: "effect computed elsewhere",
        effect: mean(logs).toFixed(3),
        effect_scale: "log ratio of means",
        effect_standard_error: (deviation(logs) / Math.sqrt(people)).toFixed(4),
      };
    }
  }
};
