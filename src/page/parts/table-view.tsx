import { useState } from "preact/hooks";
import { type Column, type Table, columnHeading } from "../../tables/table.js";
import { tableToCsv } from "../../tables/table-to-csv.js";
import { saveFile } from "../save-file.js";
import { useNarrow } from "../views/use-narrow.js";

const numberClass = (column: Column): string => (column.align === "right" ? "number" : "");

export type TableViewProps = Readonly<{
  table: Table;
  /** Rows shown at first; more come by a button. */
  rowsAtFirst?: number;
}>;

/** Few notes stand below the table; of many the first does, and the rest unfold. */
const Notes = ({ title, notes }: Readonly<{ title: string; notes: readonly string[] }>) => {
  const list = (some: readonly string[]) =>
    some.length === 0 ? null : (
      <ul class="table-notes">
        {some.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
    );
  if (notes.length <= 3) return list(notes);
  return (
    <>
      {list(notes.slice(0, 1))}
      <details class="more-notes">
        <summary>
          {notes.length - 1} more notes<span class="unseen">: {title}</span>
        </summary>
        {list(notes.slice(1))}
      </details>
    </>
  );
};

/** A table with its caption, aligned numbers, footnotes and its CSV to save. */
export const TableView = ({ table, rowsAtFirst = 60 }: TableViewProps) => {
  const [shown, setShown] = useState(rowsAtFirst);
  const narrow = useNarrow();
  const columns = (narrow ? table.narrowColumns : undefined) ?? table.columns;
  const hidden = table.rows.length - shown;
  return (
    <div class="table-block">
      <div class="scroll" tabIndex={0} role="region" aria-label={table.title}>
        <table>
          <caption>{table.title}</caption>
          <thead>
            <tr>
              {columns.map((column) => (
                <th key={column.key} scope="col" class={numberClass(column)}>
                  {columnHeading(column)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.rows.slice(0, shown).map((row, place) => (
              <tr key={place}>
                {columns.map((column, index) =>
                  index === 0 ? (
                    <th key={column.key} scope="row" class={numberClass(column)}>
                      {row[column.key] ?? ""}
                    </th>
                  ) : (
                    <td key={column.key} class={numberClass(column)}>
                      {row[column.key] ?? ""}
                    </td>
                  ),
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {hidden > 0 ? (
        <button type="button" onClick={() => setShown(shown + 100)}>
          Show {Math.min(100, hidden)} more of {hidden}
        </button>
      ) : null}
      <Notes title={table.title} notes={table.notes} />
      {table.rows.length > 0 ? (
        <button
          type="button"
          class="quiet-button"
          onClick={() => saveFile(`${table.id}.csv`, tableToCsv(table), "text/csv")}
        >
          Save as CSV<span class="unseen">: {table.title}</span>
        </button>
      ) : null}
    </div>
  );
};
