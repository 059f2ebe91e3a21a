import { Option, type Command } from "commander";
import { contrasts, type Contrast } from "../effects/effect.js";
import { effectsDefaults } from "../effects/effects-options.js";
import { CallError } from "../errors.js";
import { goalOf, projectionGoals, type ProjectionGoal } from "../projection/goals.js";
import { projectionPriors, type ProjectionPriors } from "../projection/projection-priors.js";
import type { ProjectOptions } from "../projection/project-protocol.js";
import type { TrainingStatus } from "../projection/predictors.js";
import type { Joint } from "../protocol/prescription.js";
import { numberOption } from "./analysis-options.js";
import { jointOption } from "./protocol-argument.js";

/** Options that every command with a projection takes. */
export type ProjectionCommandOptions = Readonly<{
  goal: ProjectionGoal;
  joint?: Joint;
  contrast: Contrast;
  where?: string;
  correlation?: number;
  trainingStatus?: TrainingStatus;
  testDistance?: number;
  confidence: number;
  prior: readonly PriorChange[];
  json?: true;
  output?: string;
}>;

type PriorName = keyof ProjectionPriors;
type PriorChange = Readonly<{ name: PriorName; value: number }>;

const kebab = (name: string): string =>
  name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

const priorNames = Object.keys(projectionPriors("size")) as readonly PriorName[];

/** Priors that place a number rather than spread one, and may be anything or must stay above 0. */
const mayBeAnything: readonly PriorName[] = ["averageMean"];
const mayNotBeFlat: readonly PriorName[] = [
  "averageMean",
  "individualScale",
  "weeksMedian",
  "weeksLogDeviation",
];
const mayBeZero: readonly PriorName[] = ["contextualDeviation"];

/** `slope-deviation=0.2` as a change of one prior; `flat` where a prior can be. */
const priorChange = (text: string): PriorChange => {
  const [written = "", valueText = ""] = text.split("=").map((part) => part.trim());
  const name = priorNames.find((one) => kebab(one) === written || one === written);
  if (name === undefined)
    throw new CallError({
      code: "unknown-prior",
      where: "--prior",
      needs: `name=value with a name out of ${priorNames.map(kebab).join(", ")}`,
      got: `"${text}"`,
    });
  const value =
    valueText === "flat" && !mayNotBeFlat.includes(name)
      ? Infinity
      : numberOption(`--prior ${kebab(name)}`)(valueText);
  if (!mayBeAnything.includes(name) && !(value > 0 || (value === 0 && mayBeZero.includes(name))))
    throw new CallError({
      code: "out-of-range",
      where: `--prior ${kebab(name)}`,
      needs: `a number above 0 on the log scale${mayNotBeFlat.includes(name) ? "" : ", or flat"}`,
      got: `"${valueText}"`,
    });
  return { name, value };
};

/** A share strictly between 0 and 1; a percentage is pointed at, since people mean one when they type 95. */
export const confidenceOption = (text: string): number => {
  const value = numberOption("--confidence")(text);
  if (!(value > 0 && value < 1))
    throw new CallError({
      code: "confidence",
      where: "--confidence",
      needs: "a share above 0 and below 1, for example 0.95",
      got: `"${text}"`,
    });
  return value;
};

/** A percentage of 0 or more, out of `--worthwhile`. */
export const worthwhileOption = (text: string): number => {
  const value = numberOption("--worthwhile")(text.replace(/%$/, ""));
  if (value < 0)
    throw new CallError({
      code: "out-of-range",
      where: "--worthwhile",
      needs: "a percentage of 0 or more",
      got: `"${text}"`,
    });
  return value;
};

/** Adds the options that every command with a projection takes. */
export const withProjectionOptions = (command: Command): Command =>
  command
    .option("--goal <goal>", `one of ${projectionGoals.join(", ")}`, goalOf, goalOf("strength"))
    .addOption(jointOption())
    .addOption(
      new Option("--contrast <contrast>", "which gain is projected")
        .choices(contrasts.filter((contrast) => contrast !== "between-arms"))
        .default(effectsDefaults.contrast),
    )
    .option("--where <conditions>", "use only these rows, e.g. training_status=untrained, weeks>=8")
    .option(
      "--correlation <number>",
      "one pre–post correlation for all effects, in place of each one's own",
      numberOption("--correlation"),
    )
    .addOption(
      new Option("--training-status <status>", "of the people it is for").choices([
        "untrained",
        "recreationally active",
        "resistance-trained",
        "clinical",
      ] satisfies readonly TrainingStatus[]),
    )
    .option(
      "--test-distance <degrees>",
      "between trained and tested angle, for strength elsewhere",
      numberOption("--test-distance"),
    )
    .option(
      "--confidence <share>",
      "share of the probability inside a range",
      confidenceOption,
      0.95,
    )
    .option(
      "--prior <name=value>",
      "change one prior (more than once for several), e.g. slope-deviation=0.2",
      (text: string, before: readonly PriorChange[]) => [...before, priorChange(text)],
      [] as readonly PriorChange[],
    )
    .option("--json", "print one JSON object")
    .option("-o, --output <directory>", "also write figures and tables there");

/** The priors that were changed. */
export const changedPriors = ({ prior }: ProjectionCommandOptions): Partial<ProjectionPriors> =>
  Object.fromEntries(prior.map(({ name, value }) => [name, value]));

/** The projection room's options, as the command line gave them. */
export const projectOptionsOf = (options: ProjectionCommandOptions): ProjectOptions => ({
  confidence: options.confidence,
  ...(options.joint === undefined ? {} : { joint: options.joint }),
  ...(options.trainingStatus === undefined ? {} : { trainingStatus: options.trainingStatus }),
  ...(options.testDistance === undefined ? {} : { testDistanceDegrees: options.testDistance }),
});
