import { fileURLToPath } from "node:url";
import { demoNotice, isDemoRegister } from "../demo/demo-notice.js";
import { readBytes } from "../host/read-bytes.js";
import { protocolList } from "../projection/protocol-list.js";
import { readRecords } from "../records/read-records.js";
import { analyse, type Analysis } from "../report/analysis.js";
import { answerSentence } from "../report/answer-sentence.js";
import { citationSentence } from "../report/citation-sentence.js";
import { pooledTables } from "../report/pooled-tables.js";
import type { ReportWishes } from "../report/report-section.js";
import { reportSections } from "../report/report-sections.js";
import { fatesTable } from "../tables/fates-table.js";
import { tableToText } from "../tables/table-to-text.js";
import {
  withAnalysisOptions,
  effectsOptionsOf,
  chosenRows,
  type AnalysisCommandOptions,
} from "./analysis-options.js";
import type { CommandRegistration } from "./commands.js";
import { readInput } from "./read-input.js";
import { refusedRowsLine, requireRows } from "./refused-rows.js";
import { writeReport } from "./write-report.js";
import type { Terminal } from "./terminal.js";

/** Where reports go when nobody says otherwise. */
export const defaultReportDirectory = "holdbook-report";

const demoFile = fileURLToPath(new URL("../../data/demo-register.csv", import.meta.url));

const analysed = async (
  path: string,
  options: AnalysisCommandOptions,
  terminal: Terminal,
): Promise<Analysis> => {
  terminal.progress(`reading ${path}`);
  const file = await readInput(path);
  terminal.progress(`checking ${file.table.rows.length} rows`);
  const all = readRecords(file.table);
  requireRows(all);
  const records = { ...all, rows: chosenRows(all.rows, options.where) };
  const { contrast: _contrast, ...effects } = effectsOptionsOf(options);
  return analyse(
    { name: file.name, fingerprint: file.fingerprint, invented: isDemoRegister(records.rows) },
    records,
    { effects },
    terminal.progress,
  );
};

const summary = (analysis: Analysis, terminal: Terminal): string =>
  [
    ...(analysis.source.invented ? [demoNotice] : []),
    tableToText(fatesTable(analysis.records.fates), { width: terminal.width }),
    ...refusedRowsLine(analysis.records),
    ...pooledTables(analysis).map((table) =>
      tableToText({ ...table, notes: table.notes.slice(0, 1) }, { width: terminal.width }),
    ),
    analysis.answers
      .map((answer) => `${answer.label}:\n  ${answerSentence(answer, analysis.confidence)}`)
      .join("\n"),
  ].join("\n\n");

/** The main job: analyses a file, writes its report and prints a summary that says where it is. */
export const mainJob = async (
  path: string,
  directory: string,
  options: AnalysisCommandOptions,
  terminal: Terminal,
  wishes: ReportWishes = {},
): Promise<void> => {
  const analysis = await analysed(path, options, terminal);
  const sections = reportSections(analysis, wishes, terminal.progress);
  const files = await writeReport(analysis, directory, terminal, sections);
  const pictures = files.filter(({ name }) => name.endsWith(".png")).length;
  terminal.out(
    [
      summary(analysis, terminal),
      [
        `The report is ${directory}/report.html; open it in a browser.`,
        `${pictures} figures (SVG, PNG, specification, numbers) are in ${directory}/figures, tables in ${directory}/tables, all results in ${directory}/results.json.`,
        `To cite: ${citationSentence(analysis.source)}`,
      ].join("\n"),
    ].join("\n\n"),
  );
};

const wishesOf = async (protocols: string | undefined): Promise<ReportWishes> =>
  protocols === undefined
    ? {}
    : { protocols: protocolList(new TextDecoder().decode(await readBytes(protocols))) };

/** `holdbook report FILE -o DIR`: the whole analysis as a page, figures, tables and JSON. */
export const reportCommand: CommandRegistration = (program, terminal) => {
  withAnalysisOptions(
    program
      .command("report")
      .description("write a report: one page, figures, tables and results as JSON")
      .argument("<file>", "a table in the codebook's columns"),
  )
    .option("-o, --output <directory>", "where the report goes", defaultReportDirectory)
    .option(
      "--protocols <file>",
      "protocols to project and compare, one a line: name: 4 x 30 s at 70 %",
    )
    .action(
      async (
        path: string,
        options: AnalysisCommandOptions & { output: string; protocols?: string },
      ) => mainJob(path, options.output, options, terminal, await wishesOf(options.protocols)),
    );
};

/** `holdbook start [FILE]`: the main job, on the demonstration register unless a file is named. */
export const startCommand: CommandRegistration = (program, terminal) => {
  program
    .command("start")
    .description(
      "the main job: check, pool and report a file, or the invented demonstration register",
    )
    .argument("[file]", "a table in the codebook's columns")
    .option("-o, --output <directory>", "where the report goes", defaultReportDirectory)
    .action(async (path: string | undefined, options: { output: string }) =>
      mainJob(path ?? demoFile, options.output, {}, terminal),
    );
};
