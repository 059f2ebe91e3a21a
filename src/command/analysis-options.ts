import { Option, type Command } from "commander";
import { CallError } from "../errors.js";
import { contrasts, effectScales, type Contrast, type EffectScale } from "../effects/effect.js";
import { effectsDefaults, type EffectsOptions } from "../effects/effects-options.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { rowsThatMeet } from "../records/row-filter.js";

/** Options that say which rows are used and on which scale. */
export type AnalysisCommandOptions = Readonly<{
  scale?: EffectScale;
  contrast?: Contrast;
  correlation?: number;
  where?: string;
}>;

/** A number out of an option, or a clear refusal. */
export const numberOption =
  (name: string) =>
  (text: string): number => {
    const value = Number(text.replace(",", "."));
    if (text.trim() === "" || !Number.isFinite(value))
      throw new CallError({
        code: "not-a-number",
        where: name,
        needs: "a number",
        got: `"${text}"`,
      });
    return value;
  };

/** A share strictly between 0 and 1; a percentage is pointed at, since people mean one when they type 95. */
export const confidenceOption = (text: string): number => {
  const value = numberOption("--confidence")(text);
  if (!(value > 0 && value < 1))
    throw new CallError({
      code: "confidence",
      where: "--confidence",
      needs: "a share above 0 and below 1, for example 0.95",
      got: `"${text}"`,
    });
  return value;
};

/** Adds the options that every analysis takes. */
export const withAnalysisOptions = (command: Command): Command =>
  command
    .addOption(
      new Option("--scale <scale>", "scale of the effects")
        .choices(effectScales)
        .default(effectsDefaults.scale),
    )
    .addOption(
      new Option("--contrast <contrast>", "what is compared")
        .choices(contrasts)
        .default(effectsDefaults.contrast),
    )
    .option(
      "--correlation <number>",
      "one pre–post correlation for all effects, in place of each one's own",
      numberOption("--correlation"),
    )
    .option("--where <conditions>", "use only these rows, e.g. outcome_family=strength, weeks>=8");

/** The refusal when conditions leave nothing. */
export const noRows = (where: string): CallError =>
  new CallError({
    code: "no-rows",
    where: "--where",
    needs: "conditions that at least one row meets",
    got: `"${where}"`,
  });

/** The rows that the conditions keep; all of them without conditions. */
export const chosenRows = (
  rows: readonly OutcomeRow[],
  where: string | undefined,
): readonly OutcomeRow[] => {
  if (where === undefined) return rows;
  const kept = rowsThatMeet(rows, where);
  if (kept.length === 0) throw noRows(where);
  return kept;
};

/** Options that make effects out of rows, among those a person typed: nothing is left for them to do on ready effects. */
export const optionsThatMakeEffects = (command: Command): readonly string[] =>
  (["scale", "contrast", "correlation"] as const)
    .filter((name) => command.getOptionValueSource(name) === "cli")
    .map((name) => `--${name}`);

/** The effects room's options, as the command line gave them. */
export const effectsOptionsOf = (options: AnalysisCommandOptions): EffectsOptions => ({
  ...(options.scale === undefined ? {} : { scale: options.scale }),
  ...(options.contrast === undefined ? {} : { contrast: options.contrast }),
  ...(options.correlation === undefined ? {} : { prePostCorrelation: options.correlation }),
});
