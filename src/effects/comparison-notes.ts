import type { Note } from "../errors.js";
import type { ArmRelation } from "./arm-relation.js";
import type { Candidate } from "./effect-candidates.js";
import { isTraining, referenceOrder } from "./match-comparator.js";
import { rowNote } from "./refusal.js";

/**
 * Doubts about what an effect compares: the kind of arm left blank, several comparators that would have
 * matched, a control group beside trained limbs, a reference arm told apart by its name only.
 *
 * @source none: bookkeeping
 */
export const comparisonNotes = (
  made: Readonly<{ candidate: Candidate; relation: ArmRelation }>,
): readonly Note[] => {
  const { treated, comparator, otherComparators } = made.candidate;
  const notes: Note[] = [];
  if (treated.armKind === undefined) {
    notes.push(
      rowNote(treated, "arm-kind-blank", "the kind of arm is not coded; taken as isometric"),
    );
  }
  if (comparator === undefined) return notes;
  if (otherComparators.length > 0) {
    const others = otherComparators.map((arm) => `"${arm}"`).join(", ");
    notes.push(
      rowNote(
        treated,
        "several-comparators",
        `arm "${comparator.arm}" serves as comparator; ${others} would have matched too`,
      ),
    );
  }
  if (treated.design === "within-person limbs" && made.relation === "different people") {
    notes.push(
      rowNote(
        treated,
        "separate-control",
        `the study trains both limbs, so arm "${comparator.arm}" is taken as other people`,
      ),
    );
  }
  const alike = referenceOrder({ ...treated, arm: "" }, { ...comparator, arm: "" }) === 0;
  if (isTraining(comparator) && comparator.comparatorOf === undefined && alike) {
    notes.push(
      rowNote(
        treated,
        "reference-by-name",
        `nothing coded says which prescription is the heavier; arm "${comparator.arm}" is the reference by the order of the names, so the sign has no meaning of its own`,
      ),
    );
  }
  return notes;
};
