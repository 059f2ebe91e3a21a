import type { EffectScale } from "../../effects/effect.js";
import type { LetterWidths } from "../../host/letter-widths.js";
import { citationSentence } from "../../report/citation-sentence.js";
import { reportFigures } from "../../report/report-figures.js";
import { reportFiles, type ReportFile } from "../../report/report-files.js";
import { reportHtml } from "../../report/report-html.js";
import { reportSections } from "../../report/report-sections.js";
import { analysisOf, type Bench, type Job } from "./bench.js";
import { drawn } from "./draw-job.js";

export type ReportInput = Readonly<{ scale: EffectScale; letters: LetterWidths }>;

const partsOf = (bench: Bench, scale: EffectScale, tell: (line: string) => void) => {
  const analysis = analysisOf(bench, { effects: { scale } }, tell);
  const sections = reportSections(analysis, {}, tell);
  tell("figures");
  const figures = [...reportFigures(analysis), ...sections.flatMap((section) => section.figures)];
  return { analysis, sections, figures };
};

/** The report as one HTML text, the same as the command line writes, and the sentence to cite. */
export const reportJob: Job<ReportInput, Readonly<{ html: string; cite: string }>> = async (
  bench,
  { scale, letters },
  tell,
) => {
  const { analysis, sections, figures } = partsOf(bench, scale, tell);
  const drawings = new Map<string, string>();
  for (const [index, figure] of figures.entries()) {
    tell(`drawing figure ${index + 1} of ${figures.length}`);
    drawings.set(figure.id, await drawn(bench, figure, letters));
  }
  tell("page");
  return {
    html: reportHtml(analysis, drawings, sections),
    cite: citationSentence(analysis.source),
  };
};

/** The files that go with a report: every table, all results, the methods, and the figures' numbers. */
export const reportFilesJob: Job<Readonly<{ scale: EffectScale }>, readonly ReportFile[]> = (
  bench,
  { scale },
  tell,
) => {
  const { analysis, sections, figures } = partsOf(bench, scale, tell);
  return reportFiles(
    analysis,
    figures,
    sections.flatMap(({ tables, dataTables = [] }) => [...tables, ...dataTables]),
  );
};
