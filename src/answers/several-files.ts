/** Several files opened as one: rows under one header, each known by its own file and line. */
import type { CsvTable } from "../csv/csv-table.js";
import { holdsInvented } from "../demo/demo-notice.js";
import { CallError, type Note } from "../errors.js";
import { grouped } from "../records/grouped.js";
import { columnSpelling } from "../records/header-columns.js";
import { openEvidence, type Evidence } from "./evidence.js";
import type { FileLines } from "./named-lines.js";

/** A file as it was read. */
export type ReadFile = Readonly<{ name: string; fingerprint: string; table: CsvTable }>;

/** Lines of a further file begin above the next whole thousand, so that they can be read off. */
const step = 1000;

const lastLine = ({ rows, issues }: CsvTable): number =>
  Math.max(1, rows.at(-1)?.line ?? 1, ...issues.map(({ line }) => line));

/** One table of several: columns by their spelling in the codebook, in the order in which they are first met. */
const joined = (files: readonly ReadFile[], above: readonly number[]): CsvTable => {
  const tables = files.map(({ table }) => table);
  const names = files.map(({ name }) => name);
  const header: string[] = [];
  const placeOf = new Map<string, number>();
  const places = tables.map((table) => {
    const met = new Map<string, number>();
    return table.header.map((title) => {
      const spelt = columnSpelling(title);
      const count = (met.get(spelt) ?? 0) + 1;
      met.set(spelt, count);
      const key = `${spelt} ${count}`;
      const place = placeOf.get(key) ?? header.push(title) - 1;
      placeOf.set(key, place);
      return place;
    });
  });
  return {
    ...tables[0]!,
    header,
    rows: tables.flatMap(({ rows }, file) =>
      rows.map(({ line, cells }) => {
        const whole = header.map(() => "");
        for (const [at, place] of places[file]!.entries()) whole[place] = cells[at] ?? "";
        return { line: line + above[file]!, cells: whole };
      }),
    ),
    issues: tables.flatMap(({ issues }, file) =>
      issues.map((issue) =>
        issue.line === 0
          ? { ...issue, message: `${names[file]!}: ${issue.message}` }
          : { ...issue, line: issue.line + above[file]! },
      ),
    ),
    notes: tables.flatMap(({ notes }) => notes),
  };
};

const firstNames = (names: readonly string[]): string =>
  names.length > 6
    ? `${names.slice(0, 6).join(", ")} and ${names.length - 6} more`
    : names.join(", ");

/** What stands in more than one file: studies under one name, and papers under two. */
const sharedNotes = ({ records }: Evidence, files: readonly FileLines[]): readonly Note[] => {
  const fileOf = (line: number) => files.findLast(({ above }) => line > above)!.name;
  const isShared = (rows: readonly Readonly<{ line: number }>[]) =>
    new Set(rows.map(({ line }) => fileOf(line))).size > 1;
  const { rows } = records;
  const studies = [...grouped(rows, ({ study }) => study)].filter(([, own]) => isShared(own));
  const papers = [...grouped(rows, ({ doi }) => doi?.toLowerCase() ?? "")].flatMap(([doi, own]) => {
    const names = [...new Set(own.map(({ study, cohort }) => cohort ?? study))];
    return doi === "" || names.length < 2 || !isShared(own)
      ? []
      : [`${names.join(" and ")} have one DOI (${doi})`];
  });
  return [
    ...(studies.length === 0
      ? []
      : [
          {
            code: "study-in-several-files" as const,
            message: `more than one file has rows of ${firstNames(studies.map(([study]) => study))}: the same people, counted as one study`,
          },
        ]),
    ...papers.map((names) => ({
      code: "study-in-several-files" as const,
      message: `${names}: if they are the same people, give them one name in cohort`,
    })),
  ];
};

/**
 * Several files opened as one.
 *
 * @param files at least one; the first gives the name that comes first
 * @param fingerprint of all of them together
 * @throws {CallError} "invented-and-real" where only some hold invented rows, "ready-effects" where only some are tables
 *   of ready effects
 * @source none: bookkeeping
 */
export const openFiles = (files: readonly ReadFile[], fingerprint: string): Evidence => {
  const [first, ...others] = files as readonly [ReadFile, ...ReadFile[]];
  if (others.length === 0) return openEvidence(first);
  const opened = files.map(openEvidence);
  const names = (of: readonly Evidence[]) => of.map(({ source }) => source.name).join(" and ");
  const invented = opened.filter(({ source }) => source.invented);
  if (invented.length > 0 && invented.length < files.length)
    throw new CallError({
      code: "invented-and-real",
      where: "opening several files as one",
      needs: "files that are all real, or all invented",
      got: `invented rows in ${names(invented)}, beside ${names(opened.filter(({ source }) => !source.invented))}`,
      try: "invented rows are no evidence and are never mixed with real ones: open them apart",
    });
  const ready = opened.filter(({ kind }) => kind === "ready effects");
  if (ready.length > 0 && ready.length < files.length)
    throw new CallError({
      code: "ready-effects",
      where: "opening several files as one",
      needs: "files in the codebook's columns, or tables of ready effects alone",
      got: `ready effects in ${names(ready)} only`,
    });
  const lines: FileLines[] = [];
  let above = 0;
  for (const { name, table } of files) {
    lines.push({ name, above });
    above = Math.ceil((above + lastLine(table)) / step) * step;
  }
  const table = joined(
    files,
    lines.map((file) => file.above),
  );
  const evidence = openEvidence({
    name: files.map(({ name }) => name).join(" with "),
    fingerprint,
    table,
  });
  const notes = [...evidence.records.notes, ...sharedNotes(evidence, lines)];
  return {
    ...evidence,
    source: { ...evidence.source, invented: holdsInvented(table.rows) },
    records: { ...evidence.records, notes },
    files: lines,
  };
};
