import type { Figure } from "../../figures/figure.js";
import type { EffectScale } from "../../effects/effect.js";
import { reportFigures } from "../../report/report-part.js";
import { reportOn } from "../../report/report-parts.js";
import { openFile, type Job } from "./bench.js";

/** Every figure of the open file's report, in the report's order. */
export const figuresJob: Job<Readonly<{ scale: EffectScale }>, readonly Figure[]> = async (
  bench,
  options,
  tell,
) => reportFigures(await reportOn(openFile(bench), options, {}, tell)).map(({ figure }) => figure);
