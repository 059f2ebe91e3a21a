import type { EffectScale } from "../effects/effect.js";
import { scaleLabel } from "../effects/scale-label.js";
import type {
  Coefficient,
  HeadlineResult,
  MultilevelResult,
} from "../synthesis/synthesis-results.js";
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
  result: MultilevelResult | HeadlineResult,
  options: MultilevelTableOptions,
): Table => {
  const { scale } = options;
  const own = "modelBased" in result ? result.modelBased : result;
  const { standardError, interval, degreesOfFreedom, p } = own;
  const { estimate } = result;
  const average: Coefficient = {
    term: "average",
    ...{ estimate, standardError, interval, degreesOfFreedom, p },
  };
  const fromModel = own.coefficients.length === 0 ? [average] : own.coefficients;
  const rows = fromModel.flatMap((coefficient) => {
    const robust =
      own.coefficients.length === 0
        ? result.robust?.average
        : result.robust?.coefficients.find(({ term }) => term === coefficient.term);
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
