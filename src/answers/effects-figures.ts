/** The figures of a group of effects: estimates beside their sessions, and precision. */
import { armName, effectName, measurementPlace } from "../effects/effect-name.js";
import type { EffectSet } from "../effects/effect.js";
import type { NamedFigure } from "../figures/figure-list.js";
import { normalQuantile } from "../numeric/normal.js";
import { sessionTimeline, timelineNeeds, type TimelinePart } from "../protocol/session-timeline.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { prescriptionOf } from "../records/prescription-of.js";
import type { MultilevelResult, PooledResult } from "../synthesis/synthesis-results.js";
import { effectsTable } from "../tables/effects-table.js";
import type { Table } from "../tables/table.js";
import { capital, confidencePercent } from "../tables/number-format.js";
import { scaleDisplay, valueText } from "../tables/scale-display.js";

/**
 * The session of a row's arm, stretch by stretch; undefined where a rest or an effort is not coded.
 *
 * A strip is drawn to scale or not at all: nothing is made up.
 *
 * @source none: sessionTimeline of prescriptionOf
 */
export const armTimeline = (row: OutcomeRow): readonly TimelinePart[] | undefined => {
  const prescription = prescriptionOf(row);
  return prescription === undefined || timelineNeeds(prescription).length > 0
    ? undefined
    : sessionTimeline(prescription);
};

type Shown = NonNullable<EffectSet["unweighted"]>[number];

/**
 * The shortest label that tells the effects of a figure apart: the outcome is named only where the
 * figure holds several, and after the place, because a long label loses its end.
 */
const rowLabels = (effects: readonly Shown[]): ((effect: Shown) => string) => {
  const several = new Set(effects.map(({ row }) => row.outcome)).size > 1;
  return (effect) =>
    [armName(effect), measurementPlace(effect), ...(several ? [effect.row.outcome] : [])]
      .filter((part) => part !== "")
      .join(", ");
};

/** Fewest studies of which a figure of precision shows anything. */
const fewestForPrecision = 5;

const reachOf = (confidence: number): number => normalQuantile((1 + confidence) / 2);

/** Every effect with its own interval at the confidence asked for. */
export const ownEffectsTable = (set: EffectSet, confidence: number): Table =>
  effectsTable(set, { confidence, reach: reachOf(confidence) });

/** What the figures say of a group beyond its effects. */
export type EffectsFiguresInput = Readonly<{
  /** File-name form of the group. */
  id: string;
  label: string;
  set: EffectSet;
  /** Changes of its kind that have no weight, to be shown. */
  unweighted?: readonly Shown[];
  /** The average, where there is one. */
  result?: MultilevelResult | PooledResult | undefined;
  confidence: number;
}>;

/** The figures of one group and contrast: estimates beside their prescriptions, and precision. */
export const effectsFigures = ({
  id,
  label,
  set,
  unweighted = [],
  result,
  confidence,
}: EffectsFiguresInput): readonly NamedFigure[] => {
  if (set.effects.length === 0) return [];
  const { scale } = set;
  const reach = reachOf(confidence);
  const labelOf = rowLabels([...set.effects, ...unweighted]);
  const rowOf = (effect: Shown, variance: number) => {
    const half = reach * Math.sqrt(variance);
    return {
      study: effect.study,
      cohort: effect.cohort,
      label: labelOf(effect),
      estimate: effect.estimate,
      low: effect.estimate - half,
      high: effect.estimate + half,
      timeline: armTimeline(effect.row),
    };
  };
  const estimates: NamedFigure = {
    name: "estimates",
    data: {
      id: `estimates-${id}`,
      title: `Estimates: ${label}`,
      effects: [
        ...set.effects.map((effect) => ({
          ...rowOf(effect, effect.variance),
          ...(effect.borrowed === undefined ? {} : { spread: "borrowed" as const }),
        })),
        ...unweighted.map((effect) => ({ ...rowOf(effect, 0), spread: "none" as const })),
      ],
      ...(result === undefined
        ? {}
        : {
            pooled: {
              estimate: result.estimate,
              interval: result.interval,
              predictionInterval: result.predictionInterval,
            },
            sentence: `${capital(label)}: ${valueText(scaleDisplay(scale), { estimate: result.estimate, ...result.interval })} on average.`,
            model: `${result.story.model}; ${result.story.intervalMethod}`,
          }),
      scale,
      confidencePercent: confidencePercent(confidence),
    },
  };
  if (new Set(set.effects.map(({ cohort }) => cohort)).size < fewestForPrecision)
    return [estimates];
  return [
    estimates,
    {
      name: "precision",
      data: {
        id: `precision-${id}`,
        family: label,
        borrowed: set.effects.flatMap(({ borrowed }, place) =>
          borrowed === undefined ? [] : [place],
        ),
        effects: set.effects.map((effect) => ({
          study: effect.study,
          cohort: effect.cohort,
          label: effectName(effect),
          estimate: effect.estimate,
          standardError: Math.sqrt(effect.variance),
        })),
        ...(result === undefined
          ? {}
          : { pooled: { estimate: result.estimate, interval: result.interval } }),
        scale,
      },
    },
  ];
};
