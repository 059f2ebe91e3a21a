import { useMemo, useState } from "preact/hooks";
import { writeTable } from "../../csv/write-table.js";
import { codebookFields, columnOf, type FieldName } from "../../records/codebook.js";
import { columnSpelling } from "../../records/header-columns.js";
import { counted } from "../../tables/number-format.js";
import { useApp, useAppState } from "../app.js";
import { failureOf } from "../failure.js";
import { partsOf } from "../open-file.js";
import { saveFile } from "../save-file.js";
import { Choice } from "./choice.js";
import { fieldAt, Grid, type Spot } from "./grid/grid.js";
import { cellKey, useSheet } from "./grid/use-sheet.js";
import { useNarrow } from "./use-narrow.js";
import type { View } from "./view.js";

const asInFile = "as in the file";
const all = "all rows";
const withProblems = "rows with a problem";
/** Mends offered as buttons: an allowed value each, or the readings of a number. */
const mendsAtOnce = 8;

const focusGrid = (): void => document.querySelector<HTMLElement>(".grid-box")?.focus();

/** Numbers before words, each in its own order; blank cells last. */
const compared = (one: string, other: string): number => {
  if (one === "" || other === "") return one === other ? 0 : one === "" ? 1 : -1;
  const [a, b] = [Number(one), Number(other)];
  if (!Number.isNaN(a) && !Number.isNaN(b)) return a - b;
  return Number.isNaN(a) !== Number.isNaN(b) ? (Number.isNaN(a) ? 1 : -1) : one < other ? -1 : 1;
};

const GridOf = ({ at }: Readonly<{ at: number }>) => {
  const app = useApp();
  const sheet = useSheet(at);
  const { header, rows, problems } = sheet;
  const canEdit = !useNarrow();
  const [spot, setSpot] = useState<Spot>({ row: 0, column: 0 });
  const [text, setText] = useState("");
  const [shown, setShown] = useState(all);
  const [by, setBy] = useState(asInFile);
  const [frozen, setFrozen] = useState("1");
  const name = useAppState(({ file }) =>
    file === undefined ? "" : (partsOf(file)[at]?.name ?? ""),
  );
  const [, sortedBy = "", way] = /^(.*), (rising|falling)$/.exec(by) ?? [];
  const sorted = header.includes(sortedBy)
    ? ({
        column: header.indexOf(sortedBy),
        way: way === "falling" ? "descending" : "ascending",
      } as const)
    : undefined;
  const order = useMemo(() => {
    const wanted = text.trim().toLowerCase();
    const doubted = new Set([...problems.values()].map(({ row }) => row));
    const places = rows.flatMap((cells, row) =>
      (wanted === "" || cells.some((cell) => cell.toLowerCase().includes(wanted))) &&
      (shown === all || doubted.has(row))
        ? [row]
        : [],
    );
    if (sorted !== undefined)
      places.sort((a, b) => {
        const [one, other] = [rows[a]![sorted.column] ?? "", rows[b]![sorted.column] ?? ""];
        return sorted.way === "descending" && one !== "" && other !== ""
          ? compared(other, one)
          : compared(one, other);
      });
    // A new row stands behind all others.
    return canEdit && wanted === "" && shown === all ? [...places, rows.length] : places;
    // Sorted and chosen anew when asked, not at every letter: a row that was just typed does not jump.
  }, [text, shown, by, header, rows.length, shown === all ? undefined : problems, canEdit]);
  const cell = { row: order[spot.row] ?? rows.length, column: spot.column };
  const problem = problems.get(cellKey(cell)) ?? problems.get(cellKey({ ...cell, column: -1 }));
  const free = (Object.keys(codebookFields) as FieldName[])
    .map(columnOf)
    .filter((column) => !header.some((title) => columnSpelling(title) === column));
  const next = (): void => {
    const places = [...problems.values()]
      .map(({ row, column }) => ({ row: order.indexOf(row), column: Math.max(0, column) }))
      .filter(({ row }) => row !== -1)
      .sort((a, b) => a.row - b.row || a.column - b.column);
    const after = places.find(
      ({ row, column }) => row > spot.row || (row === spot.row && column > spot.column),
    );
    const found = after ?? places[0];
    if (found !== undefined) setSpot(found);
    focusGrid();
  };
  const save = async (form: "csv" | "xlsx"): Promise<void> => {
    await sheet.settle().catch((error: unknown) => app.store.set({ failure: failureOf(error) }));
    const filled = rows
      .filter((cells) => cells.some((one) => one !== ""))
      .map((cells) => header.map((_, column) => cells[column] ?? ""));
    const stem = name.replace(/\.\w+$/, "");
    if (form === "csv") return saveFile(`${stem}.csv`, writeTable(header, filled), "text/csv");
    const { writeWorkbook } = await import("../../workbook/write-workbook.js");
    saveFile(
      `${stem}.xlsx`,
      writeWorkbook(header, filled),
      "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    );
  };
  return (
    <>
      <div class="row grid-choices">
        <label class="wish">
          <span>Rows that hold</span>
          <input
            type="search"
            value={text}
            onInput={(event) => {
              setText(event.currentTarget.value);
              setSpot({ row: 0, column: spot.column });
            }}
          />
        </label>
        <Choice
          label="Show"
          value={shown}
          words={[all, withProblems]}
          onChange={(word) => {
            setShown(word);
            setSpot({ row: 0, column: spot.column });
          }}
        />
        <Choice
          label="Order"
          value={by}
          words={[
            asInFile,
            ...header.flatMap((column) => [`${column}, rising`, `${column}, falling`]),
          ]}
          onChange={setBy}
        />
        <Choice
          label="First columns kept in sight"
          value={frozen}
          words={["0", "1", "2", "3"]}
          onChange={setFrozen}
        />
      </div>
      <p class="quiet">
        {counted(rows.length, "row")}
        {order.length - (canEdit ? 1 : 0) < rows.length ? `, ${order.length} shown` : ""};{" "}
        {counted(problems.size, "cell")} with a problem.{" "}
        {canEdit
          ? "Type to change a cell, F2 to go into it, Enter and Tab to go on, Escape to leave it; Shift with arrows chooses several; copy and paste go to and from a spreadsheet. "
          : "On a narrow screen the table is for looking. "}
        A click on a column's name, or Enter there, puts the rows in its order.
      </p>
      <div class="row">
        <button type="button" disabled={!sheet.canUndo} onClick={() => sheet.undo()}>
          Undo
        </button>
        <button type="button" disabled={!sheet.canRedo} onClick={() => sheet.redo()}>
          Redo
        </button>
        <button type="button" disabled={problems.size === 0} onClick={next}>
          Next problem
        </button>
        {canEdit && spot.row >= 0 && problem !== undefined && problem.column !== -1
          ? (problem.instead ?? []).slice(0, mendsAtOnce).map((text) => (
              <button
                key={text}
                type="button"
                onClick={() => {
                  sheet.change([{ ...cell, text }]);
                  focusGrid();
                }}
              >
                Write {text}
              </button>
            ))
          : null}
      </div>
      <p
        class={`grid-told told ${problem === undefined ? "quiet" : problem.severity === "error" ? "bad" : ""}`}
        aria-live="polite"
      >
        <strong>{header[spot.column] ?? ""}</strong>
        {problem === undefined
          ? `: ${fieldAt(header[spot.column] ?? "")?.description ?? "a column of your own"}`
          : `: ${problem.message}; ${problem.mend}`}
      </p>
      <Grid
        key={at}
        sheet={sheet}
        order={order}
        frozen={Number(frozen)}
        canEdit={canEdit}
        at={spot}
        sorted={sorted}
        onMove={setSpot}
        onSort={(column) => {
          const title = header[column]!;
          // Rising, then falling, then as it was.
          setBy(
            sorted?.column !== column
              ? `${title}, rising`
              : sorted.way === "ascending"
                ? `${title}, falling`
                : asInFile,
          );
        }}
      />
      <div class="row">
        {canEdit ? (
          <label class="wish">
            <span>A further column</span>
            <select
              value=""
              onChange={(event) => {
                if (event.currentTarget.value !== "") sheet.addColumn(event.currentTarget.value);
                event.currentTarget.value = "";
              }}
            >
              <option value="">of the codebook</option>
              {free.map((column) => (
                <option key={column} value={column}>
                  {column}
                </option>
              ))}
            </select>
          </label>
        ) : null}
        <button type="button" class="main" disabled={!sheet.whole} onClick={() => void save("csv")}>
          Save as CSV
        </button>
        <button type="button" disabled={!sheet.whole} onClick={() => void save("xlsx")}>
          Save as a workbook (.xlsx)
        </button>
      </div>
      <p class="quiet">
        What you change is kept on this machine, in this browser; Data has it when the page is
        opened again, and deletes it when told to.
      </p>
    </>
  );
};

const GridBody = () => {
  const file = useAppState((state) => state.file);
  const [chosen, choose] = useState("0");
  if (file === undefined) return null;
  const names = partsOf(file).map(({ name }, at) => ({ at: String(at), name }));
  const at = Math.min(Number(chosen), names.length - 1);
  return (
    <>
      {names.length < 2 ? null : (
        <Choice
          label="File"
          value={String(at)}
          words={names.map((one) => one.at)}
          shown={(one) => names[Number(one)]?.name ?? ""}
          onChange={choose}
        />
      )}
      <GridOf key={at} at={at} />
    </>
  );
};

/** The open file as a table to be changed: problems at their cells, kept on this machine, saved as CSV or a workbook. */
export const gridView: View = {
  id: "grid",
  label: "As a table",
  needsFile: true,
  shows: "Every row of the file, to be changed in its cell.",
  Body: GridBody,
};
