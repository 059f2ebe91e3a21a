import type { EffectScale } from "../effects/effect.js";
import { scaleLabel } from "../effects/scale-label.js";
import type { Coefficient, MultilevelResult } from "../synthesis/synthesis-results.js";
import {
  coefficientCells,
  coefficientColumns,
  coefficientCsvColumns,
} from "./coefficient-cells.js";
import { formatCount } from "./number-format.js";
import { storyNotes } from "./story-notes.js";
import type { Table } from "./table.js";

export type MultilevelTableOptions = Readonly<{ scale: EffectScale }>;

/**
 * Coefficients of a multilevel model, each from the model and cluster-robust side by side.
 *
 * The robust rows hold when the covariances assumed within studies are wrong; where the two disagree
 * they are the ones to read. A model without moderators has one coefficient, the average.
 */
export const multilevelTable = (
  result: MultilevelResult,
  options: MultilevelTableOptions,
): Table => {
  const { scale } = options;
  const average: Coefficient = {
    term: "average",
    estimate: result.estimate,
    standardError: result.standardError,
    interval: result.interval,
    degreesOfFreedom: result.degreesOfFreedom,
    p: result.p,
  };
  const fromModel = result.coefficients.length === 0 ? [average] : result.coefficients;
  const fromClusters = result.robust?.coefficients ?? [];
  const rows = fromModel.flatMap((coefficient, index) => {
    const robust = fromClusters[index];
    return [
      { inference: "from the model", ...coefficientCells(coefficient, scale) },
      ...(robust === undefined
        ? []
        : [
            {
              inference: "cluster-robust",
              ...coefficientCells({ ...robust, term: coefficient.term }, scale),
            },
          ]),
    ];
  });
  const inference = { key: "inference", label: "Inference", align: "left" } as const;
  const [termColumn, ...otherColumns] = coefficientColumns(scale);
  const [termCsvColumn, ...otherCsvColumns] = coefficientCsvColumns;
  return {
    id: `multilevel-${scale}`,
    title: `Multilevel model: ${scaleLabel(scale)}`,
    columns: [termColumn, inference, ...otherColumns],
    csvColumns: [termCsvColumn, inference, ...otherCsvColumns],
    rows,
    notes: [
      `${formatCount(result.effects)} effects from ${formatCount(result.studies)} studies.`,
      ...(result.robust === null
        ? []
        : [
            `Cluster-robust: ${result.robust.correction}, ${formatCount(result.robust.clusters)} clusters.`,
          ]),
      ...storyNotes(result.story),
    ],
  };
};
