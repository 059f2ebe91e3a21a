import type { Note } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { ArmRelation } from "./arm-relation.js";
import { pooledDeviation } from "./arm-summary.js";
import type { Candidate } from "./effect-candidates.js";
import type { ResolvedEffectsOptions } from "./effects-options.js";
import { isTraining, referenceOrder } from "./match-comparator.js";
import { readMeans } from "./read-means.js";
import { isRefusal, rowNote } from "./refusal.js";
import { rowParticipants } from "./row-participants.js";

/**
 * Doubts about what an effect compares: the kind of arm left blank, several comparators that would have
 * matched, a control group beside trained limbs, baselines that differ, a reference arm told apart by its name only.
 *
 * @source none: bookkeeping
 */
export const comparisonNotes = (
  made: Readonly<{ candidate: Candidate; relation: ArmRelation }>,
  options: Pick<ResolvedEffectsOptions, "baselineGapNoted">,
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
  notes.push(...baselineNotes(treated, comparator, options.baselineGapNoted));
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

/** A note when the two arms stood further apart before training than so many pooled standard deviations. */
const baselineNotes = (
  treated: OutcomeRow,
  comparator: OutcomeRow,
  noted: number,
): readonly Note[] => {
  const [own, other] = [baselineOf(treated), baselineOf(comparator)];
  if (own === undefined || other === undefined) return [];
  const gap = Math.abs(own.mean - other.mean) / pooledDeviation(own, other);
  if (!Number.isFinite(gap) || gap <= noted) return [];
  const shown = (mean: number): string => String(Number(mean.toPrecision(4)));
  return [
    rowNote(
      treated,
      "baselines-differ",
      `before training arm "${treated.arm}" stood at ${shown(own.mean)} and arm "${comparator.arm}" at ${shown(other.mean)}, ${gap.toFixed(1)} pooled standard deviations apart (more than ${noted}), so part of the difference may come from who was in which arm`,
    ),
  ];
};

const baselineOf = (row: OutcomeRow) => {
  const people = rowParticipants(row);
  if (isRefusal(people)) return undefined;
  const { participants } = people;
  const { meanBefore: mean, deviationBefore: deviation } = readMeans(row, participants);
  return mean === undefined || deviation === undefined
    ? undefined
    : { mean, deviation, participants };
};
