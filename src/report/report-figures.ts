import { armName, effectName, measurementPlace } from "../effects/effect-name.js";
import type { Effect } from "../effects/effect.js";
import { estimatesFigures } from "../figures/estimates-figure.js";
import { evidenceMapCells } from "../figures/evidence-map-cells.js";
import { evidenceMap } from "../figures/evidence-map.js";
import type { Figure } from "../figures/figure.js";
import { precisionFigure } from "../figures/precision-figure.js";
import { normalQuantile } from "../numeric/normal.js";
import { sessionTimeline, timelineNeeds } from "../protocol/session-timeline.js";
import { prescriptionOf } from "../records/prescription-of.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { Analysis, FamilyAnswer } from "./analysis.js";
import { shownResult } from "./pooled-answer.js";

const timelineOf = (row: OutcomeRow) => {
  const prescription = prescriptionOf(row);
  // A strip is drawn to scale or not at all: no rest and no effort is made up.
  return prescription === undefined || timelineNeeds(prescription).length > 0
    ? undefined
    : sessionTimeline(prescription);
};

/**
 * The shortest label that tells the effects of a figure apart: the outcome is named only where the
 * figure holds several, and after the place, because a long label loses its end.
 */
const rowLabels = (effects: readonly Effect[]): ((effect: Effect) => string) => {
  const several = new Set(effects.map(({ row }) => row.outcome)).size > 1;
  return (effect) =>
    [armName(effect), measurementPlace(effect), ...(several ? [effect.row.outcome] : [])]
      .filter((part) => part !== "")
      .join(", ");
};

const estimateRow = (effect: Effect, label: string, reach: number) => {
  const half = reach * Math.sqrt(effect.variance);
  return {
    study: effect.study,
    label,
    estimate: effect.estimate,
    low: effect.estimate - half,
    high: effect.estimate + half,
    timeline: timelineOf(effect.row),
  };
};

/** The figures of one family and contrast: estimates beside their prescriptions, and precision. */
export const answerFigures = (family: FamilyAnswer, confidence: number): readonly Figure[] => {
  const { set, answer, label } = family;
  if (set.effects.length === 0) return [];
  const result = shownResult(answer);
  const reach = normalQuantile((1 + confidence) / 2);
  const labelOf = rowLabels(set.effects);
  const estimates = estimatesFigures({
    id: `estimates-${family.id}`,
    title: `Estimates: ${label}`,
    effects: set.effects.map((effect) => estimateRow(effect, labelOf(effect), reach)),
    ...(result === undefined || set.effects.length === 1
      ? {}
      : {
          pooled: {
            estimate: result.estimate,
            interval: result.interval,
            predictionInterval: result.predictionInterval,
          },
          model: `${result.story.model}; ${result.story.intervalMethod}`,
        }),
    scale: set.scale,
    confidencePercent: 100 * confidence,
  });
  if (set.effects.length < 3) return estimates;
  const precision = precisionFigure({
    id: `precision-${family.id}`,
    title: `Precision: ${label}`,
    effects: set.effects.map((effect) => ({
      study: effect.study,
      label: effectName(effect),
      estimate: effect.estimate,
      standardError: Math.sqrt(effect.variance),
    })),
    ...(result === undefined
      ? {}
      : { pooled: { estimate: result.estimate, interval: result.interval } }),
    scale: set.scale,
  });
  return [...estimates, precision];
};

/** Which combinations of effort and hold length the file's isometric arms have studied. */
export const evidenceMapFigure = (analysis: Analysis): Figure | undefined => {
  const arms = analysis.records.rows
    .filter((row) => row.armKind === undefined || row.armKind === "isometric")
    .flatMap((row) =>
      row.outcomeFamily === undefined
        ? []
        : [
            {
              study: row.cohort ?? row.study,
              arm: row.arm,
              outcomeFamily: row.outcomeFamily,
              intensityPercent: middleOf(row.intensityPercent, row.intensityPercentHigh),
              holdSeconds: middleOf(row.holdSeconds, row.holdSecondsHigh),
              participants: row.nEnd ?? row.nStart,
            },
          ],
    );
  return arms.length === 0 ? undefined : evidenceMap({ map: evidenceMapCells(arms) });
};

const middleOf = (low: number | undefined, high: number | undefined): number | undefined =>
  low === undefined ? undefined : (low + (high ?? low)) / 2;

/** Every figure of a report, in its order. */
export const reportFigures = (analysis: Analysis): readonly Figure[] => {
  const map = evidenceMapFigure(analysis);
  return [
    ...(map === undefined ? [] : [map]),
    ...analysis.answers.flatMap((answer) => answerFigures(answer, analysis.confidence)),
  ];
};
