/** One record for each outcome family, in the order in which families are told. */
import type { OutcomeRow } from "./outcome-row.js";

export type OutcomeFamilyRecord = Readonly<{
  name: NonNullable<OutcomeRow["outcomeFamily"]>;
  /** Whether a result belongs to the joint angle it was tested at, as a torque does and a volume does not. */
  testedAtAnAngle: boolean;
}>;

/** Every outcome family. A new family is one record here and one word in the codebook. */
export const outcomeFamilies: readonly OutcomeFamilyRecord[] = [
  { name: "strength", testedAtAnAngle: true },
  { name: "size", testedAtAnAngle: false },
  { name: "tendon", testedAtAnAngle: false },
  { name: "rapid force", testedAtAnAngle: true },
  { name: "endurance", testedAtAnAngle: true },
  { name: "symptoms", testedAtAnAngle: false },
  { name: "other", testedAtAnAngle: false },
];

/** Name of the family for effects whose family is not coded. */
export const familyNotCoded = "family not coded";

/** Place of a family in that order; one that is not coded comes last. */
export const placeOfFamily = (family: string): number => {
  const index = outcomeFamilies.findIndex(({ name }) => name === family);
  return index === -1 ? outcomeFamilies.length : index;
};
