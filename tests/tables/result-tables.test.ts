/** Kind of evidence: made-up inputs in which no two numbers agree; each printed one was traced by hand. */
import { describe, expect, test } from "vitest";
import type { Effect, EffectSet } from "../../src/effects/effect.js";
import type {
  Heterogeneity,
  MultilevelResult,
  PooledResult,
  Story,
} from "../../src/synthesis/synthesis-results.js";
import { effectsTable } from "../../src/tables/effects-table.js";
import { heterogeneitySentences } from "../../src/tables/heterogeneity-sentences.js";
import { multilevelTable } from "../../src/tables/multilevel-table.js";
import { pooledTable } from "../../src/tables/pooled-table.js";
import { coefficientOfPercent } from "./all-different.js";
import { sampleEffect, sampleEffectSet, sampleMultilevel } from "./sample-results.js";
import { told } from "./told.js";

const story: Story = {
  model: "random effects",
  heterogeneityEstimator: "Paule–Mandel",
  intervalMethod: "normal",
  confidence: 0.9,
  assumptions: ["studies are alike"],
  effectIds: [],
  notes: [{ code: "assumption", message: "a doubt", study: "Elm" }],
};
const heterogeneity: Heterogeneity = {
  betweenVariance: 0.0217,
  betweenVarianceInterval: { low: 0.0058, high: 0.0839 },
  q: 31.46,
  qDegreesOfFreedom: 14,
  qP: 0.0047,
  iSquaredPercent: 55.6,
  iSquaredInterval: { low: 21.3, high: 78.4 },
  hSquared: 2.25,
};
const pooled = (percent: readonly [number, number, number], others: object): PooledResult => ({
  ...coefficientOfPercent("", percent, [0.0123, 11, 0.0345]),
  predictionInterval: { low: Math.log(0.913), high: Math.log(1.264) },
  heterogeneity,
  weightsPercent: [],
  coefficients: [],
  omnibus: null,
  termTests: [],
  explainedPercent: null,
  effects: 1215,
  studies: 15,
  story,
  ...others,
});

describe("pooled answers", () => {
  const first = pooled([2.6, 7.4, 12.5], {});
  const second = pooled([-1.7, 3.3, 8.9], {
    p: 0.0002,
    effects: 8,
    studies: 6,
    predictionInterval: null,
    heterogeneity: { ...heterogeneity, betweenVarianceInterval: null },
  });

  test("every number in its place", () => {
    expect(
      told(
        pooledTable(
          [
            { group: "strength", result: first },
            { group: "size", result: second },
          ],
          { scale: "log-ratio-of-means", groupLabel: "Outcome family" },
        ),
      ),
    ).toEqual([
      "Pooled effects: log ratio of means (shown as percent change) [pooled-log-ratio-of-means]",
      "Outcome family | >Studies | >Effects | >Change (%) | >90% interval | >90% range of a further study | >Log ratio | >Variance τ² | >τ² interval | >I² | >p",
      "strength | 15 | 1,215 | 7.4 | 2.6 to 12.5 | −8.7 to 26.4 | 0.071 | 0.0217 | 0.0058 to 0.0839 | 56% | 0.035",
      "size | 6 | 8 | 3.3 | −1.7 to 8.9 | not estimable | 0.032 | 0.0217 | not estimable | 56% | <0.001",
      "* The interval is about the average of such studies; the range of a further study is where one more study would fall.",
      "* Model: random effects. Heterogeneity: Paule–Mandel. Intervals: normal, 90% confidence.",
      "* Assumed: studies are alike.",
      "* Elm: A doubt.",
      "group,studies,effects,estimate,standard_error,interval_low,interval_high,prediction_low,prediction_high,between_variance,between_variance_low,between_variance_high,i_squared_percent,p",
      "strength,15,1215,0.07138999608667296,0.0123,0.025667746748577795,0.11778303565638346,-0.09101939838716855,0.2342812957246657,0.0217,0.0058,0.0839,55.6,0.0345",
      "size,6,8,0.032467190137501496,0.0123,-0.0171461588349705,0.08525984395082342,,,0.0217,,,55.6,0.0002",
    ]);
  });

  test("on a scale that is no percentage, without variance intervals, with own footnotes", () => {
    const empty = {
      ...heterogeneity,
      betweenVariance: null,
      betweenVarianceInterval: null,
      iSquaredPercent: null,
    };
    const table = pooledTable(
      [
        {
          group: "strength",
          result: { ...second, story: { ...story, confidence: 0.8, notes: [] } },
        },
        { group: "size", result: { ...second, heterogeneity: empty, predictionInterval: null } },
      ],
      { scale: "raw-mean-difference" },
    );
    expect(told(table)).toEqual([
      "Pooled effects: mean difference, in the outcome's own unit [pooled-raw-mean-difference]",
      "Group | >Studies | >Effects | >Difference (outcome's unit) | >interval | >range of a further study | >Variance τ² | >I² | >p",
      "strength | 6 | 8 | 0.032 | −0.017 to 0.085 | not estimable | 0.0217 | 56% | <0.001",
      "size | 6 | 8 | 0.032 | −0.017 to 0.085 | not estimable | not estimable | not estimable | <0.001",
      "* The interval is about the average of such studies; the range of a further study is where one more study would fall.",
      "* strength: Model: random effects. Heterogeneity: Paule–Mandel. Intervals: normal, 80% confidence.",
      "* Assumed: studies are alike.",
      "* size: Model: random effects. Heterogeneity: Paule–Mandel. Intervals: normal, 90% confidence.",
      "* size: Elm: A doubt.",
      "group,studies,effects,estimate,standard_error,interval_low,interval_high,prediction_low,prediction_high,between_variance,between_variance_low,between_variance_high,i_squared_percent,p",
      "strength,6,8,0.032467190137501496,0.0123,-0.0171461588349705,0.08525984395082342,,,0.0217,,,55.6,0.0002",
      "size,6,8,0.032467190137501496,0.0123,-0.0171461588349705,0.08525984395082342,,,,,,,0.0002",
    ]);
  });

  test("what differs between studies, in sentences", () => {
    const scale = "log-ratio-of-means" as const;
    expect(heterogeneitySentences(first, { scale })).toEqual([
      "The true effect of a further study of this kind is expected between −8.7 and 26.4% (90% range of a further study).",
      "The variance between studies (τ²) is 0.0217 (90% interval 0.0058 to 0.0839), on the scale of the model.",
      "I² is 56% (90% interval 21 to 78%): the share of the variation between estimates that sampling error does not explain, not the size of the differences.",
      "Q is 31.46 on 14 degrees of freedom (p = 0.005).",
    ]);
    const few = {
      ...first,
      studies: 1,
      predictionInterval: null,
      heterogeneity: {
        ...heterogeneity,
        betweenVarianceInterval: null,
        iSquaredInterval: null,
        qDegreesOfFreedom: 1,
      },
    };
    expect(heterogeneitySentences(few, { scale })).toEqual([
      "With 1 study no range of a further study can be given.",
      "The variance between studies (τ²) is 0.0217.",
      "I² is 56%: the share of the variation between estimates that sampling error does not explain, not the size of the differences.",
      "Q is 31.46 on 1 degree of freedom (p = 0.005).",
      "With 1 study how far studies differ can hardly be estimated; a small τ² here is no sign that they agree.",
    ]);
    const raw = { scale: "standardised-mean-difference" as const };
    expect(heterogeneitySentences(first, raw)[0]).toBe(
      "The true effect of a further study of this kind is expected between −0.09 and 0.23 pooled standard deviations (90% range of a further study).",
    );
    const without = (others: Partial<Heterogeneity>): number =>
      heterogeneitySentences({ ...first, heterogeneity: { ...heterogeneity, ...others } }, raw)
        .length;
    expect([
      without({}),
      without({ q: null }),
      without({ qP: null }),
      without({ iSquaredPercent: null }),
    ]).toEqual([4, 3, 3, 3]);
    expect(heterogeneitySentences({ ...first, studies: 5 }, raw)).toHaveLength(4);
    expect(heterogeneitySentences({ ...first, studies: 4 }, raw)).toHaveLength(5);
  });
});

describe("a multilevel model", () => {
  const weeks = coefficientOfPercent("weeks", [0.4, 1.3, 2.2], [0.0004, Infinity, 0.0456]);
  const result = {
    ...sampleMultilevel,
    effects: 1039,
    studies: 27,
    coefficients: [coefficientOfPercent("intercept", [3.1, 5.2, 7.3], [0.02, 12, 0.0023]), weeks],
    robust: {
      correction: "bias-reduced",
      clusters: 26,
      coefficients: [coefficientOfPercent("weeks", [-0.3, 1.4, 3.1], [0.0005, 7.25, 0.0789])],
      omnibus: null,
      termTests: [],
      average: coefficientOfPercent("", [2.4, 6.3, 10.2], [0.03, 8.5, 0.0012]),
    },
    story,
  } as MultilevelResult;

  test("every number in its place", () => {
    expect(told(multilevelTable(result, { scale: "log-ratio-of-means" }))).toEqual([
      "Multilevel model: log ratio of means (shown as percent change) [multilevel-log-ratio-of-means]",
      "Term | Inference | >Change (%) | >Interval | >Log ratio | >Its interval | >Degrees of freedom | >p",
      "intercept | from the model | 5.2 | 3.1 to 7.3 | 0.051 | 0.031 to 0.070 | 12 | 0.002",
      "weeks | from the model | 1.3 | 0.4 to 2.2 | 0.01292 | 0.00399 to 0.02176 | normal | 0.046",
      "weeks | cluster-robust | 1.4 | −0.3 to 3.1 | 0.01390 | −0.00300 to 0.03053 | 7.3 | 0.079",
      "* 1,039 effects from 27 studies.",
      "* Cluster-robust: bias-reduced, 26 clusters.",
      "* Model: random effects. Heterogeneity: Paule–Mandel. Intervals: normal, 90% confidence.",
      "* Assumed: studies are alike.",
      "* Elm: A doubt.",
      "term,inference,estimate,standard_error,interval_low,interval_high,degrees_of_freedom,p",
      "intercept,from the model,0.05069311431551812,0.02,0.030529205034822874,0.07045846364856141,12,0.0023",
      "weeks,from the model,0.01291622526654633,0.0004,0.003992021269537453,0.021761491781512692,,0.0456",
      "weeks,cluster-robust,0.01390290516899142,0.0005,-0.0030045090202987217,0.030529205034822874,7.25,0.0789",
    ]);
  });

  test("an average alone, from the model and robust; the model's own where another leads", () => {
    const average = {
      ...result,
      ...coefficientOfPercent("", [3.7, 6.3, 8.8], [0.021, 13, 0.0034]),
      coefficients: [],
    };
    expect(told(multilevelTable(average, { scale: "standardised-mean-difference" }))).toEqual([
      "Multilevel model: standardised mean difference, in pooled standard deviations [multilevel-standardised-mean-difference]",
      "Term | Inference | >Difference (pooled standard deviations) | >Interval | >Degrees of freedom | >p",
      "average | from the model | 0.06 | 0.04 to 0.08 | 13 | 0.003",
      "average | cluster-robust | 0.06 | 0.02 to 0.10 | 8.5 | 0.001",
      "* 1,039 effects from 27 studies.",
      "* Cluster-robust: bias-reduced, 26 clusters.",
      "* Model: random effects. Heterogeneity: Paule–Mandel. Intervals: normal, 90% confidence.",
      "* Assumed: studies are alike.",
      "* Elm: A doubt.",
      "term,inference,estimate,standard_error,interval_low,interval_high,degrees_of_freedom,p",
      "average,from the model,0.061095099359810875,0.021,0.03633192924739028,0.08434114843375089,13,0.0034",
      "average,cluster-robust,0.061095099359810875,0.03,0.023716526617316044,0.09712671073072274,8.5,0.0012",
    ]);
    const headline = {
      ...average,
      standardError: 9,
      p: 0.9,
      interval: { low: -9, high: 9 },
      modelBased: average,
      robust: null,
    };
    expect(told(multilevelTable(headline, { scale: "log-ratio-of-means" })).slice(2, 4)).toEqual([
      "average | from the model | 6.3 | 3.7 to 8.8 | 0.061 | 0.036 to 0.084 | 13 | 0.003",
      "* 1,039 effects from 27 studies.",
    ]);
  });
});

describe("effects", () => {
  const effect = (others: Partial<Effect>): Effect => ({
    ...sampleEffect,
    estimate: Math.log(1.128),
    variance: 0.0036,
    cohort: "Elm cohort",
    participants: 1047,
    prePostCorrelation: 0.874,
    correlationSource: "set by the user",
    row: { ...sampleEffect.row, line: 17, outcome: "torque" },
    ...others,
  });
  const { comparatorArm: _arm, prePostCorrelation: _r, ...alone } = effect({});
  const set: EffectSet = {
    ...sampleEffectSet,
    effects: [effect({}), { ...alone, effectId: "e2", correlationSource: "not needed", notes: [] }],
  };

  test("every number in its place: 1.128 · exp(∓1.96 · 0.06) is 1.0028 and 1.2688", () => {
    expect(told(effectsTable(set))).toEqual([
      "Effects: training arm against a no-exercise control, log ratio of means (shown as percent change) [effects-against-control-log-ratio-of-means]",
      "Study | Arm | Outcome | >People | >Change (%) | >95% interval | >Log ratio | Pre–post correlation | Way | >Line",
      "Elm 2011 | long holds against no training | torque (60°, week 12) | 1,047 | 12.8 | 0.3 to 26.9 | 0.120 | 0.87 yours | a | 17",
      "Elm 2011 | long holds | torque (60°, week 12) | 1,047 | 12.8 | 0.3 to 26.9 | 0.120 | not needed | a | 17",
      "* Positive means improvement.",
      "* Each interval is the effect's own: estimate ± 1.96 standard errors.",
      "* a: means and standard deviations at both times.",
      "* One study only.",
      "* Elm 2011: From medians.",
      "study,trained_arm,comparator_arm,effect_id,cohort,outcome_name,scale,contrast,participants,estimate,variance,standard_error,interval_low,interval_high,pre_post_correlation,correlation_source,route,line",
      "Elm 2011,long holds,no training,elm-1,Elm cohort,torque,log-ratio-of-means,against-control,1047,0.12044615307586706,0.0036,0.06,0.002848314003463831,0.2380439921482703,0.874,set by the user,means and standard deviations at both times,17",
      "Elm 2011,long holds,,e2,Elm cohort,torque,log-ratio-of-means,against-control,1047,0.12044615307586706,0.0036,0.06,0.002848314003463831,0.2380439921482703,,not needed,means and standard deviations at both times,17",
    ]);
  });

  test("a ratio of spreads, and outcomes where lower is better on another scale", () => {
    const worse = effect({ row: { ...sampleEffect.row, higherIs: "worse" } });
    const notes = (scale: Effect["scale"]): readonly string[] =>
      effectsTable({ ...set, scale, effects: [{ ...worse, scale, notes: [] }], notes: [] }).notes;
    expect(notes("log-ratio-of-means")).toEqual([
      "Positive means improvement.",
      "Each interval is the effect's own: estimate ± 1.96 standard errors.",
      "a: means and standard deviations at both times.",
    ]);
    expect(notes("log-coefficient-of-variation-ratio")).toEqual([
      "Each interval is the effect's own: estimate ± 1.96 standard errors.",
      "a: means and standard deviations at both times.",
    ]);
    expect(notes("standardised-mean-difference")).toHaveLength(3);
  });
});
