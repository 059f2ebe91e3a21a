/** Rows of an older and a newer file, matched by what they are: added, removed, edited. */
import type { CsvTable } from "../csv/csv-table.js";
import { grouped } from "../records/grouped.js";
import { columnSpelling } from "../records/header-columns.js";

type Cells = Readonly<Record<string, string>>;
type FileRow = Readonly<{ line: number; cells: Cells }>;
/** Rows and their header, as `results.json` keeps them too. */
export type PlainTable = Pick<CsvTable, "header" | "rows">;

/** One row that is not the same in both files. */
export type ChangedRow = Readonly<{
  kind: "added" | "removed" | "edited";
  study: string;
  /** Arm, outcome, time and angle, as far as the row has them. */
  what: string;
  lineBefore: number | null;
  lineNow: number | null;
  /** Of an edited row, every cell that differs. */
  cells: readonly Readonly<{ column: string; before: string; now: string }>[];
}>;

/** What a row is, most telling first: pairs are sought by all of it, then by less. */
const keys = [
  [
    ...["study", "arm", "outcome", "week_measured", "test_angle_degrees", "test_side"],
    ...["test_mode", "test_site_percent", "statistic_of", "unit"],
  ],
  ["study", "arm", "outcome", "week_measured", "test_angle_degrees"],
  ["study", "arm", "outcome", "week_measured"],
  ["study", "arm", "outcome"],
] as const;

/** Columns that tell where a row is from, and enter no number. */
const onlyWords = new Set([
  ...["citation", "doi", "year", "source_location", "source_licence", "extracted_by"],
  ...["checked_by", "notes", "angle_convention"],
]);

/** A cell so that 5 and 5.0, or two spaces and one, are the same. */
const plain = (cell: string): string => {
  const text = cell.trim().replace(/\s+/g, " ");
  return text !== "" && Number.isFinite(Number(text)) ? String(Number(text)) : text;
};

const rowsOf = ({ header, rows }: PlainTable): readonly FileRow[] => {
  const columns = header.map(columnSpelling);
  return rows.map(({ line, cells }) => ({
    line,
    cells: Object.fromEntries(
      columns.flatMap((column, at) => {
        const cell = plain(cells[at] ?? "");
        return cell === "" || column === "" ? [] : [[column, cell] as const];
      }),
    ),
  }));
};

const differing = (before: Cells, now: Cells): ChangedRow["cells"] =>
  [...new Set([...Object.keys(before), ...Object.keys(now)])].flatMap((column) => {
    const [old, own] = [before[column] ?? "", now[column] ?? ""];
    return old === own ? [] : [{ column, before: old, now: own }];
  });

const whatOf = ({ cells }: FileRow): string =>
  [
    cells["arm"],
    cells["outcome"],
    cells["week_measured"] === undefined ? undefined : `week ${cells["week_measured"]}`,
    cells["test_angle_degrees"] === undefined ? undefined : `${cells["test_angle_degrees"]}°`,
  ]
    .filter((part) => part !== undefined)
    .join(", ");

const identity = (row: FileRow): string =>
  JSON.stringify(Object.entries(row.cells).sort(([a], [b]) => (a < b ? -1 : 1)));

/** Pairs of rows that share a key, those that differ in fewest cells first; whoever is paired leaves both lists. */
const paired = (
  before: Set<FileRow>,
  now: Set<FileRow>,
  keyOf: (row: FileRow) => string,
): readonly (readonly [FileRow, FileRow])[] => {
  const own = grouped([...now], keyOf);
  return [...grouped([...before], keyOf)].flatMap(([key, olds]) => {
    const pairs = olds
      .flatMap((old) =>
        (own.get(key) ?? []).map((one) => ({
          old,
          one,
          apart: differing(old.cells, one.cells).length,
        })),
      )
      .sort((a, b) => a.apart - b.apart);
    return pairs.flatMap(({ old, one }) => {
      if (!before.has(old) || !now.has(one)) return [];
      before.delete(old);
      now.delete(one);
      return [[old, one] as const];
    });
  });
};

/**
 * Every row that is not the same in both files, in the order of the newer file, removed rows last.
 *
 * A row is known by study, arm, outcome, time and angle, then by fewer of them, and never by its place; among several of
 * one name those are paired that differ in fewest cells. Columns may stand in another order, and a blank column is none.
 *
 * @source none: bookkeeping
 */
export const changedRows = (before: PlainTable, now: PlainTable): readonly ChangedRow[] => {
  const [olds, news] = [new Set(rowsOf(before)), new Set(rowsOf(now))];
  paired(olds, news, identity);
  const edited = keys.flatMap((key) =>
    paired(olds, news, ({ cells }) =>
      JSON.stringify(key.map((column) => (cells[column] ?? "").toLowerCase())),
    ),
  );
  const told = (kind: ChangedRow["kind"], old?: FileRow, one?: FileRow): ChangedRow => ({
    kind,
    study: (one ?? old)!.cells["study"] ?? "",
    what: whatOf((one ?? old)!),
    lineBefore: old?.line ?? null,
    lineNow: one?.line ?? null,
    cells: old === undefined || one === undefined ? [] : differing(old.cells, one.cells),
  });
  return [
    ...edited.map(([old, one]) => told("edited", old, one)),
    ...[...news].map((one) => told("added", undefined, one)),
  ]
    .sort((a, b) => a.lineNow! - b.lineNow!)
    .concat([...olds].map((old) => told("removed", old)));
};

/** Studies whose numbers, doses or people changed, in the order of the newer file; notes and references move nothing. */
export const studiesThatChanged = (rows: readonly ChangedRow[]): readonly string[] => [
  ...new Set(
    rows.flatMap(({ kind, study, cells }) =>
      kind !== "edited" || cells.some(({ column }) => !onlyWords.has(column)) ? [study] : [],
    ),
  ),
];
