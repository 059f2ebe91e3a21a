import { projectionGoals } from "../projection/goals.js";
import type { Analysis } from "./analysis.js";
import { doseSection } from "./dose-section.js";
import { protocolGoalSection, protocolsSection } from "./protocols-section.js";
import type { ReportSection, ReportWishes, SectionMaker } from "./report-section.js";
import { specialQuestionsSection } from "./special-questions-section.js";
import { variablesSection } from "./variables-section.js";

/** Every section after the pooled answers, in the report's order. A new section is one file and one line here. */
const sectionMakers: readonly SectionMaker[] = [
  variablesSection,
  doseSection,
  specialQuestionsSection,
  protocolsSection,
  ...projectionGoals.map(protocolGoalSection),
];

/**
 * The sections of a report beyond the pooled answers.
 *
 * @param analysis from `analyse`
 * @param wishes   protocols to project, where there are any
 * @param progress called with a line before each longer step
 * @source none: an order of sections
 */
export const reportSections = (
  analysis: Analysis,
  wishes: ReportWishes = {},
  progress: (line: string) => void = () => undefined,
): readonly ReportSection[] =>
  sectionMakers.flatMap((make) => {
    const section = make(analysis, wishes, progress);
    return section === undefined ? [] : [section];
  });
