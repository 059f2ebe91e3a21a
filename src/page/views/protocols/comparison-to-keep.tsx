import { comparisonFigure } from "../../../figures/comparison-figure.js";
import type { Figure } from "../../../figures/figure.js";
import type { ProtocolComparison } from "../../../projection/compare-protocols.js";
import type { ReadyProjection } from "../../../projection/prepare-projection.js";
import { sessionTimeline, timelineNeeds } from "../../../protocol/session-timeline.js";
import { equalisedTable, headToHeadTable } from "../../../tables/comparison-evidence-table.js";
import {
  comparisonCostTable,
  comparisonTable,
  differencesTable,
} from "../../../tables/comparison-table.js";
import type { Table } from "../../../tables/table.js";
import { FigureView } from "../../parts/figure-view.js";
import type { RecipeWords } from "../../recipe-words.js";
import { TableView } from "../../parts/table-view.js";
import { Kept } from "../kept.js";
import { useRested } from "../use-rested.js";

const figureOf = (comparison: ProtocolComparison, prepared: ReadyProjection): Figure =>
  comparisonFigure({
    comparison,
    prepared,
    timelines: comparison.protocols.map(({ prescription }) =>
      timelineNeeds(prescription).length > 0 ? undefined : sessionTimeline(prescription),
    ),
  });

const tablesOf = (comparison: ProtocolComparison, prepared: ReadyProjection): readonly Table[] => {
  const trials = headToHeadTable(comparison);
  const { equalised } = comparison;
  return [
    comparisonTable(comparison, prepared),
    differencesTable(comparison),
    ...(trials === undefined ? [] : [trials]),
    ...(equalised === undefined
      ? []
      : [
          equalisedTable(
            equalised,
            comparison.protocols.map(({ name }) => name),
          ),
        ]),
    comparisonCostTable(comparison),
  ];
};

type Compared = Readonly<{
  comparison: ProtocolComparison;
  prepared: ReadyProjection;
  words: RecipeWords;
}>;

/** The comparison as a figure for a slide and as tables to save, made when the hand rests. */
export const ComparisonToKeep = ({ comparison: moving, prepared, words: asked }: Compared) => {
  const comparison = useRested(moving);
  const words = useRested(asked);
  return (
    <Kept
      of={[comparison, prepared, JSON.stringify(words)]}
      draw={() => (
        <div>
          <h2>To keep</h2>
          <FigureView figure={figureOf(comparison, prepared)} words={words} />
          <details>
            <summary>As tables</summary>
            {tablesOf(comparison, prepared).map((table) => (
              <TableView key={table.id} table={table} />
            ))}
          </details>
        </div>
      )}
    />
  );
};
