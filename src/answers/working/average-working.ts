import type { EffectSet } from "../../effects/effect.js";
import { effectName } from "../../effects/effect-name.js";
import { studentTQuantile } from "../../numeric/student-t.js";
import type { HeadlineResult } from "../../synthesis/synthesis-results.js";
import { formatNumber } from "../../tables/number-format.js";
import type { Table } from "../../tables/table.js";
import { figureOf, type Step } from "./working.js";

/** A pooled average made again from its effects: their weights, and every line to its intervals. */
export type AverageWorking = Readonly<{ weights: Table; steps: readonly Step[]; source: string }>;

/** A pooled average made again from its effects. */
export const averageWorking = (set: EffectSet, result: HeadlineResult): AverageWorking => {
  const { estimate, standardError, degreesOfFreedom, predictionInterval, story } = result;
  const weights = result.weightsPercent;
  const spread = Object.values(result.varianceByLevel).reduce((sum, part) => sum + part, 0);
  const t = studentTQuantile((1 + story.confidence) / 2, degreesOfFreedom);
  const both = (reach: number): string =>
    `${figureOf(estimate - reach)} to ${figureOf(estimate + reach)}`;
  const [E, SE, T] = [figureOf(estimate), figureOf(standardError), figureOf(t)];
  const levels = Object.entries(result.varianceByLevel);
  return {
    weights: {
      id: `weights-${set.contrast}`,
      title: "Every effect with its weight in the average",
      columns: [
        { key: "study", label: "Study", align: "left" },
        { key: "effect", label: "Effect", align: "left" },
        { key: "estimate", label: "Estimate y", align: "right" },
        { key: "error", label: "Standard error", align: "right" },
        { key: "weight", label: "Weight w", unit: "%", align: "right" },
        { key: "product", label: "w·y", align: "right" },
      ],
      rows: set.effects.map((effect, place) => {
        const weight = weights[place] ?? 0;
        return {
          study: effect.study,
          effect: effectName(effect),
          estimate: formatNumber(effect.estimate, { digits: 4 }),
          error: formatNumber(Math.sqrt(effect.variance), { digits: 4 }),
          weight: formatNumber(weight, { digits: 2 }),
          product: formatNumber((weight / 100) * effect.estimate, { digits: 5 }),
        };
      }),
      notes: [
        `The products sum to the average, ${E}.`,
        ...(weights.some((weight) => weight < 0)
          ? ["A weight can be negative where effects of one study lean on one another."]
          : []),
      ],
    },
    steps: [
      {
        formula: "M = V + spread of every level for effects that share it",
        numbers: `V: known variances and covariances; ${levels.map(([level, part]) => `${levelWords[level] ?? level} ${figureOf(part)}`).join(", ")}`,
        result: `${set.effects.length} × ${set.effects.length} numbers`,
      },
      {
        formula: "w = M⁻¹1 / (1ᵀM⁻¹1)",
        numbers: "row sums of the inverse, over their total",
        result: "the weights below",
      },
      { formula: "average = Σ w·y", numbers: "the products below, summed", result: E },
      {
        formula: "interval = average ± t·standard error",
        numbers: `${E} ± ${T} · ${SE} (t for ${figureOf(degreesOfFreedom)} degrees of freedom)`,
        result: both(t * standardError),
      },
      ...(predictionInterval === null
        ? []
        : [
            {
              formula: "a further study = average ± t·√(standard error² + all spread)",
              numbers: `${E} ± ${T} · √(${SE}² + ${figureOf(spread)})`,
              result: both(t * Math.sqrt(standardError ** 2 + spread)),
            },
          ]),
      ...(set.scale === "log-ratio-of-means"
        ? [
            {
              formula: "percent = 100·(eˣ − 1)",
              numbers: `100 · (e^${E} − 1)`,
              result: `${figureOf(100 * Math.expm1(estimate))}%`,
            },
          ]
        : []),
    ],
    source: [story.model, story.heterogeneityEstimator, story.intervalMethod]
      .map(sentence)
      .join(" "),
  };
};

const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;

const levelWords: Readonly<Record<string, string>> = {
  study: "between studies",
  arm: "between arms",
  effect_id: "between readings",
};
