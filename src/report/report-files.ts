import type { EffectSet } from "../effects/effect.js";
import type { Figure } from "../figures/figure.js";
import { tableToCsv } from "../tables/table-to-csv.js";
import { assumptionsTable } from "../tables/assumptions-table.js";
import { completenessTable } from "../tables/completeness-table.js";
import { effectsTable } from "../tables/effects-table.js";
import { issuesTable } from "../tables/issues-table.js";
import type { Table } from "../tables/table.js";
import type { Analysis } from "./analysis.js";
import { citationSentence } from "./citation-sentence.js";
import { methodsParagraph } from "./methods-paragraph.js";
import { pooledTables } from "./pooled-tables.js";
import { shownResult } from "./pooled-answer.js";
import { holdbookVersion } from "./version.js";

/** A file of the report that needs no drawing: name below the report's directory, and text. */
export type ReportFile = Readonly<{ name: string; content: string }>;

const plainTable = (
  id: string,
  labels: readonly string[],
  rows: readonly (readonly string[])[],
): Table => ({
  id,
  title: id,
  columns: labels.map((label) => ({ key: label, label, align: "left" })),
  rows: rows.map((cells) =>
    Object.fromEntries(labels.map((label, index) => [label, cells[index] ?? ""])),
  ),
  notes: [],
});

const rowUses = (sets: readonly EffectSet[]): Table =>
  plainTable(
    "row-uses",
    ["contrast", "line", "use", "reason"],
    sets.flatMap(({ contrast, rowUses: uses }) =>
      uses.map(({ line, use, reason }) => [contrast, String(line), use, reason]),
    ),
  );

const csv = (table: Table, name = table.id): ReportFile => ({
  name: `tables/${name}.csv`,
  content: tableToCsv(table),
});

/** All results as one JSON object: exact numbers, nothing rounded. */
const resultsJson = (analysis: Analysis): string =>
  JSON.stringify(
    {
      holdbook: holdbookVersion,
      file: analysis.source.name,
      fingerprint: analysis.source.fingerprint,
      invented: analysis.source.invented,
      cite: citationSentence(analysis.source),
      rows: {
        inFile: analysis.records.rowsInFile,
        fates: analysis.records.fates,
        issues: analysis.records.issues,
        notes: analysis.records.notes,
        unknownColumns: analysis.records.unknownColumns,
      },
      answers: analysis.answers.map(({ label, family, contrast, set, answer }) => ({
        label,
        family,
        contrast,
        scale: set.scale,
        result: shownResult(answer) ?? null,
        reasonForNone: answer.kind === "none" ? answer.reason : null,
        effects: set.effects.map(({ row, comparatorRow, ...effect }) => ({
          ...effect,
          line: row.line,
          comparatorLine: comparatorRow?.line ?? null,
          outcome: row.outcome,
        })),
      })),
      assumptions: analysis.sets[0]?.assumptions ?? [],
    },
    // JSON has no infinity: unlimited degrees of freedom (a normal reference) become null.
    (_, value: unknown) => (value === Infinity ? null : value),
    2,
  );

/**
 * The report's tables as CSV, all results as JSON, the methods paragraph as text, and each figure's
 * specification and numbers.
 *
 * @param analysis  from `analyse`
 * @param figures   every figure of the report
 */
export const reportFiles = (
  analysis: Analysis,
  figures: readonly Figure[],
  moreTables: readonly Table[] = [],
): readonly ReportFile[] => {
  const { records, sets } = analysis;
  const methods = methodsParagraph(analysis);
  const works = methods.sources.map(
    ({ citation, doi }) => `- ${citation}${doi === undefined ? "" : `. https://doi.org/${doi}`}`,
  );
  return [
    { name: "results.json", content: `${resultsJson(analysis)}\n` },
    { name: "methods.txt", content: [methods.sentences.join(" "), "", ...works, ""].join("\n") },
    csv(
      plainTable(
        "row-fates",
        ["line", "fate", "reason"],
        records.fates.map(({ line, fate, reason }) => [String(line), fate, reason]),
      ),
    ),
    csv(rowUses(sets)),
    csv(issuesTable(records.issues)),
    csv(completenessTable(records.completeness)),
    ...pooledTables(analysis).map((table) => csv(table)),
    ...sets.map((set) => csv(effectsTable(set), `effects-${set.contrast}`)),
    ...sets.slice(0, 1).map(({ assumptions }) => csv(assumptionsTable(assumptions))),
    ...moreTables.map((table) => csv(table)),
    ...figures.flatMap((figure) => [
      {
        name: `figures/${figure.id}.json`,
        content: `${JSON.stringify(figure.specification, null, 1)}\n`,
      },
      { name: `figures/${figure.id}.csv`, content: figureCsv(figure) },
    ]),
  ];
};

/** The numbers a figure plots, as CSV. */
export const figureCsv = ({ id, data }: Figure): string => tableToCsv(figureTable(id, data));

const figureTable = (
  id: string,
  data: readonly Readonly<Record<string, string | number | null>>[],
): Table => {
  const labels = [...new Set(data.flatMap((row) => Object.keys(row)))];
  return plainTable(
    id,
    labels,
    data.map((row) => labels.map((label) => String(row[label] ?? ""))),
  );
};
