import type { VNode } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { plainNumber } from "../../tables/number-format.js";
import { type Column, type Table, columnHeading } from "../../tables/table.js";
import { tableToCsv } from "../../tables/table-to-csv.js";
import { saveFile } from "../save-file.js";
import { Kept } from "../views/kept.js";
import { useNarrow } from "../views/use-narrow.js";

/** From so many columns on, a table on a narrow screen lays its cells under one another, row by row. */
const stackedFrom = 4;
/** Rows shown at first where every row takes a screen of its own. */
const stackedAtFirst = 12;

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

const cellOf = (row: Table["rows"][number], { key }: Column): string => row[key] ?? "";

type Shown = Readonly<{
  title: string;
  columns: readonly Column[];
  rows: Table["rows"];
  /** How many of the rows are in sight. */
  shown: number;
}>;

/** Rows that are drawn at once, and come at once by a button. */
const blockRows = 100;

/** Rows in blocks, so that those already in sight are not drawn again when more come. */
const InBlocks = ({
  columns,
  rows,
  shown,
  draw,
}: Omit<Shown, "title"> &
  Readonly<{ draw: (row: Table["rows"][number], place: number) => VNode }>) => (
  <>
    {Array.from({ length: Math.ceil(Math.min(shown, rows.length) / blockRows) }, (_, block) => {
      const from = block * blockRows;
      const to = Math.min(shown, rows.length, from + blockRows);
      return (
        <Kept
          key={block}
          of={[columns, rows, to]}
          draw={() => <>{rows.slice(from, to).map((row, at) => draw(row, from + at))}</>}
        />
      );
    })}
  </>
);

/** Rows across, headings above. */
const Across = ({ title, columns, rows, shown }: Shown) => (
  <table>
    <caption>{title}</caption>
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
      <InBlocks
        {...{ columns, rows, shown }}
        draw={(row, place) => (
          <tr key={place}>
            {columns.map((column, index) =>
              index === 0 ? (
                <th key={column.key} scope="row" class={numberClass(column)}>
                  {cellOf(row, column)}
                </th>
              ) : (
                <td key={column.key} class={numberClass(column)}>
                  {cellOf(row, column)}
                </td>
              ),
            )}
          </tr>
        )}
      />
    </tbody>
  </table>
);

/** Each row under its first cell, a heading and its value to a line; blank cells are left out. */
const Stacked = ({ title, columns, rows, shown }: Shown) => {
  const [first, ...others] = columns;
  if (first === undefined) return null;
  return (
    <table class="stacked">
      <caption>{title}</caption>
      <InBlocks
        {...{ columns, rows, shown }}
        draw={(row, place) => (
          <tbody key={place}>
            <tr>
              <th scope="rowgroup" colSpan={2}>
                {first.align === "right" ? `${columnHeading(first)} ` : ""}
                {cellOf(row, first)}
              </th>
            </tr>
            {others
              .filter((column) => cellOf(row, column) !== "")
              .map((column) => (
                <tr key={column.key}>
                  <th scope="row">{columnHeading(column)}</th>
                  <td>{cellOf(row, column)}</td>
                </tr>
              ))}
          </tbody>
        )}
      />
    </table>
  );
};

/** Whether a table that stands across is wider than its room, where it may not be. */
const useTooWide = (id: string, narrow: boolean) => {
  const holder = useRef<HTMLDivElement>(null);
  const [wide, setWide] = useState<string>();
  useLayoutEffect(() => {
    const element = holder.current;
    if (element === null || !narrow) return undefined;
    const look = (): void => {
      if (element.scrollWidth > element.clientWidth + 1) setWide(id);
    };
    // Seen again when what it is folded in opens, and when typefaces that arrive late make the table wider.
    const watcher = new ResizeObserver(look);
    watcher.observe(element);
    if (element.firstElementChild !== null) watcher.observe(element.firstElementChild);
    look();
    return () => watcher.disconnect();
  }, [id, narrow]);
  return [holder, narrow && wide === id] as const;
};

/** A table with its caption, aligned numbers, footnotes and its CSV to save. */
export const TableView = ({ table, rowsAtFirst = 60 }: TableViewProps) => {
  const narrow = useNarrow();
  const columns = (narrow ? table.narrowColumns : undefined) ?? table.columns;
  const [holder, isTooWide] = useTooWide(table.id, narrow);
  const isStacked = narrow && (columns.length >= stackedFrom || isTooWide);
  const [more, setMore] = useState(0);
  const [all, setAll] = useState(false);
  const shown = (isStacked ? Math.min(rowsAtFirst, stackedAtFirst) : rowsAtFirst) + more;
  const hidden = table.rows.length - shown;
  const Form = isStacked ? Stacked : Across;
  // All of a long table come block by block, so that the page stays awake.
  useEffect(() => {
    if (!all || hidden <= 0) return undefined;
    const next = requestAnimationFrame(() => setMore(more + blockRows));
    return () => cancelAnimationFrame(next);
  }, [all, hidden, more]);
  return (
    <div class="table-block">
      <div ref={holder} class="scroll" tabIndex={0} role="region" aria-label={table.title}>
        <Form title={table.title} columns={columns} rows={table.rows} shown={shown} />
      </div>
      {hidden > 0 ? (
        <button type="button" onClick={() => setMore(more + blockRows)}>
          {hidden > blockRows
            ? `Show ${blockRows} more rows; ${plainNumber(hidden)} are folded`
            : hidden === 1
              ? "Show the last row"
              : `Show the other ${hidden} rows`}
        </button>
      ) : null}
      {hidden > blockRows ? (
        <button type="button" class="quiet-button" onClick={() => setAll(true)}>
          Show all {plainNumber(table.rows.length)} rows<span class="unseen">: {table.title}</span>
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
