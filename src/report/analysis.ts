import type { Contrast, EffectSet } from "../effects/effect.js";
import type { EffectsOptions } from "../effects/effects-options.js";
import { effectSubset } from "../effects/effect-subset.js";
import { effectsFromRows } from "../effects/effects-from-rows.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import { familiesOf, familyOf } from "../records/outcome-families.js";
import type { RecordSet } from "../records/record-set.js";
import { pooledAnswer, type PooledAnswer } from "./pooled-answer.js";

/** Which bytes an analysis rests on, by name and fingerprint. */
export type AnalysisSource = Readonly<{
  name: string;
  /** SHA-256 of the file, hexadecimal. */
  fingerprint: string;
  /** Whether the file is the invented demonstration register. */
  invented: boolean;
}>;

export type AnalysisOptions = Readonly<{
  effects?: EffectsOptions;
  /** Contrasts reported, in this order. */
  contrasts?: readonly Contrast[];
  confidence?: number;
}>;

export const analysisDefaults = {
  effects: {},
  contrasts: ["change-within-arm", "against-control"],
  confidence: 0.95,
} as const satisfies Required<AnalysisOptions>;

/** The answer for one outcome family on one contrast, or the reason there is none. */
export type FamilyAnswer = Readonly<{
  /** File-name form, e.g. `strength-change-within-arm`. */
  id: string;
  family: string;
  contrast: Contrast;
  /** In words, e.g. "strength, before to after". */
  label: string;
  set: EffectSet;
  answer: PooledAnswer;
}>;

/** Everything a report says about a file, before any drawing. */
export type Analysis = Readonly<{
  source: AnalysisSource;
  records: RecordSet;
  /** One set for each contrast, all families together. */
  sets: readonly EffectSet[];
  answers: readonly FamilyAnswer[];
  confidence: number;
}>;

const hasFamily =
  (family: string) =>
  ({ effects }: EffectSet): boolean =>
    effects.some(({ row }) => familyOf(row) === family);

/**
 * The main job on one file: effects on one scale for each contrast, pooled by outcome family.
 *
 * Families are never pooled together, and neither are contrasts: a change within an arm contains
 * whatever else happened in those weeks.
 *
 * @param source   name and fingerprint of the file
 * @param records  from `readRecords`
 * @param options  see `analysisDefaults`
 * @param progress  called with a line before each longer step
 */
export const analyse = (
  source: AnalysisSource,
  records: RecordSet,
  options: AnalysisOptions = {},
  progress: (line: string) => void = () => undefined,
): Analysis => {
  const resolved = { ...analysisDefaults, ...options };
  const sets = resolved.contrasts.map((contrast) => {
    progress(`effects: ${contrastShortLabel(contrast)}`);
    return effectsFromRows(records.rows, { ...resolved.effects, contrast });
  });
  const families = familiesOf(sets.flatMap(({ effects }) => effects.map(({ row }) => row)));
  const answers = families.flatMap((family) =>
    sets.filter(hasFamily(family)).map((set): FamilyAnswer => {
      const label = `${family}, ${contrastShortLabel(set.contrast)}`;
      progress(`pooling: ${label}`);
      const subset = effectSubset(set, ({ row }) => familyOf(row) === family);
      return {
        id: `${family.replaceAll(" ", "-")}-${set.contrast}`,
        family,
        contrast: set.contrast,
        label,
        set: subset,
        answer: pooledAnswer(subset, { confidence: resolved.confidence }),
      };
    }),
  );
  return { source, records, sets, answers, confidence: resolved.confidence };
};
