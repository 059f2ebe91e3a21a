import { demoNotice, isDemoRegister } from "../demo/demo-notice.js";
import { effectSubset } from "../effects/effect-subset.js";
import type { Effect, EffectSet } from "../effects/effect.js";
import { CallError } from "../errors.js";
import { nearestWord } from "../records/nearest-word.js";
import type { AnalysisCommandOptions } from "./analysis-options.js";
import { effectsOfFile } from "./effects-of-file.js";
import { readInput, type InputFile } from "./read-input.js";
import { refusedRowsLine } from "./refused-rows.js";

/** The effects of one outcome family of a file, or of one outcome. */
export type DoseInput = Readonly<{
  file: InputFile;
  /** As it is spoken of: a family, or an outcome. */
  family: string;
  set: EffectSet;
  warnings: readonly string[];
}>;

const notCoded = "family not coded";
const plain = (word: string): string => word.trim().toLowerCase().replaceAll(/[_-]/g, " ");
const familyOf = ({ row }: Effect): string => row.outcomeFamily ?? notCoded;

/** The effects that `--outcome` names; the only family of a file needs no naming. */
const chosenOutcome = (
  set: EffectSet,
  wanted: string | undefined,
): Readonly<{ family: string; set: EffectSet }> => {
  const families = [...new Set(set.effects.map(familyOf))];
  const outcomes = [...new Set(set.effects.map(({ row }) => row.outcome))];
  const [only] = families;
  if (wanted === undefined && families.length === 1 && only !== undefined)
    return { family: only, set };
  const family = families.find((one) => plain(one) === plain(wanted ?? ""));
  if (family !== undefined)
    return { family, set: effectSubset(set, (effect) => familyOf(effect) === family) };
  const outcome = outcomes.find((one) => plain(one) === plain(wanted ?? ""));
  if (outcome !== undefined)
    return { family: outcome, set: effectSubset(set, ({ row }) => row.outcome === outcome) };
  const near = wanted === undefined ? undefined : nearestWord(wanted, [...families, ...outcomes]);
  throw new CallError({
    code: "unknown-outcome",
    where: "--outcome",
    needs: `a family with effects in the file (${families.join(", ")}) or one of its outcomes`,
    got: wanted === undefined ? "none" : `"${wanted}"`,
    ...(near === undefined ? {} : { try: `did you mean ${near}?` }),
  });
};

/**
 * Reads a file as far as the effects of one outcome.
 *
 * @throws {CallError} "no-effects", "unknown-outcome"
 */
export const doseInput = async (
  path: string,
  options: AnalysisCommandOptions & Readonly<{ outcome?: string }>,
): Promise<DoseInput> => {
  const file = await readInput(path);
  const { records, set } = effectsOfFile(file, options, "holdbook dose");
  return {
    file,
    ...chosenOutcome(set, options.outcome),
    warnings: [
      ...(isDemoRegister(records.rows) ? [demoNotice] : []),
      ...refusedRowsLine(records),
      ...set.notes.map(({ message }) => message),
    ],
  };
};
