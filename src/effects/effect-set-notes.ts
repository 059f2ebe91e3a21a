import type { Note } from "../errors.js";
import { familyRecord, higherIs } from "../records/outcome-families.js";
import { testModeMatters } from "../records/test-mode.js";
import type { Effect } from "./effect.js";
import type { ResolvedEffectsOptions } from "./effects-options.js";
import { isSpreadScale } from "./improvement-sign.js";
import { isScore } from "./scale-of-row.js";

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
  const scores = effects.filter(({ row }) => isScore(row));
  if (options.scale === "log-ratio-of-means" && scores.length > 0) {
    const names = [...new Set(scores.map(({ row }) => row.outcome))].join(", ");
    notes.push({
      code: "scores-in-points",
      message: `${names}: a score with a floor and a ceiling; a ratio says little of it, so its changes stand in ${scores[0]?.scale === "raw-mean-difference" ? "its own points" : "standard deviations, as its units differ"}, positive where it is better`,
    });
  }
  const unsaid = effects.filter(
    ({ row }) => row.higherIs === undefined && !familyRecord(row.outcomeFamily).directionIsPlain,
  );
  if (unsaid.length > 0 && !isSpreadScale(options.scale)) {
    const assumed = [
      ...new Set(unsaid.map(({ row }) => `${row.outcome} (higher is ${higherIs(row)})`)),
    ];
    notes.push({
      code: "direction-assumed",
      message: `whether more is better is not coded (column higher_is) and was assumed: ${assumed.join(", ")}`,
    });
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
