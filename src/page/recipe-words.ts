/** The words of the command line that make a figure of the page again, for its recipe. */
import type { EffectScale } from "../effects/effect.js";
import type { CompareOptions } from "../projection/compare-protocols.js";
import type { ProjectionGoal } from "../projection/goals.js";
import type { RampFrom } from "../projection/ramp-start.js";
import type { Prescription } from "../protocol/prescription.js";
import { writePrescription } from "../protocol/write-prescription.js";
import type { ExploreWish } from "./jobs/explore-job.js";

type RecipeWord = string | Readonly<{ input: "data" }>;

/** Words of a command, in its order. */
export type RecipeWords = readonly RecipeWord[];

const data = { input: "data" } as const;

/** An option with its value, or nothing where the value is the command's own. */
const option = (name: string, value: string | number | undefined): readonly string[] =>
  value === undefined ? [] : [name, String(value)];

/** Figures of the report on one scale. */
export const reportWords = (scale: EffectScale): RecipeWords => ["report", data, "--scale", scale];

/** The frontier of the explore view. */
export const exploreWords = ({ goal, contrast, limits, keep }: ExploreWish): RecipeWords => [
  ...["explore", data, "--goal", goal, "--contrast", contrast, "--keep", keep],
  ...option("--minutes", limits.minutesPerSession),
  ...option("--sessions", limits.sessionsPerWeek),
  ...option("--effort-up-to", limits.effortCeilingPercent),
  ...option("--joint", limits.joint),
  ...option("--weeks", limits.weeks),
  ...(limits.muscleLengths ?? []).flatMap((length) => ["--length", length]),
];

/** The weeks of the ramp view, which rest on no table. */
export const rampWords = (target: Prescription, from: RampFrom, weeks: number): RecipeWords => [
  ...["ramp", writePrescription(target), "--from", from],
  ...option("--weeks", weeks),
];

const adjustWord = {
  holdSeconds: "hold-length",
  repetitions: "repetitions",
  sets: "sets",
} as const;

/** The comparison of the protocols view. */
export const comparisonWords = (
  protocols: readonly Prescription[],
  asked: Readonly<{ goal: ProjectionGoal; contrast: string }> &
    Pick<CompareOptions, "smallestWorthwhilePercent" | "trainingStatus" | "equalise">,
): RecipeWords => [
  ...["compare", data, ...protocols.map(writePrescription)],
  ...["--goal", asked.goal, "--contrast", asked.contrast],
  ...option("--worthwhile", asked.smallestWorthwhilePercent),
  ...option("--training-status", asked.trainingStatus),
  ...option("--equal", asked.equalise?.quantity.replaceAll(/[ –]/g, "-")),
  ...option(
    "--adjust",
    asked.equalise?.adjust === undefined ? undefined : adjustWord[asked.equalise.adjust],
  ),
];
