import * as z from "zod";
import { degreeUnitWords, field, percentUnitWords, secondUnitWords } from "./codebook-field.js";

const percentOfMaximum = z.number().min(0).max(130);
const seconds = z.number().positive().max(7200);

/** What the arm was told to do. */
export const prescriptionFields = {
  action: field(z.enum(["pushing against a fixed stop", "holding a load"]), {
    title: "Action",
    description:
      "Whether people pushed or pulled against something that cannot move, or held a load still.",
    level: "arm",
    spellings: { pushing: "pushing against a fixed stop", holding: "holding a load" },
    example: "pushing against a fixed stop",
  }),
  effortIntent: field(z.enum(["ramped and sustained", "as fast as possible", "to failure"]), {
    title: "Intent of the hold",
    description: "How people were told to build the force.",
    level: "arm",
    spellings: {
      sustained: "ramped and sustained",
      explosive: "as fast as possible",
      failure: "to failure",
    },
    example: "ramped and sustained",
  }),
  intensityPercent: field(percentOfMaximum, {
    title: "Intensity",
    description:
      "Prescribed intensity in percent of the basis; 100 for maximal. For a range, its lower end, or the range itself (70–85) in this cell. For an effort rating, ten times the rating.",
    level: "arm",
    unit: "%",
    unitWords: percentUnitWords,
    rangeHigh: "intensity_percent_high",
    fractionBelow: 1.3,
    words: {
      max: 100,
      maximal: 100,
      maximum: 100,
      mvc: 100,
      "maximal effort": 100,
      "all-out": 100,
    },
    example: "80",
  }),
  intensityPercentHigh: field(percentOfMaximum, {
    title: "Intensity, upper end",
    description: "Upper end when the source gives a range.",
    level: "arm",
    unit: "%",
    unitWords: percentUnitWords,
    fractionBelow: 1.3,
    example: "90",
  }),
  intensityBasis: field(
    z.enum([
      "percent of MVC at the training angle",
      "percent of MVC at another angle",
      "effort rating 0–10",
      "percent of one-repetition maximum",
      "maximal effort",
    ]),
    {
      title: "Basis of the intensity",
      description: "What the percentage is of; MVC is the maximal voluntary contraction.",
      level: "arm",
      spellings: {
        mvc: "percent of MVC at the training angle",
        "percent of mvc": "percent of MVC at the training angle",
        "% mvc": "percent of MVC at the training angle",
        "1rm": "percent of one-repetition maximum",
        "percent of 1rm": "percent of one-repetition maximum",
        maximal: "maximal effort",
        "effort rating": "effort rating 0–10",
      },
      example: "percent of MVC at the training angle",
    },
  ),
  holdSeconds: field(seconds, {
    title: "Hold",
    description:
      "Length of one contraction. For a range, its lower end, or the range itself (3–10) in this cell.",
    level: "arm",
    unit: "s",
    unitWords: secondUnitWords,
    rangeHigh: "hold_seconds_high",
    example: "5",
  }),
  holdSecondsHigh: field(seconds, {
    title: "Hold, upper end",
    description: "Upper end when the source gives a range.",
    level: "arm",
    unit: "s",
    unitWords: secondUnitWords,
    example: "10",
  }),
  repetitions: field(z.number().positive().max(2000), {
    title: "Repetitions",
    description: "Contractions per set; the mean when they varied.",
    level: "arm",
    unit: "contractions",
    unitWords: ["reps", "rep", "repetitions", "contractions", "rm", "x", "×"],
    example: "6",
  }),
  sets: field(z.number().positive().max(200), {
    title: "Sets",
    description: "Sets per session; the mean when they varied.",
    level: "arm",
    unit: "sets",
    unitWords: ["sets", "set", "x", "×"],
    example: "4",
  }),
  restBetweenRepetitionsSeconds: field(z.number().min(0).max(7200), {
    title: "Rest between holds",
    description: "Pause from the end of one contraction to the start of the next in the same set.",
    level: "arm",
    unit: "s",
    unitWords: secondUnitWords,
    example: "5",
  }),
  restBetweenSetsSeconds: field(z.number().min(0).max(86_400), {
    title: "Rest between sets",
    description: "Pause from the last contraction of one set to the first of the next.",
    level: "arm",
    unit: "s",
    unitWords: secondUnitWords,
    example: "120",
  }),
  sessionsPerWeek: field(z.number().positive().max(50), {
    title: "Sessions a week",
    description: "Training sessions a week; the mean when they varied.",
    level: "arm",
    unit: "sessions a week",
    unitWords: ["", "x", "×", "times", "sessions", "days", "d"].flatMap((word) =>
      ["", "/week", "/wk", "per week", "a week", "per wk", "weekly"].flatMap((week) => [
        `${word}${week}`,
        `${word} ${week}`.trim(),
      ]),
    ),
    example: "3",
  }),
  weeks: field(z.number().positive().max(520), {
    title: "Weeks of training",
    description: "Length of the whole programme.",
    level: "arm",
    unit: "weeks",
    unitWords: ["week", "weeks", "wk", "wks"],
    example: "8",
  }),
  sessionsCompletedPercent: field(z.number().min(0).max(130), {
    title: "Sessions completed",
    description: "Mean share of the prescribed sessions that people did.",
    level: "arm",
    unit: "%",
    unitWords: percentUnitWords,
    fractionBelow: 1,
    example: "93",
  }),
  trainingAngleDegrees: field(z.array(z.number().min(-360).max(360)).min(1), {
    title: "Training angle",
    description:
      "Joint angle the arm trained at; several angles are separated by a slash with spaces.",
    level: "arm",
    unit: "degrees",
    unitWords: degreeUnitWords,
    example: "30 / 60 / 90",
  }),
  angleConvention: field(
    z.enum([
      "full extension is 0",
      "full extension is 180",
      "ankle neutral is 0",
      "ankle neutral is 90",
      "other",
    ]),
    {
      title: "Angle convention",
      description:
        "Which posture the source calls which angle; it holds for training and test angles alike.",
      level: "arm",
      spellings: {
        "0": "full extension is 0",
        "180": "full extension is 180",
        "full extension 0": "full extension is 0",
        "full extension 180": "full extension is 180",
        "extension is 0": "full extension is 0",
        "extension is 180": "full extension is 180",
      },
      example: "full extension is 0",
    },
  ),
  muscleLength: field(z.enum(["short", "middle", "long"]), {
    title: "Muscle length",
    description:
      "Length of the muscle in training: the authors' word, or from a stated band of angles, else blank.",
    level: "arm",
    spellings: {
      "short length": "short",
      "short muscle length": "short",
      "long length": "long",
      "long muscle length": "long",
      "middle length": "middle",
      "medium length": "middle",
      shortened: "short",
      lengthened: "long",
      intermediate: "middle",
      medium: "middle",
      mid: "middle",
    },
    example: "long",
  }),
};
