import * as z from "zod";
import { anyNumber, field, name, percentUnitWords, spread } from "./codebook-field.js";
import type { FieldStory } from "./codebook-field.js";

type NumberStory = Pick<FieldStory, "title" | "description" | "example"> &
  Partial<Pick<FieldStory, "unit" | "unitWords" | "spreadColumn" | "bounds">>;

/** A printed number: it is the row's own, and a row whose number cannot be read is refused. */
const printed = <S extends z.ZodType>(schema: S, story: NumberStory) =>
  field<S, FieldStory>(schema, { ...story, level: "row", essential: true });

/** The numbers as printed in the source. */
export const numberFields = {
  statistic: printed(
    z.enum([
      "means at both times",
      "change with spread",
      "percent change with spread",
      "change with interval",
      "t value",
      "F value",
      "p value",
      "medians with quartiles",
      "medians with range",
      "effect computed elsewhere",
    ]),
    {
      title: "Form of the numbers",
      description:
        "Which form the source prints; only its columns need filling. Blank: taken from the columns that are filled.",
      example: "means at both times",
    },
  ),
  statisticOf: printed(z.enum(["change within arm", "difference from comparator"]), {
    title: "What the numbers are of",
    description:
      "Whether a printed change, interval, t, F, p or effect is of the change within the arm (blank means this) or of the difference from the comparator.",
    example: "change within arm",
  }),
  preMean: printed(anyNumber, {
    title: "Mean before",
    description: "Mean before training, in the row's unit.",
    spreadColumn: "pre_spread",
    example: "182.4",
  }),
  preSpread: printed(spread, {
    title: "Spread before",
    description: "Spread before training, of the kind named in spread_kind.",
    example: "31.2",
  }),
  postMean: printed(anyNumber, {
    title: "Mean after",
    description: "Mean at this measurement, in the row's unit.",
    spreadColumn: "post_spread",
    example: "201.7",
  }),
  postSpread: printed(spread, {
    title: "Spread after",
    description: "Spread at this measurement, of the kind named in spread_kind.",
    example: "33.0",
  }),
  changeMean: printed(anyNumber, {
    title: "Mean change",
    description: "Mean of after minus before, in the row's unit.",
    spreadColumn: "change_spread",
    example: "19.3",
  }),
  changeSpread: printed(spread, {
    title: "Spread of the change",
    description: "Spread of the changes, of the kind named in spread_kind.",
    example: "12.5",
  }),
  spreadKind: field(z.enum(["standard deviation", "standard error", "95% interval half-width"]), {
    title: "Kind of spread",
    description:
      "What the spread columns of this row hold. Blank: standard deviation, with a note.",
    level: "row",
    essential: true,
    spellings: {
      sd: "standard deviation",
      "s.d.": "standard deviation",
      "std dev": "standard deviation",
      se: "standard error",
      sem: "standard error",
      "standard error of the mean": "standard error",
      "95% ci half width": "95% interval half-width",
      "95% interval half width": "95% interval half-width",
    },
    example: "standard deviation",
  }),
  changePercentMean: printed(z.number().min(-100).max(10_000), {
    title: "Mean change in percent",
    description: "Mean change as the source prints it in percent of the baseline.",
    unit: "%",
    unitWords: percentUnitWords,
    spreadColumn: "change_percent_spread",
    example: "10.6",
  }),
  changePercentSpread: printed(spread, {
    title: "Spread of the change in percent",
    description: "Spread of the percent changes, of the kind named in spread_kind.",
    unit: "%",
    unitWords: percentUnitWords,
    example: "6.9",
  }),
  intervalLow: printed(anyNumber, {
    title: "Interval, lower end",
    description: "Lower end of the printed interval of the mean change or of the effect.",
    example: "12.1",
  }),
  intervalHigh: printed(anyNumber, {
    title: "Interval, upper end",
    description: "Upper end of the same interval.",
    example: "26.5",
  }),
  intervalPercent: printed(z.number().gt(50).lt(100), {
    title: "Coverage of the interval",
    description: "Confidence the interval is stated for. Blank: 95.",
    unit: "%",
    unitWords: percentUnitWords,
    example: "95",
  }),
  tValue: printed(anyNumber, {
    title: "t value",
    description: "Student's t with its sign: positive when the number rose.",
    example: "3.42",
  }),
  fValue: printed(z.number().min(0), {
    title: "F value",
    description:
      "F with one numerator degree of freedom; say in direction which way the change went.",
    example: "11.7",
  }),
  pValue: printed(z.number().min(0).max(1), {
    title: "p value",
    description:
      "Exact two-sided p; say in direction which way the change went. A bound (< 0.05, > 0.05, n.s.) may stand here; it is kept as a bound and never taken for the p itself.",
    bounds: true,
    example: "0.004",
  }),
  direction: printed(z.enum(["increase", "decrease"]), {
    title: "Direction",
    description: "Whether the number rose or fell, for F and p.",
    example: "increase",
  }),
  ...medians("pre", "before training"),
  ...medians("post", "at this measurement"),
  ...medians("change", "of the changes, after minus before"),
  prePostCorrelation: field(z.number().min(-1).max(1), {
    title: "Correlation of before and after",
    description: "Correlation between before and after in this arm, when the source prints it.",
    level: "row",
    example: "0.85",
  }),
  effect: printed(anyNumber, {
    title: "Effect",
    description: "An effect that the source or an earlier synthesis already computed.",
    example: "0.54",
  }),
  effectScale: field(name, {
    title: "Scale of the effect",
    description: "Name of the scale of that effect, spelled out.",
    level: "row",
    example: "standardised mean difference",
  }),
  effectStandardError: printed(z.number().positive(), {
    title: "Standard error of the effect",
    description: "Standard error of that effect, on its own scale.",
    example: "0.21",
  }),
};

function medians<Time extends "pre" | "post" | "change">(time: Time, when: string) {
  const shown = { pre: "before", post: "after", change: "of the change" }[time];
  const of = (title: string, description: string, example: string) =>
    printed(anyNumber, {
      title: `${title} ${shown}`,
      description: `${description} ${when}.`,
      example,
    });
  return {
    [`${time}Median`]: of("Median", "Median", "180"),
    [`${time}QuartileLow`]: of("Lower quartile", "Lower quartile", "160"),
    [`${time}QuartileHigh`]: of("Upper quartile", "Upper quartile", "205"),
    [`${time}Minimum`]: of("Minimum", "Smallest value", "120"),
    [`${time}Maximum`]: of("Maximum", "Largest value", "260"),
  } as Record<
    | `${Time}Median`
    | `${Time}QuartileLow`
    | `${Time}QuartileHigh`
    | `${Time}Minimum`
    | `${Time}Maximum`,
    ReturnType<typeof of>
  >;
}
