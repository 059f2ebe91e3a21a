import { basename, dirname, extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Answer } from "../answers/answer.js";
import { effectShape } from "../answers/effect-options.js";
import { writtenProtocols } from "../answers/session.js";
import { figuresAt } from "../figures/figure-list.js";
import type { Figure } from "../figures/figure.js";
import { figureSizeDefault, type FigureSize } from "../figures/frame.js";
import { demoNotice } from "../demo/demo-notice.js";
import { fontFaces } from "../host/figure-fonts.js";
import { withoutType } from "../host/figure-svg.js";
import { chromiumHere, printPage } from "../host/print-page.js";
import { readBytes } from "../host/read-bytes.js";
import { freeAllMemory } from "../host/free-memory.js";
import { checkFolder, writeFolder, type Draft } from "../host/write-whole.js";
import { citationSentence } from "../report/citation-sentence.js";
import { reportFilePieces } from "../report/report-files.js";
import { briefPageHtml, reportHtml } from "../report/report-html.js";
import {
  answersTo,
  eachReportFigure,
  placedAnswers,
  type Report,
  type ReportWishes,
} from "../report/report-part.js";
import { isUnanswered, reportOn } from "../report/report-parts.js";
import { wrapToWidth } from "../tables/display-width.js";
import { putFigures, putRecipes } from "./figure-files.js";
import { helpingThreads } from "./helping-threads.js";
import { placeOptions, withOutput, withSize, type TypedPlace } from "./output-place.js";
import { sharedOptions, withOptions } from "./question-command.js";
import { withFiles, type TypedFiles } from "./typed-files.js";
import { openOlder, openTyped } from "./read-input.js";
import type { CommandRegistration, Terminal } from "./terminal.js";
import { unexpectedSentence } from "./unexpected.js";

/** Where a report goes when nobody says otherwise: each file's has a place of its own. */
const standardDirectory = (path: string): string => {
  if (path === libraryFile) return "holdbook-report";
  const stem = basename(path, extname(path)).replace(/[^\p{L}\p{N}_-]+/gu, "-");
  return `holdbook-report-${stem.slice(0, 60)}`;
};

const shipped = (name: string): string =>
  fileURLToPath(new URL(`../../data/${name}`, import.meta.url));
const libraryFile = shipped("published-outcomes.csv");
const demoFile = shipped("demo-register.csv");

/** Every figure of a report at a size, each made when its turn comes. */
const figuresOf = function* (report: Report, size: FigureSize): Generator<Figure> {
  for (const { figure } of eachReportFigure(report, figuresAt(size))) yield figure;
};

/** The same directory, with what goes among the figures put into a folder for their size. */
const atSize = ({ place, put }: Draft, size: FigureSize): Draft => {
  const named = (name: string): string => name.replace(/^figures/, `figures-${size}`);
  return { place: (name) => place(named(name)), put: (name, content) => put(named(name), content) };
};

/** A place in the page that a drawing takes; no text of a file can look like it, as that is escaped. */
const placeOf = (id: string): string => `<!--drawing ${id}-->`;

/** The page piece by piece, so that its drawings are never in memory at once. */
const pageWith = async function* (
  html: string,
  drawings: ReadonlyMap<string, string>,
): AsyncGenerator<string | Uint8Array> {
  for (const [index, piece] of html.split(/<!--drawing ([a-z0-9-]+)-->/).entries())
    yield index % 2 === 0
      ? piece
      : withoutType(new TextDecoder().decode(await readBytes(drawings.get(piece)!)));
};

/** Puts a report into a directory in the making, figure by figure; how many figures there are, and whether the brief is printed. */
const putReport = async (
  draft: Draft,
  report: Report,
  wishes: ReportWishes,
  terminal: Terminal,
  size: FigureSize,
): Promise<Readonly<{ pictures: number; isPrinted: boolean }>> => {
  const drawings = await putFigures(draft, figuresOf(report, figureSizeDefault), terminal);
  // Pages show figures of a page; those of another size stand beside them.
  if (size !== figureSizeDefault)
    await putFigures(atSize(draft, size), figuresOf(report, size), terminal);
  // A figure that the brief shows too is repeated by the question it belongs to.
  const told = new Set<string>();
  const ofBrief = ({ answer }: Readonly<{ answer: Answer }>): number =>
    answer.data.question.id === "brief" ? 1 : 0;
  for (const { answer } of [...placedAnswers(report)].sort((a, b) => ofBrief(a) - ofBrief(b))) {
    const figures = answer.figures.filter(({ data: { id } }) => !told.has(id) && told.add(id));
    await putRecipes(draft, { ...answer, figures });
  }
  terminal.progress("page and tables");
  freeAllMemory();
  const places = new Map([...drawings.keys()].map((id) => [id, placeOf(id)]));
  const type = fontFaces();
  const form = { type, full: wishes.full === true };
  await draft.put("report.html", pageWith(reportHtml(report, places, form), drawings));
  await draft.put("brief.html", pageWith(briefPageHtml(report, places, form), drawings));
  const printer = await (terminal.printer ?? chromiumHere)();
  const pdf = printer === undefined ? undefined : await draft.place("brief.pdf");
  const isPrinted =
    pdf !== undefined && (await printPage(printer!, join(dirname(pdf), "brief.html"), pdf));
  freeAllMemory();
  for (const { name, pieces } of reportFilePieces(report)) await draft.put(name, pieces);
  return { pictures: drawings.size, isPrinted };
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

/** The report on a file, and nothing else: rows and fits are let go of here, which makes room for drawing. */
const reportOnFile = async (
  path: string,
  typed: TypedFiles,
  options: Readonly<Record<string, unknown>>,
  terminal: Terminal,
  wishes: ReportWishes,
): Promise<Report> => {
  const { progress, err, unexpected = unexpectedIn(path) } = terminal;
  progress(`reading ${path}`);
  const said = new Map<string, string>();
  const mistake = (error: unknown): string => {
    const known = said.get(String(error));
    if (known !== undefined) return known;
    const sentence = unexpected(error);
    said.set(String(error), sentence);
    err(sentence);
    return sentence;
  };
  return reportOn(await openTyped(path, typed, terminal), options, wishes, {
    tell: progress,
    mistake,
    help: helpingThreads(),
  });
};

const unexpectedIn =
  (path: string) =>
  (error: unknown): string =>
    unexpectedSentence(error, ["report", path]);

/** The main job: writes the report of a file and prints a summary that says where it is. */
export const mainJob = async (
  path: string,
  typed: TypedPlace & TypedFiles,
  options: Readonly<Record<string, unknown>>,
  terminal: Terminal,
  wishes: ReportWishes = {},
  finish: (exitCode: number) => void = () => undefined,
): Promise<void> => {
  const directory = typed.output ?? standardDirectory(path);
  const { size = figureSizeDefault } = typed;
  const place = placeOptions("report", path, directory, typed);
  await checkFolder(directory, place);
  const report = await reportOnFile(path, typed, options, terminal, wishes);
  if (placedAnswers(report).some(isUnanswered)) finish(4);
  let put = { pictures: 0, isPrinted: false };
  await writeFolder(
    directory,
    async (draft) => {
      put = await putReport(draft, report, wishes, terminal, size);
      terminal.progress(`writing ${directory}`);
    },
    place,
  );
  terminal.out(
    [
      summary(report, terminal.width),
      [
        `The report is ${directory}/report.html, and its first page alone ${directory}/brief.html; open them in a browser.`,
        put.isPrinted
          ? `The first page is printed as ${directory}/brief.pdf.`
          : "No Chromium here could print the first page; print brief.html from a browser.",
        `${put.pictures} figures (SVG, PNG, specification, numbers) are in ${directory}/figures${size === figureSizeDefault ? "" : ` (for a ${size} in ${directory}/figures-${size})`}, tables in ${directory}/tables, all results in ${directory}/results.json.`,
        `To cite: ${citationSentence(report.source)}`,
      ].join("\n"),
    ].join("\n\n"),
  );
};

/** What is wished of a report, as it is typed. */
type TypedWishes = Readonly<{
  protocols?: string;
  since?: string;
  decisions?: string;
  statements?: string;
  allFigures?: true;
  full?: true;
}>;

const wishesOf = async ({
  protocols,
  since,
  decisions,
  statements,
  ...rest
}: TypedWishes): Promise<ReportWishes> => ({
  ...(decisions === undefined
    ? {}
    : { decisions: new TextDecoder().decode(await readBytes(decisions)) }),
  ...(statements === undefined
    ? {}
    : { statements: new TextDecoder().decode(await readBytes(statements)) }),
  ...(since === undefined ? {} : { since: await openOlder(since) }),
  ...(rest.allFigures === true ? { allFigures: true } : {}),
  ...(rest.full === true ? { full: true } : {}),
  ...(protocols === undefined
    ? {}
    : { protocols: writtenProtocols(new TextDecoder().decode(await readBytes(protocols))) }),
});

/** `holdbook report FILE -o DIR`: the whole analysis as a page, figures, tables and JSON. */
export const reportCommand: CommandRegistration = (program, terminal, finish) => {
  const command = withOutput(
    withOptions(
      withFiles(
        program
          .command("report")
          .description("write a report: one page, figures, tables and results as JSON")
          .argument("<file>", "a table in the codebook's columns"),
      ),
      effectShape,
    ),
    "where the report goes (default: holdbook-report- and the file's name)",
  );
  withSize(command, "figures of this size beside those of the page")
    .option(
      "--protocols <file>",
      "protocols to project and compare, one a line: name: 4 x 20 s at 70%",
    )
    .option(
      "--since <file>",
      "an older file, or the results.json of an older report: what is new since then",
    )
    .option("--decisions <file>", "what a person decided of certainty (certainty.csv)")
    .option("--statements <file>", "statements to put to the test: which of them stand")
    .option("--all-figures", "draw every figure, and not only those that are read first")
    .option("--full", "long tables in the page itself, and each study left out in turn")
    .action(
      async (
        path: string,
        typed: Readonly<Record<string, unknown>> & TypedPlace & TypedFiles & TypedWishes,
      ) => mainJob(path, typed, sharedOptions(typed), terminal, await wishesOf(typed), finish),
    );
};

/** `holdbook start [FILE]`: the main job, on the library of published outcomes unless a file is named. */
export const startCommand: CommandRegistration = (program, terminal, finish) => {
  const command = program
    .command("start")
    .description(
      "the main job: check, pool and report a file, or the library of published outcomes",
    )
    .argument("[file]", "a table in the codebook's columns")
    .option("--demonstration", "the invented demonstration register, whose truth is known");
  withOutput(
    command,
    "where the report goes (default: holdbook-report for the library, and the file's name added for another)",
  ).action(
    async (path: string | undefined, options: TypedPlace & Readonly<{ demonstration?: true }>) =>
      mainJob(
        path ?? (options.demonstration === true ? demoFile : libraryFile),
        options,
        {},
        terminal,
        {},
        finish,
      ),
  );
};
