import type { EffectScale } from "../../effects/effect.js";
import type { LetterWidths } from "../../host/letter-widths.js";
import { citationSentence } from "../../report/citation-sentence.js";
import { reportFiles, type ReportFile } from "../../report/report-files.js";
import { reportHtml } from "../../report/report-html.js";
import { reportFigures } from "../../report/report-part.js";
import { reportOn } from "../../report/report-parts.js";
import { openFile, type Job } from "./bench.js";
import { drawn } from "./draw-job.js";

export type ReportInput = Readonly<{ scale: EffectScale; letters: LetterWidths }>;

/** The report as one HTML text, the same as the command line writes, and the sentence to cite. */
export const reportJob: Job<ReportInput, Readonly<{ html: string; cite: string }>> = async (
  bench,
  { scale, letters },
  tell,
) => {
  const report = await reportOn(openFile(bench), { scale }, {}, tell);
  const figures = reportFigures(report);
  const drawings = new Map<string, string>();
  for (const [index, { figure }] of figures.entries()) {
    tell(`drawing figure ${index + 1} of ${figures.length}`);
    drawings.set(figure.id, await drawn(bench, figure, letters));
  }
  tell("page");
  return { html: reportHtml(report, drawings), cite: citationSentence(report.source) };
};

/** The files that go with a report: every table, all results, the methods. */
export const reportFilesJob: Job<Readonly<{ scale: EffectScale }>, readonly ReportFile[]> = async (
  bench,
  { scale },
  tell,
) => reportFiles(await reportOn(openFile(bench), { scale }, {}, tell));
