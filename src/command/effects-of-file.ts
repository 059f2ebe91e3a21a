import type { EffectSet } from "../effects/effect.js";
import { effectsFromRows } from "../effects/effects-from-rows.js";
import { CallError } from "../errors.js";
import { readRecords } from "../records/read-records.js";
import type { RecordSet } from "../records/record-set.js";
import { chosenRows, effectsOptionsOf, type AnalysisCommandOptions } from "./analysis-options.js";
import type { InputFile } from "./read-input.js";
import { requireRows } from "./refused-rows.js";

/** The rows of a codebook table that the conditions keep, as effects. */
export type EffectsOfFile = Readonly<{
  records: RecordSet;
  set: EffectSet;
}>;

/**
 * Reads a codebook table into effects.
 *
 * @param where the command that asks, as it is typed
 * @throws {CallError} "no-effects" when no row reaches the scale and contrast, and as for a file without usable rows
 */
export const effectsOfFile = (
  file: InputFile,
  options: AnalysisCommandOptions,
  where: string,
): EffectsOfFile => {
  const records = readRecords(file.table);
  requireRows(records);
  const rows = chosenRows(records.rows, options.where);
  const set = effectsFromRows(rows, effectsOptionsOf(options));
  if (set.effects.length === 0)
    throw new CallError({
      code: "no-effects",
      where,
      needs: "at least one row that reaches the scale and contrast",
      got: "none",
      try: `holdbook effects ${file.name} says why for each row`,
    });
  return { records, set };
};
