import type { Note } from "../errors.js";
import { testModeMatters } from "../records/test-mode.js";
import type { Effect } from "./effect.js";
import type { ResolvedEffectsOptions } from "./effects-options.js";
import { isSpreadScale } from "./improvement-sign.js";

/**
 * Doubts about a set of effects as a whole: a blank test mode, several units, a scale without direction,
 * a cohort whose studies share no arm id.
 *
 * @source none: bookkeeping
 */
export const effectSetNotes = (
  effects: readonly Effect[],
  options: ResolvedEffectsOptions,
): readonly Note[] => {
  const notes: Note[] = [];
  const untold = effects.filter(({ row }) => row.testMode === undefined && testModeMatters(row));
  if (untold.length > 0) {
    notes.push({
      code: "test-mode-blank",
      message: `on ${untold.length} of ${effects.length} effects the test mode is not coded; it counts as isometric`,
    });
  }
  if (options.contrast === "against-other-limb" && effects.length > 0) {
    notes.push({
      code: "other-limb-gains",
      message:
        "the other limb of the same people may gain too, so these effects are rather smaller than those against people who did not train",
    });
  }
  if (isSpreadScale(options.scale)) {
    notes.push({
      code: "no-direction",
      message:
        "this scale compares spread: positive means more spread, not improvement, and more spread is no proof that people respond differently",
    });
  }
  if (options.scale === "raw-mean-difference") {
    const units = [...new Set(effects.map(({ row }) => row.unit ?? "not coded"))].sort();
    if (units.length > 1) {
      notes.push({
        code: "mixed-units",
        message: `the effects stand in ${units.length} units (${units.join(", ")}) and cannot be pooled together`,
      });
    }
  }
  const studiesOf = new Map<string, Map<string, Set<string>>>();
  for (const { cohort, study, arm } of effects) {
    const studies = studiesOf.get(cohort) ?? new Map<string, Set<string>>();
    studiesOf.set(cohort, studies);
    studies.set(study, (studies.get(study) ?? new Set<string>()).add(arm));
  }
  for (const [cohort, studies] of studiesOf) {
    const sets = [...studies.values()];
    const shared = sets.some((arms, i) =>
      sets.slice(i + 1).some((others) => [...arms].some((arm) => others.has(arm))),
    );
    if (sets.length > 1 && !shared) {
      notes.push({
        code: "cohort-arms-differ",
        message: `cohort "${cohort}" is in ${sets.length} studies whose arm ids have nothing in common, so their effects are taken as from different people; give the same arm the same id in both`,
      });
    }
  }
  return notes;
};
