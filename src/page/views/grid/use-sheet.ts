import { useEffect, useRef, useState } from "preact/hooks";
import { useApp } from "../../app.js";
import type { CellProblem } from "../../jobs/grid-job.js";

/** A cell by the places of its row and column in the file. */
export type Cell = Readonly<{ row: number; column: number }>;
export type CellText = Cell & Readonly<{ text: string }>;
type Change = CellText & Readonly<{ before: string }>;

/** Rows that come in one message: more would hold the page up. */
const rowsAtOnce = 250;
/** How long the hand rests before the file is read again. */
const restMilliseconds = 500;

export type SheetState = Readonly<{
  header: readonly string[];
  rows: readonly (readonly string[])[];
  /** Whether all rows have come. */
  whole: boolean;
  problems: ReadonlyMap<string, CellProblem>;
  canUndo: boolean;
  canRedo: boolean;
  /** Changes cells in one step that can be taken back. */
  change: (cells: readonly CellText[]) => void;
  addColumn: (name: string) => void;
  undo: () => Cell | undefined;
  redo: () => Cell | undefined;
  /** Has the file read again at once where changes wait. */
  settle: () => Promise<void>;
}>;

export const cellKey = ({ row, column }: Cell): string => `${row} ${column}`;

const byCell = (problems: readonly CellProblem[]): ReadonlyMap<string, CellProblem> => {
  const first = new Map<string, CellProblem>();
  for (const problem of problems) {
    const known = first.get(cellKey(problem));
    if (known === undefined || (known.severity !== "error" && problem.severity === "error"))
      first.set(cellKey(problem), problem);
  }
  return first;
};

/** One of the open files as rows to be changed: here at once, in the file and checked when the hand rests. */
export const useSheet = (at: number): SheetState => {
  const app = useApp();
  const sheet = useRef<{ header: readonly string[]; rows: (readonly string[])[] }>({
    header: [],
    rows: [],
  });
  const done = useRef<readonly Change[][]>([]) as { current: Change[][] };
  const undone = useRef<Change[][]>([]);
  const waiting = useRef(new Map<string, CellText>());
  const timer = useRef(0);
  const remembered = useRef(false);
  const [problems, setProblems] = useState<ReadonlyMap<string, CellProblem>>(new Map());
  const [whole, setWhole] = useState(false);
  const [, draw] = useState(0);
  const changed = (): void => draw((before) => before + 1);

  useEffect(() => {
    let wanted = true;
    const load = async (): Promise<void> => {
      sheet.current = { header: [], rows: [] };
      for (let from = 0, of = 1; from < of; from += rowsAtOnce) {
        const piece = await app.worker.ask("sheet", { at, from, count: rowsAtOnce });
        if (!wanted) return;
        of = piece.of;
        if (from === 0) setProblems(byCell(piece.problems));
        sheet.current.header = piece.header;
        for (const cells of piece.rows) sheet.current.rows.push(cells);
        changed();
      }
      setWhole(true);
    };
    void load().catch(() => setWhole(true));
    return () => {
      wanted = false;
      clearTimeout(timer.current);
      void settle();
    };
  }, [at]);

  const settle = async (): Promise<void> => {
    clearTimeout(timer.current);
    const cells = [...waiting.current.values()];
    if (cells.length === 0) return;
    waiting.current.clear();
    const { header } = sheet.current;
    const answer = await app.worker.ask("edit", { at, header, cells });
    app.mendTable(answer.file, answer.check, !remembered.current);
    remembered.current = true;
    setProblems(byCell(answer.problems));
  };
  const put = (cells: readonly CellText[]): void => {
    const { header, rows } = sheet.current;
    for (const cell of cells) {
      while (rows.length <= cell.row) rows.push(header.map(() => ""));
      rows[cell.row] = header.map((_, column) =>
        column === cell.column ? cell.text : (rows[cell.row]![column] ?? ""),
      );
      waiting.current.set(cellKey(cell), cell);
    }
    changed();
    clearTimeout(timer.current);
    timer.current = window.setTimeout(() => void settle(), restMilliseconds);
  };
  const change = (cells: readonly CellText[]): void => {
    const step = cells
      .filter(({ column }) => column < sheet.current.header.length)
      .map((cell): Change => ({
        ...cell,
        before: sheet.current.rows[cell.row]?.[cell.column] ?? "",
      }))
      .filter(({ text, before }) => text !== before);
    if (step.length === 0) return;
    done.current.push(step);
    undone.current = [];
    put(step);
  };
  const move = (from: Change[][], to: Change[][], back: boolean): Cell | undefined => {
    const step = from.pop();
    if (step === undefined) return undefined;
    to.push(step);
    put(step.map((one) => ({ ...one, text: back ? one.before : one.text })));
    return step[0];
  };
  return {
    ...sheet.current,
    whole,
    problems,
    canUndo: done.current.length > 0,
    canRedo: undone.current.length > 0,
    change,
    addColumn: (name) => {
      sheet.current.header = [...sheet.current.header, name];
      changed();
    },
    undo: () => move(done.current, undone.current, true),
    redo: () => move(undone.current, done.current, false),
    settle,
  };
};
