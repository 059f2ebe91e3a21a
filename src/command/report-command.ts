import { fileURLToPath } from "node:url";
import { effectShape } from "../answers/effect-options.js";
import { resolvedOptions } from "../answers/option.js";
import { writtenProtocols } from "../answers/session.js";
import { demoNotice } from "../demo/demo-notice.js";
import { readBytes } from "../host/read-bytes.js";
import { writeWhole, type WholeFile } from "../host/write-whole.js";
import { citationSentence } from "../report/citation-sentence.js";
import { reportFiles } from "../report/report-files.js";
import { reportHtml } from "../report/report-html.js";
import {
  answersTo,
  placedAnswers,
  reportFigures,
  type Report,
  type ReportWishes,
} from "../report/report-part.js";
import { reportOn } from "../report/report-parts.js";
import { wrapToWidth } from "../tables/display-width.js";
import { figureFiles, recipeFiles } from "./figure-files.js";
import { withOptions } from "./question-command.js";
import { openInput } from "./read-input.js";
import type { CommandRegistration, Terminal } from "./terminal.js";

/** Where reports go when nobody says otherwise. */
const defaultReportDirectory = "holdbook-report";

const demoFile = fileURLToPath(new URL("../../data/demo-register.csv", import.meta.url));

/** Draws every figure and writes the report's directory whole or not at all. */
const writeReport = async (
  report: Report,
  directory: string,
  terminal: Terminal,
): Promise<readonly WholeFile[]> => {
  const pictures = await figureFiles(
    reportFigures(report).map(({ figure }) => figure),
    terminal,
  );
  const drawings = new Map(
    pictures.flatMap(({ name, content }) => {
      const [, id] = /^figures\/(.*)\.svg$/.exec(name) ?? [];
      return id === undefined || typeof content !== "string" ? [] : [[id, content] as const];
    }),
  );
  terminal.progress("page and tables");
  const files = [
    { name: "report.html", content: reportHtml(report, drawings) },
    ...reportFiles(report),
    ...pictures,
    ...placedAnswers(report).flatMap(({ answer }) => recipeFiles(answer)),
  ];
  terminal.progress(`writing ${directory}`);
  await writeWhole(directory, files);
  return files;
};

/** What the file holds and every average, as a person at a terminal wants to know them. */
const summary = (report: Report, width: number): string => {
  const wrapped = (text: string): string => wrapToWidth(text, width).join("\n");
  return [
    ...(report.source.invented ? [wrapped(demoNotice)] : []),
    ...answersTo(report, "check").map(({ headline }) => wrapped(headline)),
    ...report.parts
      .filter(({ id }) => id === "answers")
      .flatMap(({ answers }) =>
        answers.map(({ title, answer: { headline, sentences } }) =>
          [`${title}:`, headline, ...sentences].map(wrapped).join("\n"),
        ),
      ),
  ].join("\n\n");
};

/** The main job: writes the report of a file and prints a summary that says where it is. */
export const mainJob = async (
  path: string,
  directory: string,
  options: Readonly<Record<string, unknown>>,
  terminal: Terminal,
  wishes: ReportWishes = {},
): Promise<void> => {
  terminal.progress(`reading ${path}`);
  const evidence = await (terminal.open ?? openInput)(path);
  const report = await reportOn(evidence, options, wishes, terminal.progress);
  const files = await writeReport(report, directory, terminal);
  const pictures = files.filter(({ name }) => name.endsWith(".png")).length;
  terminal.out(
    [
      summary(report, terminal.width),
      [
        `The report is ${directory}/report.html; open it in a browser.`,
        `${pictures} figures (SVG, PNG, specification, numbers) are in ${directory}/figures, tables in ${directory}/tables, all results in ${directory}/results.json.`,
        `To cite: ${citationSentence(report.source)}`,
      ].join("\n"),
    ].join("\n\n"),
  );
};

const wishesOf = async (protocols: string | undefined): Promise<ReportWishes> =>
  protocols === undefined
    ? {}
    : { protocols: writtenProtocols(new TextDecoder().decode(await readBytes(protocols))) };

/** What was typed of the options that every question of a file takes, read. */
const sharedOptions = (
  typed: Readonly<Record<string, unknown>>,
): Readonly<Record<string, unknown>> => {
  const given = Object.fromEntries(
    Object.entries(typed).filter(([name]) => Object.hasOwn(effectShape, name)),
  );
  const read: Readonly<Record<string, unknown>> = resolvedOptions(effectShape, given);
  return Object.fromEntries(Object.keys(given).map((name) => [name, read[name]]));
};

/** `holdbook report FILE -o DIR`: the whole analysis as a page, figures, tables and JSON. */
export const reportCommand: CommandRegistration = (program, terminal) => {
  withOptions(
    program
      .command("report")
      .description("write a report: one page, figures, tables and results as JSON")
      .argument("<file>", "a table in the codebook's columns"),
    effectShape,
  )
    .option("-o, --output <directory>", "where the report goes", defaultReportDirectory)
    .option(
      "--protocols <file>",
      "protocols to project and compare, one a line: name: 4 x 30 s at 70%",
    )
    .action(
      async (
        path: string,
        typed: Readonly<Record<string, unknown>> & { output: string; protocols?: string },
      ) =>
        mainJob(
          path,
          typed.output,
          sharedOptions(typed),
          terminal,
          await wishesOf(typed.protocols),
        ),
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
