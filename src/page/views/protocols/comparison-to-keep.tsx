import { useMemo } from "preact/hooks";
import { comparisonFigure } from "../../../figures/comparison-figure.js";
import type { ProtocolComparison } from "../../../projection/compare-protocols.js";
import type { ReadyProjection } from "../../../projection/prepare-projection.js";
import { sessionTimeline, timelineNeeds } from "../../../protocol/session-timeline.js";
import { equalisedTable, headToHeadTable } from "../../../tables/comparison-evidence-table.js";
import {
  comparisonCostTable,
  comparisonTable,
  differencesTable,
} from "../../../tables/comparison-table.js";
import { FigureView } from "../../parts/figure-view.js";
import { TableView } from "../../parts/table-view.js";
import { useRested } from "../use-rested.js";

/** The comparison as a figure for a slide and as tables to save, made when the hand rests. */
export const ComparisonToKeep = ({
  comparison: moving,
  prepared,
}: Readonly<{ comparison: ProtocolComparison; prepared: ReadyProjection }>) => {
  const comparison = useRested(moving);
  const figure = useMemo(
    () =>
      comparisonFigure({
        comparison,
        prepared,
        timelines: comparison.protocols.map(({ prescription }) =>
          timelineNeeds(prescription).length > 0 ? undefined : sessionTimeline(prescription),
        ),
      }),
    [comparison, prepared],
  );
  const tables = useMemo(() => {
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
  }, [comparison, prepared]);
  return (
    <>
      <h2>To keep</h2>
      <FigureView figure={figure} />
      <details>
        <summary>As tables</summary>
        {tables.map((table) => (
          <TableView key={table.id} table={table} />
        ))}
      </details>
    </>
  );
};
