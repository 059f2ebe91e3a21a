import * as z from "zod";
import { field, name, percentUnitWords, share, text } from "./codebook-field.js";

/** Kinds of arm, in the codebook's order. */
export const armKinds = ["isometric", "dynamic", "other exercise", "no exercise"] as const;

const participants = z.int().min(1).max(100_000);

export const trainingStatuses = [
  "untrained",
  "recreationally active",
  "resistance-trained",
  "clinical",
] as const;

/** Design of the study and the people in the arm. */
export const peopleFields = {
  design: field(
    z.enum([
      "randomised groups",
      "non-randomised groups",
      "within-person limbs",
      "crossover",
      "single group",
    ]),
    {
      title: "Design",
      description: "How people, or their limbs, came into the arms.",
      level: "study",
      spellings: {
        rct: "randomised groups",
        randomised: "randomised groups",
        "randomised controlled trial": "randomised groups",
        "not randomised groups": "non-randomised groups",
        "non randomised": "non-randomised groups",
        "within person": "within-person limbs",
        "within participant limbs": "within-person limbs",
        "within subject limbs": "within-person limbs",
        "cross over": "crossover",
      },
      example: "randomised groups",
    },
  ),
  limbAllocation: field(z.enum(["at random", "not at random"]), {
    title: "Allocation of limbs",
    description:
      "Whether it was left to chance which limb was trained, or trained how, where limbs of the same people are compared.",
    level: "study",
    spellings: {
      random: "at random",
      randomised: "at random",
      "by dominance": "not at random",
      chosen: "not at random",
    },
    example: "at random",
  }),
  arm: field(name, {
    title: "Arm",
    description:
      "Short id of the arm, the same on all its rows and different from the study's other arms.",
    level: "row",
    required: true,
    example: "long holds",
  }),
  armKind: field(z.enum(armKinds), {
    title: "Kind of arm",
    description: "What the arm did. A control group that did not train is no exercise.",
    level: "arm",
    essential: true,
    spellings: {
      control: "no exercise",
      "no training": "no exercise",
      "non exercise": "no exercise",
      isometrics: "isometric",
      other: "other exercise",
    },
    example: "isometric",
  }),
  comparatorOf: field(text, {
    title: "Comparator of",
    description:
      "Arm this one is the control for, when it is not obvious; several arms are separated by a slash with spaces.",
    level: "arm",
    example: "long holds",
  }),
  nStart: field(participants, {
    title: "People at the start",
    description: "People allocated to the arm (limbs, when limbs were allocated).",
    level: "arm",
    essential: true,
    unit: "people",
    example: "15",
  }),
  nEnd: field(participants, {
    title: "People measured",
    description: "People whose numbers stand in this row; may differ between outcomes.",
    level: "row",
    essential: true,
    unit: "people",
    example: "14",
  }),
  ageMeanYears: field(z.number().min(0).max(120), {
    title: "Mean age",
    description: "Mean age of the arm, else of the study.",
    level: "arm",
    unit: "years",
    unitWords: ["y", "yr", "yrs", "year", "years"],
    example: "24.3",
  }),
  femalePercent: field(share, {
    title: "Women",
    description: "Share of women and girls in the arm, else in the study.",
    level: "arm",
    unit: "%",
    unitWords: percentUnitWords,
    fractionBelow: 1,
    words: {
      men: 0,
      male: 0,
      males: 0,
      boys: 0,
      women: 100,
      female: 100,
      females: 100,
      girls: 100,
    },
    example: "50",
  }),
  trainingStatus: field(z.enum(trainingStatuses), {
    title: "Training status",
    description: "What the people did before the trial, as the source says.",
    level: "arm",
    spellings: {
      trained: "resistance-trained",
      "strength trained": "resistance-trained",
      active: "recreationally active",
      sedentary: "untrained",
      patients: "clinical",
    },
    example: "untrained",
  }),
  condition: field(name, {
    title: "Condition",
    description: "Diagnosis or complaint of a clinical group.",
    level: "arm",
    example: "patellar tendinopathy",
  }),
  muscleGroup: field(name, {
    title: "Muscle group",
    description: "Muscles trained, named by their action where the source does.",
    level: "arm",
    example: "knee extensors",
  }),
  limb: field(z.enum(["one", "both"]), {
    title: "Limbs trained",
    description: "One limb or both.",
    level: "arm",
    spellings: {
      unilateral: "one",
      bilateral: "both",
      single: "one",
      "1": "one",
      "2": "both",
      two: "both",
    },
    example: "one",
  }),
};
