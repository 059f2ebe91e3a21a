import type { Figure } from "../../figures/figure.js";
import type { EffectScale } from "../../effects/effect.js";
import { reportFigures } from "../../report/report-figures.js";
import { reportSections } from "../../report/report-sections.js";
import { analysisOf, type Job } from "./bench.js";

/** Every figure of the open table's report, in the report's order. */
export const figuresJob: Job<Readonly<{ scale: EffectScale }>, readonly Figure[]> = (
  bench,
  { scale },
  tell,
) => {
  const analysis = analysisOf(bench, { effects: { scale } }, tell);
  tell("figures");
  return [
    ...reportFigures(analysis),
    ...reportSections(analysis, {}, tell).flatMap(({ figures }) => figures),
  ];
};
