import type { Note } from "../../errors.js";
import type { OutcomeRow } from "../outcome-row.js";

/**
 * Arm ids that stand in more than one study. Arms are told apart by study and arm together, so nothing
 * is wrong here; but a table of effects that carries the arm alone would mix them up.
 */
export const armIdsReused = (rows: readonly OutcomeRow[]): readonly Note[] => {
  const studies = new Map<string, Set<string>>();
  for (const { arm, study } of rows) {
    const known = studies.get(arm);
    if (known === undefined) studies.set(arm, new Set([study]));
    else known.add(study);
  }
  const reused = [...studies].filter(([, where]) => where.size > 1);
  if (reused.length === 0) return [];
  const shown = reused
    .slice(0, 5)
    .map(([arm, where]) => `"${arm}" in ${where.size} studies`)
    .join(", ");
  const more = reused.length > 5 ? ` and ${reused.length - 5} more` : "";
  return [
    {
      code: "arm-ids-reused",
      message: `arm ids are used in more than one study (${shown}${more}); arms are told apart by study and arm together`,
    },
  ];
};
