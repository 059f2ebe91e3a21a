import type { LetterWidths } from "../../host/letter-widths.js";
import { citationSentence } from "../../report/citation-sentence.js";
import { methodsParagraph } from "../../report/methods-paragraph.js";
import { reportFiles, type ReportFile } from "../../report/report-files.js";
import { briefPageHtml, reportHtml } from "../../report/report-html.js";
import { reportFigures, type Report, type ReportWishes } from "../../report/report-part.js";
import { reportOn } from "../../report/report-parts.js";
import type { OpenFile } from "../open-file.js";
import { openFile, type Job } from "./bench.js";
import { drawn } from "./draw-job.js";
import { olderOnPage } from "./open-job.js";

/** What every question of the report is asked with. */
export type ReportAsked = Readonly<{
  options: Readonly<Record<string, unknown>>;
  /** What is new since this file is told too. */
  older?: OpenFile | undefined;
  /** What a person decided of certainty, as the text of its file. */
  decisions?: string;
}>;

const wishesOf = async ({ older, decisions }: ReportAsked): Promise<ReportWishes> => ({
  ...(older === undefined ? {} : { since: await olderOnPage(older) }),
  ...(decisions === undefined ? {} : { decisions }),
});

/** The parts of the report with their answers. */
export const reportJob: Job<ReportAsked, Report> = async (bench, asked, tell) =>
  reportOn(openFile(bench), asked.options, await wishesOf(asked), { tell, help: bench.help });

/** The report as it is kept: one HTML text, its brief, the files beside it, the sentence to cite. */
export type ReportWritten = Readonly<{
  html: string;
  /** Its first page alone: what to prescribe, how sure, what nobody has tested. */
  brief: string;
  files: readonly ReportFile[];
  methods: string;
  cite: string;
}>;

/** The report laid out, the same as the command line writes. */
export const writeReportJob: Job<
  ReportAsked & Readonly<{ letters: LetterWidths; type: string }>,
  ReportWritten
> = async (bench, { letters, type, ...asked }, tell) => {
  const report = await reportOn(openFile(bench), asked.options, await wishesOf(asked), {
    tell,
    help: bench.help,
  });
  const figures = reportFigures(report);
  const drawings = new Map<string, string>();
  for (const [index, { figure }] of figures.entries()) {
    tell(`drawing figure ${index + 1} of ${figures.length}`);
    drawings.set(figure.id, await drawn(bench, figure, letters));
  }
  tell("page");
  return {
    html: reportHtml(report, drawings, { type }),
    brief: briefPageHtml(report, drawings, { type }),
    files: reportFiles(report),
    methods: methodsParagraph(report).sentences.join(" "),
    cite: citationSentence(report.source),
  };
};
