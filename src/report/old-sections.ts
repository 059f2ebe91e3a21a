/** Sections that are not asked for as questions yet, and what they are made from. */
import { effectsOptionsOf, effectShape } from "../answers/effect-options.js";
import { chosenRows, effectsOf, type Evidence } from "../answers/evidence.js";
import { familyOf } from "../answers/headline-selection.js";
import { resolvedOptions } from "../answers/option.js";
import type { Contrast, EffectSet } from "../effects/effect.js";
import { effectSubset } from "../effects/effect-subset.js";
import type { RecordSet } from "../records/record-set.js";
import { doseSection } from "./dose-section.js";
import type { ReportPart, ReportWishes } from "./report-part.js";
import { specialQuestionsSection } from "./special-questions-section.js";
import { variablesSection } from "./variables-section.js";

export type FamilySet = Readonly<{ family: string; contrast: Contrast; set: EffectSet }>;

export type Analysis = Readonly<{
  records: RecordSet;
  sets: readonly EffectSet[];
  answers: readonly FamilySet[];
  confidence: number;
}>;

export type ReportSection = Readonly<{ id: string; title: string }> &
  NonNullable<ReportPart["old"]>;

export type SectionMaker = (
  analysis: Analysis,
  wishes: ReportWishes,
  progress: (line: string) => void,
) => ReportSection | undefined;

const sectionMakers: readonly SectionMaker[] = [
  variablesSection,
  doseSection,
  specialQuestionsSection,
];

/** What the old sections are made from. */
export const analysisOf = (
  evidence: Evidence,
  given: Readonly<Record<string, unknown>>,
): Analysis => {
  const options = resolvedOptions(effectShape, given);
  const sets = (["change-within-arm", "against-control"] as const).map((contrast) =>
    effectsOf(evidence, effectsOptionsOf({ ...options, contrast })),
  );
  return {
    records: { ...evidence.records, rows: chosenRows(evidence, options.where) },
    sets,
    answers: sets.flatMap((set) =>
      [...new Set(set.effects.map(familyOf))].map((family) => ({
        family,
        contrast: set.contrast,
        set: effectSubset(set, (effect) => familyOf(effect) === family),
      })),
    ),
    confidence: options.confidence,
  };
};

export const oldSections = (
  evidence: Evidence,
  options: Readonly<Record<string, unknown>>,
  wishes: ReportWishes,
  tell: (line: string) => void,
): readonly ReportPart[] => {
  const analysis = analysisOf(evidence, options);
  return sectionMakers.flatMap((make) => {
    const section = make(analysis, wishes, tell);
    if (section === undefined) return [];
    const { id, title, ...old } = section;
    return [{ id, title, lead: [], answers: [], old }];
  });
};
