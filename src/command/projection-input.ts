import { demoNotice, isDemoRegister } from "../demo/demo-notice.js";
import { effectsFromRows } from "../effects/effects-from-rows.js";
import { prepareProjection, type PreparedProjection } from "../projection/prepare-projection.js";
import { readRecords } from "../records/read-records.js";
import { chosenRows } from "./analysis-options.js";
import { changedPriors, type ProjectionCommandOptions } from "./projection-options.js";
import { readInput } from "./read-input.js";
import { refusedRowsLine, requireRows } from "./refused-rows.js";
import type { Terminal } from "./terminal.js";

/** A file made ready for projections, and what must be said of the file beside every answer. */
export type ProjectionInput = Readonly<{
  prepared: PreparedProjection;
  invented: boolean;
  /** Lines before the answer: invented data, rows that were refused. */
  warnings: readonly string[];
  file: Readonly<{ name: string; fingerprint: string }>;
}>;

/** Reads a file and fits what projections towards the goal need; says how far it is. */
export const projectionInput = async (
  path: string,
  options: ProjectionCommandOptions,
  terminal: Terminal,
): Promise<ProjectionInput> => {
  terminal.progress(`reading ${path}`);
  const { name, fingerprint, table } = await readInput(path);
  const records = readRecords(table);
  requireRows(records);
  const rows = chosenRows(records.rows, options.where);
  const set = effectsFromRows(rows, {
    scale: "log-ratio-of-means",
    contrast: options.contrast,
    ...(options.correlation === undefined ? {} : { prePostCorrelation: options.correlation }),
  });
  terminal.progress(`fitting ${options.goal}; this may take some seconds`);
  const prepared = prepareProjection(set, {
    goal: options.goal,
    priors: changedPriors(options),
    rows,
  });
  const invented = isDemoRegister(rows);
  return {
    prepared,
    invented,
    warnings: [...(invented ? [demoNotice] : []), ...refusedRowsLine(records)],
    file: { name, fingerprint },
  };
};
