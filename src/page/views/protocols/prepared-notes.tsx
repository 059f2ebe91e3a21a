import type { PreparedProjection } from "../../../projection/prepare-projection.js";
import {
  predictorsTable,
  priorsTable,
  projectionModelSentence,
  projectionNoteLines,
} from "../../../tables/projection-basis-table.js";
import { TableView } from "../../parts/table-view.js";

/** What every projection of this table rests on: trials, predictors in use and left out, priors, notes. */
export const PreparedNotes = ({ prepared }: Readonly<{ prepared: PreparedProjection }>) => {
  if (prepared.kind === "refusal")
    return (
      <p class="refusal">
        {prepared.reason.charAt(0).toUpperCase()}
        {prepared.reason.slice(1)}. Another goal, or a table with more trials, may do better.
      </p>
    );
  return (
    <details>
      <summary>What the projections rest on</summary>
      <p>{projectionModelSentence(prepared)}</p>
      <ul>
        {projectionNoteLines(prepared).map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <TableView table={predictorsTable(prepared)} />
      <TableView table={priorsTable(prepared)} />
    </details>
  );
};
