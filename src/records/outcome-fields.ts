import * as z from "zod";
import { listed } from "../protocol/listed.js";
import type { FamilyRecord } from "./outcome-families.js";
import { outcomeFamilies, outcomeFamilyNames } from "./outcome-families.js";
import { degreeUnitWords, field, name, percentUnitWords, share } from "./codebook-field.js";

/** How the muscle worked in the test; isometric first, as a blank counts. */
export const testModes = ["isometric", "moving at fixed speed", "lifting", "other"] as const;

export const testSides = ["trained", "untrained"] as const;

/** Names of families in a sentence: "symptoms and blood pressure". */
const familiesThat = (holds: (family: FamilyRecord) => boolean): string =>
  listed(outcomeFamilyNames.filter((family) => holds(outcomeFamilies[family])));

/** What was measured, where, when and how. */
export const outcomeFields = {
  outcome: field(name, {
    title: "Outcome",
    description:
      "What was measured, such as peak isometric torque, muscle volume, tendon stiffness, time to task failure or pain 0–10.",
    level: "row",
    required: true,
    example: "peak isometric torque",
  }),
  outcomeFamily: field(z.enum(outcomeFamilyNames), {
    title: "Outcome family",
    description:
      "Kind of outcome; outcomes of one family may be pooled and lend each other a correlation.",
    level: "row",
    essential: true,
    spellings: Object.fromEntries(
      outcomeFamilyNames.flatMap((family) =>
        outcomeFamilies[family].spellings.map((spelling) => [spelling, family]),
      ),
    ),
    example: "strength",
  }),
  method: field(name, {
    title: "Method",
    description: "Device or procedure of the measurement.",
    level: "row",
    example: "dynamometer",
  }),
  unit: field(name, {
    title: "Unit",
    description: "Unit of the printed numbers.",
    level: "row",
    example: "N·m",
  }),
  higherIs: field(z.enum(["better", "worse"]), {
    title: "Higher is",
    description: `Whether more of the outcome is better or worse. Blank: worse for ${familiesThat(({ higherIs }) => higherIs === "worse")}, better for the rest.`,
    level: "row",
    essential: true,
    example: "better",
  }),
  lowestScore: field(z.number(), {
    title: "Lowest score",
    description: "Floor of a score that has one, such as 0 of a rating from 0 to 10.",
    level: "row",
    example: "0",
  }),
  highestScore: field(z.number(), {
    title: "Highest score",
    description:
      "Ceiling of a score that has one. A score with a floor and a ceiling is compared in its points and not as a ratio.",
    level: "row",
    example: "10",
  }),
  testMode: field(z.enum(testModes), {
    title: "Test mode",
    description: `How the muscle worked in the test. Blank counts as isometric; leave it blank for ${familiesThat(({ hasTestMode }) => !hasTestMode)}, where it does not apply.`,
    level: "row",
    essential: true,
    spellings: {
      isokinetic: "moving at fixed speed",
      "fixed speed": "moving at fixed speed",
      "one repetition maximum": "lifting",
      "1rm": "lifting",
      dynamic: "lifting",
    },
    example: "isometric",
  }),
  testAngleDegrees: field(z.number().min(-360).max(360), {
    title: "Test angle",
    description: "Joint angle of the test.",
    level: "row",
    unit: "degrees",
    unitWords: degreeUnitWords,
    example: "60",
  }),
  testSitePercent: field(share, {
    title: "Test site",
    description: "Place along the muscle or bone, in percent of its length from the near end.",
    level: "row",
    unit: "%",
    unitWords: percentUnitWords,
    example: "50",
  }),
  testSide: field(z.enum(testSides), {
    title: "Side tested",
    description: "Trained or untrained limb.",
    level: "row",
    spellings: { contralateral: "untrained", ipsilateral: "trained" },
    example: "trained",
  }),
  weekMeasured: field(z.number().min(0).max(1040), {
    title: "Week measured",
    description:
      "Weeks from the start of training to this measurement; blank: the end of training.",
    level: "row",
    unit: "weeks",
    unitWords: ["week", "weeks", "wk", "wks"],
    example: "8",
  }),
};
