import type { Figure } from "../figures/figure.js";
import { plainTable, type Table } from "../tables/table.js";
import { tableToCsv } from "../tables/table-to-csv.js";
import { citationSentence } from "./citation-sentence.js";
import { methodsParagraph } from "./methods-paragraph.js";
import { answersTo, placedAnswers, type Report } from "./report-part.js";
import { holdbookVersion } from "../answers/version.js";

/** A file of the report that needs no drawing: name below the report's directory, and text. */
export type ReportFile = Readonly<{ name: string; content: string }>;

const indented = (value: unknown): string => JSON.stringify(value, null, 2);

/** Everything a report says as one JSON object, answer by answer: exact numbers, nothing rounded. */
const resultsJson = function* (report: Report): Generator<string> {
  const [file] = answersTo(report, "check");
  const head = indented({
    holdbook: holdbookVersion,
    file: report.source.name,
    fingerprint: report.source.fingerprint,
    invented: report.source.invented,
    cite: citationSentence(report.source),
    rows: {
      inFile: file?.data.rowsInFile ?? 0,
      fates: file?.data.fates ?? [],
      issues: file?.data.issues ?? [],
      notes: file?.data.notes ?? [],
      unknownColumns: file?.data.unknownColumns ?? [],
    },
  });
  yield head.slice(0, -2);
  let before = "";
  if (report.table !== undefined) {
    const { header, rows } = report.table;
    yield `,\n  "table": {\n    "header": ${JSON.stringify(header)},\n    "rows": [`;
    for (const row of rows) {
      yield `${before}\n      ${JSON.stringify(row)}`;
      before = ",";
    }
    yield "\n    ]\n  }";
  }
  yield `,\n  "answers": [`;
  before = "";
  for (const { id, title, answer } of placedAnswers(report)) {
    const one = indented({ id, title, headline: answer.headline, ...answer.data });
    yield `${before}\n    ${one.replaceAll("\n", "\n    ")}`;
    before = ",";
  }
  yield `${before === "" ? "" : "\n  "}]\n}\n`;
};

/** Tables under names that are there once: where two answers use the same, the answer's own stands before it. */
const namedTables = (report: Report): readonly Table[] => {
  const tables = placedAnswers(report).flatMap(({ id, answer }) =>
    answer.tables.map((table) => ({ id, table })),
  );
  const named = new Map<string, Table>();
  for (const { id, table } of tables)
    named.set(named.has(table.id) ? `${id}-${table.id}` : table.id, table);
  return [...named].map(([id, table]) => ({ ...table, id }));
};

/**
 * The report's tables as CSV, the data of all answers as JSON, and the methods paragraph as text, each in pieces that
 * are made when they are asked for: of a long file they are too much to have at once.
 *
 * @source none: an arrangement of answers
 */
export const reportFilePieces = function* (
  report: Report,
): Generator<Readonly<{ name: string; pieces: Iterable<string> }>> {
  const { sentences, sources } = methodsParagraph(report);
  const works = sources.map(
    ({ citation, doi }) => `- ${citation}${doi === undefined ? "" : `. https://doi.org/${doi}`}`,
  );
  yield { name: "results.json", pieces: resultsJson(report) };
  yield { name: "methods.txt", pieces: [[sentences.join(" "), "", ...works, ""].join("\n")] };
  for (const table of namedTables(report))
    yield { name: `tables/${table.id}.csv`, pieces: [tableToCsv(table)] };
};

/**
 * The files of `reportFilePieces`, each as one text.
 *
 * @source none: an arrangement of answers
 */
export const reportFiles = (report: Report): readonly ReportFile[] =>
  [...reportFilePieces(report)].map(({ name, pieces }) => ({
    name,
    content: [...pieces].join(""),
  }));

/** The numbers a figure plots, as CSV. */
export const figureCsv = ({ id, data }: Figure): string => {
  const labels = [...new Set(data.flatMap((row) => Object.keys(row)))];
  return tableToCsv(
    plainTable(
      id,
      labels,
      data.map((row) => labels.map((label) => String(row[label] ?? ""))),
    ),
  );
};

/** A figure's specification and the numbers it plots. */
export const figureTextFiles = (figure: Figure): readonly ReportFile[] => [
  {
    name: `figures/${figure.id}.json`,
    content: `${JSON.stringify(figure.specification, null, 1)}\n`,
  },
  { name: `figures/${figure.id}.csv`, content: figureCsv(figure) },
];
