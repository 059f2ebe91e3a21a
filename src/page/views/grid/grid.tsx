/** The file as a table to be changed, by mouse and by keyboard. Longer than most for its keys. */
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import { parseRecords } from "../../../csv/parse-records.js";
import { writeTable } from "../../../csv/write-table.js";
import { fieldOf, fieldOfColumn } from "../../../records/codebook.js";
import { choicesOf } from "../../../records/column-reader.js";
import { columnSpelling } from "../../../records/header-columns.js";
import { cellKey, type Cell, type CellText, type SheetState } from "./use-sheet.js";
import { useVirtual } from "./use-virtual.js";

const rowHeight = 34;
const headHeight = 44;
/** Room for the bar by which the columns are scrolled. */
const barHeight = 18;

/** The codebook's field of a column, by its name in the file. */
export const fieldAt = (title: string) => {
  const name = fieldOfColumn(columnSpelling(title));
  return name === undefined ? undefined : fieldOf(name);
};

/** Rows by which the width of a column is chosen. */
const rowsLooked = 60;

/** Wide enough for a column's name, the mark of its order and its first cells, within limits; pixels. */
const widthsOf = ({ header, rows }: Pick<SheetState, "header" | "rows">): readonly number[] =>
  header.map((title, column) => {
    const cells = rows.slice(0, rowsLooked).map((row) => row[column]?.length ?? 0);
    return Math.min(230, Math.max(80, 24 + 8 * Math.max(title.length + 2, ...cells)));
  });

/** Cells of a piece of a spreadsheet, as it lies on the clipboard. */
const pasted = (text: string): readonly (readonly string[])[] =>
  parseRecords(new TextEncoder().encode(text), "\t", 1).rows.map(({ cells }) => cells);

/** A place in the table as it is shown: rows in the order they stand in, −1 for the names of the columns. */
export type Spot = Readonly<{ row: number; column: number }>;

export const Grid = ({
  sheet,
  order,
  frozen,
  canEdit,
  at,
  sorted,
  onMove,
  onSort,
}: Readonly<{
  sheet: SheetState;
  /** Rows of the file in the order shown; the one behind the last is a new one. */
  order: readonly number[];
  frozen: number;
  canEdit: boolean;
  at: Spot;
  /** The column that gives the order, and which way. */
  sorted: Readonly<{ column: number; way: "ascending" | "descending" }> | undefined;
  onMove: (spot: Spot) => void;
  onSort: (column: number) => void;
}>) => {
  const { header, rows, problems } = sheet;
  const box = useRef<HTMLDivElement>(null);
  const input = useRef<HTMLInputElement>(null);
  const [editing, setEditing] = useState<string>();
  const [anchor, setAnchor] = useState<Spot>();
  // After an entry the tab key goes on to the next cell; at any other time it leaves the table.
  const entering = useRef(false);
  const widths = useMemo(() => widthsOf(sheet), [header, sheet.whole]);
  const offsets: number[] = [0];
  for (const width of widths) offsets.push(offsets.at(-1)! + width);
  const kept = Math.min(frozen, header.length);
  const down = useVirtual(box, order.length, () => rowHeight, { before: headHeight });
  const across = useVirtual(box, header.length, (index) => widths[index] ?? 0, {
    ...{ horizontal: true, before: offsets[kept]!, of: widths.join() },
  });
  const columns = [
    ...Array.from({ length: kept }, (_, index) => index),
    ...across.items.map(({ index }) => index).filter((index) => index >= kept),
  ];
  const cellOf = ({ row, column }: Spot): Cell => ({ row: order[row] ?? rows.length, column });
  const onHead = at.row < 0;
  const textAt = (spot: Spot): string =>
    (spot.row < 0 ? header : rows[cellOf(spot).row])?.[spot.column] ?? "";
  const go = (row: number, column: number, extend = false, least = 0): void => {
    const spot = {
      row: Math.max(least, Math.min(order.length - 1, row)),
      column: Math.max(0, Math.min(header.length - 1, column)),
    };
    setAnchor(extend ? (anchor ?? at) : undefined);
    onMove(spot);
  };
  useEffect(() => {
    if (!onHead) down.show(at.row);
    if (at.column >= kept) across.show(at.column);
  }, [at.row, at.column]);
  // Before the next key comes, which else would be lost.
  useLayoutEffect(() => {
    if (editing !== undefined) input.current?.focus();
  }, [editing === undefined]);
  const begin = (text: string): void => {
    if (canEdit && !onHead && header.length > 0) setEditing(text);
  };
  const stop = (): void => {
    setEditing(undefined);
    box.current?.focus({ preventScroll: true });
  };
  const enter = (): void => {
    if (editing === undefined) return;
    sheet.change([{ ...cellOf(at), text: editing }]);
    entering.current = true;
    stop();
  };
  const range = (): readonly Spot[][] => {
    const other = anchor ?? at;
    const [top, bottom] = [at.row, other.row].sort((a, b) => a - b) as [number, number];
    const [left, right] = [at.column, other.column].sort((a, b) => a - b) as [number, number];
    return Array.from({ length: bottom - top + 1 }, (_, row) =>
      Array.from({ length: right - left + 1 }, (__, column) => ({
        row: top + row,
        column: left + column,
      })),
    );
  };
  const isChosen = (row: number, column: number): boolean => {
    if (anchor === undefined) return false;
    const between = (value: number, one: number, other: number) =>
      value >= Math.min(one, other) && value <= Math.max(one, other);
    return between(row, at.row, anchor.row) && between(column, at.column, anchor.column);
  };
  const page = Math.max(1, Math.floor((box.current?.clientHeight ?? 400) / rowHeight) - 2);
  const back = (cell: Cell | undefined): void => {
    const row = cell === undefined ? -1 : order.indexOf(cell.row);
    if (row >= 0) go(row, cell!.column);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const { key, shiftKey } = event;
    const control = event.ctrlKey || event.metaKey;
    const last = header.length - 1;
    if (editing !== undefined) {
      if (key === "Escape") stop();
      else if (key === "Enter" || key === "Tab") {
        enter();
        if (key === "Enter") go(at.row + (shiftKey ? -1 : 1), at.column);
        else go(at.row, at.column + (shiftKey ? -1 : 1));
      } else return;
      event.preventDefault();
      return;
    }
    const moves: Readonly<Record<string, () => void>> = {
      ArrowDown: () => go(at.row + 1, at.column, shiftKey),
      ArrowUp: () => go(at.row - 1, at.column, shiftKey, shiftKey ? 0 : -1),
      ArrowLeft: () => go(at.row, at.column - 1, shiftKey, at.row),
      ArrowRight: () => go(at.row, at.column + 1, shiftKey, at.row),
      PageDown: () => go(at.row + page, at.column, shiftKey),
      PageUp: () => go(at.row - page, at.column, shiftKey),
      Home: () => go(control ? 0 : at.row, 0, shiftKey, control ? 0 : at.row),
      End: () => go(control ? order.length - 1 : at.row, last, shiftKey, at.row),
      Enter: () => (onHead ? onSort(at.column) : begin(textAt(at))),
      F2: () => begin(textAt(at)),
      Delete: () =>
        sheet.change(
          range()
            .flat()
            .map((spot) => ({ ...cellOf(spot), text: "" })),
        ),
    };
    if (control && key.toLowerCase() === "z") back(shiftKey ? sheet.redo() : sheet.undo());
    else if (control && key.toLowerCase() === "y") back(sheet.redo());
    else if (key === "Escape") {
      entering.current = false;
      setAnchor(undefined);
    } else if (key === " " && onHead) onSort(at.column);
    else if (key === "Tab" && entering.current) go(at.row, at.column + (shiftKey ? -1 : 1));
    else if (moves[key] !== undefined && (key !== "Delete" || (canEdit && !onHead))) {
      if (key.startsWith("Arrow")) entering.current = false;
      moves[key]();
    } else if (key.length === 1 && !control && !event.altKey) begin(key);
    else return;
    event.preventDefault();
  };
  const onPaste = (event: ClipboardEvent): void => {
    if (editing !== undefined || !canEdit || onHead) return;
    event.preventDefault();
    const cells = pasted(event.clipboardData?.getData("text/plain") ?? "");
    let next = rows.length;
    // Behind the last row shown, rows are new.
    const rowAt = Array.from({ length: cells.length }, (_, down) => {
      const row = order[at.row + down];
      if (row !== undefined && row < rows.length) return row;
      next += 1;
      return next - 1;
    });
    sheet.change(
      cells.flatMap((line, row) =>
        line.map((text, column): CellText => ({
          row: rowAt[row]!,
          column: at.column + column,
          text: text.trim(),
        })),
      ),
    );
  };
  const onCopy = (event: ClipboardEvent): void => {
    if (editing !== undefined) return;
    event.preventDefault();
    const [first = [], ...others] = range().map((line) => line.map(textAt));
    event.clipboardData?.setData(
      "text/plain",
      writeTable(first, others, { delimiter: "\t" }).replace(/\n$/, ""),
    );
  };
  const field = fieldAt(header[at.column] ?? "");
  const choices = field === undefined ? [] : choicesOf(field);
  const place = (column: number) =>
    column < kept
      ? { position: "sticky", left: offsets[column]!, width: widths[column]! }
      : { position: "absolute", left: offsets[column]!, width: widths[column]! };
  return (
    <div
      ref={box}
      class="grid-box"
      role="grid"
      tabIndex={0}
      aria-label="The file as a table"
      aria-rowcount={order.length + 1}
      aria-colcount={header.length}
      aria-readonly={!canEdit}
      aria-activedescendant={
        editing !== undefined
          ? undefined
          : onHead
            ? `head-${at.column}`
            : `cell-${at.row}-${at.column}`
      }
      onKeyDown={onKeyDown}
      onPaste={onPaste}
      onCopy={onCopy}
      // No taller than its rows: what stands below stays in sight.
      style={{ maxHeight: down.size + headHeight + barHeight }}
    >
      <div class="grid-head" role="row" aria-rowindex={1} style={{ width: offsets.at(-1)! }}>
        {columns.map((column) => (
          <div
            key={column}
            id={`head-${column}`}
            role="columnheader"
            aria-colindex={column + 1}
            aria-sort={sorted?.column === column ? sorted.way : "none"}
            class={`${column < kept ? "kept" : ""} ${onHead && column === at.column ? "here" : ""}`}
            style={place(column)}
            title={fieldAt(header[column]!)?.description ?? "a column of your own"}
            onClick={() => {
              if (editing !== undefined) enter();
              onSort(column);
            }}
          >
            {header[column]}
          </div>
        ))}
      </div>
      <div role="rowgroup" class="grid-rows" style={{ height: down.size, width: offsets.at(-1)! }}>
        {down.items.map(({ index, start }) => (
          <div
            key={order[index]}
            role="row"
            aria-rowindex={index + 2}
            class="grid-row"
            style={{ transform: `translateY(${start}px)` }}
          >
            {columns.map((column) => {
              const cell = cellOf({ row: index, column });
              const problem = problems.get(cellKey(cell));
              const isHere = index === at.row && column === at.column;
              const classes = [
                ...(column < kept ? ["kept"] : []),
                ...(problem === undefined ? [] : [problem.severity === "error" ? "bad" : "doubt"]),
                ...(isHere ? ["here"] : isChosen(index, column) ? ["chosen"] : []),
              ];
              return (
                <div
                  key={column}
                  id={`cell-${index}-${column}`}
                  role="gridcell"
                  aria-colindex={column + 1}
                  aria-selected={isHere || isChosen(index, column)}
                  {...(problem === undefined
                    ? {}
                    : { "aria-invalid": true, title: `${problem.message}; ${problem.mend}` })}
                  class={classes.join(" ")}
                  style={place(column)}
                  onMouseDown={(event) => {
                    if (isHere && editing !== undefined) return;
                    if (editing !== undefined) enter();
                    go(index, column, event.shiftKey);
                  }}
                  onDblClick={() => begin(textAt(at))}
                >
                  {isHere && editing !== undefined ? (
                    <input
                      ref={input}
                      type="text"
                      spellcheck={false}
                      autocomplete="off"
                      aria-label={`${header[column]}, row ${index + 1}`}
                      {...(choices.length === 0 ? {} : { list: "grid-choices" })}
                      value={editing}
                      onInput={(event) => setEditing(event.currentTarget.value)}
                      onBlur={enter}
                    />
                  ) : (
                    rows[cell.row]?.[column]
                  )}
                </div>
              );
            })}
          </div>
        ))}
      </div>
      <datalist id="grid-choices">
        {choices.map((choice) => (
          <option key={choice} value={choice} />
        ))}
      </datalist>
    </div>
  );
};
