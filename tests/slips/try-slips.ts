/** Types every slip at every row, arm and study that can have it, and counts how many the reader notices. */
import type { CsvTable } from "../../src/csv/csv-table.js";
import { readRecords } from "../../src/records/read-records.js";
import type { RecordSet } from "../../src/records/record-set.js";
import type { SlipFile } from "./slip-files.js";
import { rounded, roundedColumns, slipKinds } from "./slip-kinds.js";
import type { Cells, Level, SlipKind } from "./slip-kinds.js";

/** Half of a file's studies, by a hash of their names (FNV-1a, 32 bits): even is tuned on, odd is reported. */
export const isTuned = (study: string): boolean => {
  let hash = 2_166_136_261;
  for (const character of study) {
    hash ^= character.codePointAt(0) ?? 0;
    hash = Math.imul(hash, 16_777_619) >>> 0;
  }
  return hash % 2 === 0;
};

/** Park and Miller's multiplicative generator: the same slips on every machine. */
const stream = (seed: number) => {
  let state = seed;
  return (): number => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
};

/** One slip typed and looked for. */
export type Tried = Readonly<{
  file: string;
  kind: string;
  level: Level;
  study: string;
  lines: readonly number[];
  tuned: boolean;
  /** A new doubt about the slipped study, or a row that is refused. */
  noticed: boolean;
  /** One of those doubts names this kind of slip. */
  named: boolean;
}>;

export const sameStudyTwice = "same study under another name, rounded";

type Options = Readonly<{
  /** Every how many-th place is tried. */
  step?: number;
  kinds?: readonly string[];
}>;

const cellsOf = (table: CsvTable, index: number): Cells =>
  Object.fromEntries(
    table.header.map((column, place) => [column, table.rows[index]?.cells[place] ?? ""]),
  );

const doubtKeys = (records: RecordSet): ReadonlyMap<string, number> => {
  const keys = new Map<string, number>();
  for (const { line, code, column } of records.issues) {
    const key = `${line}|${code}|${column}`;
    keys.set(key, (keys.get(key) ?? 0) + 1);
  }
  return keys;
};

/** Places of a file at one level: the rows that a slip changes alike. */
const placesAt = (rows: readonly Cells[], level: Level): readonly (readonly number[])[] => {
  const groups = new Map<string, number[]>();
  rows.forEach(({ study = "", arm = "" }, i) => {
    const key = level === "row" ? String(i) : level === "arm" ? `${study}|${arm}` : study;
    groups.set(key, [...(groups.get(key) ?? []), i]);
  });
  return [...groups.values()];
};

/**
 * Each slip typed by itself into an otherwise unchanged file.
 *
 * A slip of a whole arm or study counts where it changes more than one row, or the row's would be counted again.
 */
export const trySlips = (
  { name, table: shipped }: SlipFile,
  { step = 1, kinds }: Options = {},
): readonly Tried[] => {
  // What was confirmed are the numbers as they were, not the slipped ones.
  const confirmed = shipped.header.indexOf("confirmed");
  const table: CsvTable = {
    ...shipped,
    rows: shipped.rows.map((row) => ({
      ...row,
      cells: row.cells.map((cell, place) => (place === confirmed ? "" : cell)),
    })),
  };
  const rows = table.rows.map((_, i) => cellsOf(table, i));
  const studies = new Map(
    placesAt(rows, "study").map((place) => [
      rows[place[0] ?? 0]?.study ?? "",
      place.map((i) => rows[i] ?? {}),
    ]),
  );
  const before = doubtKeys(readRecords(table));
  const pick = stream(20_261_126);
  let places = 0;
  const look = (
    kind: Pick<SlipKind, "name" | "named">,
    level: Level,
    slipped: CsvTable,
    at: readonly number[],
    extra: readonly number[] = [],
  ): Tried => {
    const study = rows[at[0] ?? 0]?.study ?? "";
    const lines = at.map((i) => table.rows[i]?.line ?? 0);
    const around = new Set([
      ...extra,
      ...rows.flatMap((row, i) => (row.study === study ? [table.rows[i]?.line ?? 0] : [])),
    ]);
    const records = readRecords(slipped);
    const after = doubtKeys(records);
    const fresh = [...after].flatMap(([key, count]) => {
      const [line = "", code = ""] = key.split("|");
      return count > (before.get(key) ?? 0) && around.has(Number(line)) ? [code] : [];
    });
    return {
      file: name,
      kind: kind.name,
      level,
      study,
      lines,
      tuned: isTuned(study),
      noticed: fresh.length > 0,
      named: fresh.some((code) => kind.named.includes(code)),
    };
  };
  const tried: Tried[] = [];
  for (const kind of slipKinds) {
    if (kinds !== undefined && !kinds.includes(kind.name)) continue;
    for (const level of kind.levels) {
      for (const place of placesAt(rows, level)) {
        // The same time of measurement along an arm or a study.
        const drawn = pick();
        const changed = place.flatMap((i) => {
          const next = kind.slip(
            rows[i] ?? {},
            () => drawn,
            studies.get(rows[i]?.study ?? "") ?? [],
          );
          return next === undefined ? [] : [[i, next] as const];
        });
        if (changed.length < (level === "row" ? 1 : 2)) continue;
        const arms = new Set(changed.map(([i]) => rows[i]?.arm));
        if (level === "study" && arms.size < 2) continue;
        places += 1;
        if (places % step !== 0) continue;
        const next = new Map(changed);
        const slipped = {
          ...table,
          rows: table.rows.map((row, i) => {
            const cells = next.get(i);
            return cells === undefined
              ? row
              : { ...row, cells: table.header.map((column) => cells[column] ?? "") };
          }),
        };
        tried.push(look(kind, level, slipped, [...next.keys()]));
      }
    }
  }
  if (kinds === undefined || kinds.includes(sameStudyTwice)) {
    for (const place of placesAt(rows, "study")) {
      const usable = place.filter((i) => (rows[i]?.pre_mean ?? "") !== "");
      if (usable.length === 0) continue;
      places += 1;
      if (places % step !== 0) continue;
      const last = table.rows.at(-1)?.line ?? 1;
      const copies = place.map((i, k) => ({
        line: last + 1 + k,
        cells: table.header.map((column) => {
          const cell = rows[i]?.[column] ?? "";
          if (column === "study" || column === "arm") return `${cell} again`;
          return roundedColumns.includes(column) ? rounded(cell) : cell;
        }),
      }));
      const slipped = { ...table, rows: [...table.rows, ...copies] };
      const kind = { name: sameStudyTwice, named: ["same-people-twice"] };
      tried.push(
        look(
          kind,
          "study",
          slipped,
          place,
          copies.map(({ line }) => line),
        ),
      );
    }
  }
  return tried;
};
