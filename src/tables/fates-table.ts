import { formatCount, formatPercent } from "./number-format.js";
import { csvNumbers, csvTexts, type Column, type Table } from "./table.js";

/** What became of a row: of one that was only read, or of one on its way to an average. */
type Fate = Readonly<{ line: number; fate: string; reason: string; wanted?: string }>;

const fateOrder = [
  "averaged",
  "kept, not averaged",
  "used",
  "used with a warning",
  "set aside",
  "refused",
];

const columns = [
  { key: "fate", label: "Fate", align: "left" },
  { key: "rows", label: "Rows", align: "right" },
  { key: "share", label: "Share", align: "right" },
  { key: "reason", label: "Reason", align: "left" },
  { key: "lines", label: "Lines", align: "left" },
] as const satisfies readonly Column[];

const wantedColumn = { key: "wanted", label: "What would change it", align: "left" } as const;

/** More lines than this are counted, not listed: the eye looks up a few and the CSV has all. */
const linesShown = 8;

const lineList = (lines: readonly number[]): string => {
  const shown = lines.slice(0, linesShown).join(", ");
  const more = lines.length - linesShown;
  return more > 0 ? `${shown} and ${formatCount(more)} more` : shown;
};

/**
 * What became of the rows of a file, grouped by fate and reason; the counts add up to the file.
 *
 * @param fates one per row of the file
 */
export const fatesTable = (fates: readonly Fate[]): Table => {
  const groups = new Map<string, Omit<Required<Fate>, "line"> & { lines: number[] }>();
  for (const { line, fate, reason, wanted = "" } of fates) {
    const key = JSON.stringify([fate, reason, wanted]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { fate, reason, wanted, lines: [line] });
    else group.lines.push(line);
  }
  const ordered = [...groups.values()].sort(
    (first, second) =>
      fateOrder.indexOf(first.fate) - fateOrder.indexOf(second.fate) ||
      second.lines.length - first.lines.length,
  );
  const isToldWhat = fates.some(({ wanted }) => wanted !== undefined);
  const wantedColumns = isToldWhat ? [wantedColumn] : [];
  return {
    id: "row-fates",
    title: `What became of the ${formatCount(fates.length)} rows`,
    columns: [...columns.slice(0, -1), ...wantedColumns, ...columns.slice(-1)],
    csvColumns: [
      ...csvTexts("fate"),
      ...csvNumbers("rows"),
      ...csvTexts("reason", ...wantedColumns.map(({ key }) => key), "allLines"),
    ],
    rows: ordered.map(({ fate, reason, wanted, lines }) => ({
      fate,
      rows: formatCount(lines.length),
      share: formatPercent((100 * lines.length) / fates.length),
      reason,
      ...(isToldWhat ? { wanted } : {}),
      lines: lineList(lines),
      allLines: lines.join(" "),
    })),
    notes: [
      "Every row of the file is counted once; lines are the file's own, with the header as line 1.",
    ],
  };
};
