/**
 * A projection, or its refusal, in one or two sentences, and as tables: its three ranges, and their course over
 * weeks. Longer than most, since words and cells are written with the same ranges.
 */
import { contrastShortLabel } from "../effects/scale-label.js";
import type { Note } from "../errors.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import type { ProjectionRefusal } from "../projection/placed-protocol.js";
import type { Projection } from "../projection/project-protocol.js";
import type { Range, ThreeRanges } from "../projection/three-ranges.js";
import type { WithoutTraining } from "../projection/without-training.js";
import { listed } from "../protocol/listed.js";
import { noteLines } from "./note-lines.js";
import { capital, confidenceWords, counted, formatNumber, plainNumber } from "./number-format.js";
import { probabilityCell, rangeCell, rangeLimits, rangeMiddle } from "./range-cells.js";
import { csvNumbers, csvTexts, type Column, type Table } from "./table.js";

/**
 * The three ranges in one sentence, never one number alone, with the call of extrapolation where it is one; or the
 * file's average, where the model holds nothing of the protocol, and why.
 *
 * @param confidence share of the probability inside a range, as it was projected with
 * @param untold     what the file's average cannot say; empty where one protocol stands twice
 */
export const projectionAnswer = (
  projection: Projection,
  prepared: Pick<ReadyProjection, "contrast"> & Partial<Pick<ReadyProjection, "check">>,
  confidence = 0.95,
  untold = "what this intensity, hold or volume would give",
): string => {
  const { newGroup, person } = projection.ranges;
  const { extrapolates, nearArms, nearPeople } = projection.support;
  const { ofProtocol, stillWhy } = projection.parts;
  const about = `${capital(projection.goal)} after ${weeksOf(projection)}${ofProtocol ? " of this protocol" : ""}, ${contrastShortLabel(prepared.contrast)}`;
  const middle = averageOf(projection, confidence);
  return ofProtocol
    ? `${about}: such studies ${middle}, a new group is expected within ${rangeLimits(newGroup)}%, a single person within ${rangeLimits(person)}%; this ${
        extrapolates ? "is an extrapolation" : "lies inside what was studied"
      }, with ${counted(nearArms, "arm")} (${counted(nearPeople, "person", "people")}) near it${
        prepared.check?.misses === true
          ? `, but the model misses the arms of the file (p ${formatNumber(prepared.check.p, { digits: 2 })})`
          : ""
      }.`
    : `${about}: trials of this file ${middle} at that length of training, whatever the protocol; ${untoldWords(untold, stillWhy)}.`;
};

const weeksOf = ({ weeks }: Pick<Projection, "weeks">): string => counted(weeks, "week");

const averageOf = ({ ranges: { average } }: Pick<Projection, "ranges">, confidence: number) =>
  `average ${rangeMiddle(average)}% (${confidenceWords(confidence)} range ${rangeLimits(average)}%)`;

const untoldWords = (untold: string, why: string): string =>
  untold === ""
    ? "the protocols are the same, so nothing differs"
    : `it cannot say ${untold}: ${why}`;

/** What all trials gave after as many weeks, and the names of the protocols that last as long. */
export type SharedAverage = Readonly<{ projection: Projection; names: readonly string[] }>;

/**
 * Several protocols where the model holds nothing of any: the average of all trials after each length of training, and
 * no difference.
 *
 * @param shared  one for each length of training
 * @param options `differ`: whether any two protocols do; `why` in place of what the file codes too seldom
 */
export const sharedAverageAnswer = (
  shared: readonly SharedAverage[],
  prepared: Pick<ReadyProjection, "contrast">,
  {
    differ,
    why,
    confidence = 0.95,
  }: Readonly<{ differ: boolean; why?: string | undefined; confidence?: number }>,
): string => {
  const untold = differ
    ? `which of ${listed(shared.flatMap(({ names }) => names).sort())} gives more`
    : "";
  const { projection } = shared[0]!;
  if (shared.length === 1 && why === undefined)
    return projectionAnswer(projection, prepared, confidence, untold);
  const each = shared.map(
    ({ projection: one, names }, place) =>
      `${place === 0 ? averageOf(one, confidence) : averageOf(one, confidence).replace("average ", "")} after ${weeksOf(one)} (${listed(names)})`,
  );
  return `${capital(projection.goal)}, ${contrastShortLabel(prepared.contrast)}: trials of this file ${listed(each)}, whatever the protocol; ${untoldWords(untold, why ?? projection.parts.stillWhy)}.`;
};

/** Why nothing is projected, and which supported protocol lies nearest. */
export const projectionRefusalAnswer = (refusal: ProjectionRefusal): string => {
  const { nearest, reason } = refusal;
  const named =
    nearest === undefined || reason.includes(nearest.study)
      ? ""
      : ` The nearest is ${nearest.written === undefined ? `arm "${nearest.arm}"` : `"${nearest.written}"`} of ${nearest.study}, ${formatNumber(nearest.distance, { digits: 1 })} steps away.`;
  const mend = refusal.try === undefined ? "" : `; ${refusal.try}`;
  return `Nothing is projected for ${refusal.goal}: ${reason}${mend}.${named}`;
};

export type ProjectionTableOptions = Readonly<{
  /** Share of the probability inside a range, as it was projected with. */
  confidence?: number;
  /** Smallest gain worth having, percent, as it was projected with. */
  smallestWorthwhilePercent?: number;
  /** The same chances for people who do not train, by the file's controls. */
  untrained?: WithoutTraining;
  id?: string;
}>;
export const projectionTableDefaults = { confidence: 0.95, id: "projection" } as const;

/** The three ranges in the order in which they widen, each with what it is a range of. */
export const rangeWords = [
  {
    key: "average",
    name: "The average over such studies",
    meaning: "the mean gain, were groups like these trained this way many times over",
  },
  {
    key: "newGroup",
    name: "A new group",
    meaning: "the mean gain of one further group",
  },
  {
    key: "person",
    name: "A single person",
    meaning: "what one person of such a group would measure, test error included",
  },
] as const satisfies readonly Readonly<{
  key: keyof ThreeRanges;
  name: string;
  meaning: string;
}>[];

const percent = (logDeviation: number): string =>
  `${formatNumber(100 * Math.expm1(logDeviation), { digits: 1 })}%`;

/** What a single person's range is made of, beyond the group's. */
export const personSentences = ({
  individual,
  measurement,
}: Pick<ReadyProjection, "individual" | "measurement">): readonly string[] => [
  `A single person: people's own response to training is taken to spread by ${percent(individual.deviation)} (one standard deviation; ${percent(individual.interval.low)} to ${percent(individual.interval.high)}), from ${individual.source}${individual.comparisons === 0 ? "" : ` (${counted(individual.comparisons, "comparison")})`}.`,
  measurement === undefined
    ? "No error of measurement is known for this goal, so a single person's range is too narrow."
    : `One measurement errs by ${percent(measurement.deviation)} (one standard deviation; ${measurement.source}); a change holds two.`,
];

/** What the chance of a gain is worth, by those who did not train. */
const untrainedSentence = (
  contrast: ReadyProjection["contrast"],
  untrained: WithoutTraining | undefined,
): string =>
  contrast !== "change-within-arm"
    ? "The gain is over people who do not train, so what these gain is taken off already."
    : untrained === undefined
      ? "No arm of the file goes without training, so how often people gain without it cannot be said; by the error of the test alone, every second person would measure a gain."
      : `Without training: by ${counted(untrained.arms, "arm")} of ${counted(untrained.studies, "study", "studies")} that did not train.`;

/**
 * The three ranges of a projection, always together, each with words that say what it is a range of.
 *
 * @param projection from `projectProtocol`
 * @param prepared   what it was projected from
 */
export const projectionTable = (
  projection: Projection,
  prepared: ReadyProjection,
  options: ProjectionTableOptions = {},
): Table => {
  const { confidence, id } = { ...projectionTableDefaults, ...options };
  const worthwhile = options.smallestWorthwhilePercent;
  const untrained = prepared.contrast === "change-within-arm" ? options.untrained : undefined;
  const row = (
    name: string,
    meaning: string,
    range: Range,
    without: number | undefined,
  ): Readonly<Record<string, string>> => ({
    range: name,
    meaning,
    middle: rangeMiddle(range),
    limits: rangeLimits(range),
    gain: probabilityCell(range.probabilityOfGain),
    without: without === undefined ? "" : probabilityCell(without),
    worthwhile:
      range.probabilityWorthwhile === undefined ? "" : probabilityCell(range.probabilityWorthwhile),
    logMiddle: plainNumber(range.estimate),
    logLow: plainNumber(range.low),
    logHigh: plainNumber(range.high),
    percentMiddle: plainNumber(range.percent.estimate),
    percentLow: plainNumber(range.percent.low),
    percentHigh: plainNumber(range.percent.high),
    probability: plainNumber(range.probabilityOfGain),
  });
  return {
    id,
    title: `${projection.parts.ofProtocol ? "What is projected" : "What trials of this file gave, whatever the protocol"}: ${projection.goal} after ${counted(projection.weeks, "week")}, ${contrastShortLabel(prepared.contrast)}`,
    columns: [
      { key: "range", label: "Range", align: "left" },
      { key: "meaning", label: "What it is a range of", align: "left" },
      { key: "middle", label: "Middle", unit: "%", align: "right" },
      { key: "limits", label: `${confidenceWords(confidence)} range`, unit: "%", align: "right" },
      { key: "gain", label: "Chance of a gain", align: "right" },
      ...(untrained === undefined
        ? []
        : [{ key: "without", label: "Without training", align: "right" } as const]),
      ...(worthwhile === undefined
        ? []
        : [
            {
              key: "worthwhile",
              label: `Chance of more than ${plainNumber(worthwhile)}%`,
              align: "right",
            } as const,
          ]),
    ],
    csvColumns: [
      ...csvTexts("range"),
      ...csvNumbers("logMiddle", "logLow", "logHigh"),
      ...csvNumbers("percentMiddle", "percentLow", "percentHigh", "probability"),
    ],
    rows: rangeWords.map(({ key, name, meaning }) =>
      row(name, meaning, projection.ranges[key], untrained?.chances[key]),
    ),
    notes: [
      `Percent of the score before training (${prepared.contrastWords}).`,
      untrainedSentence(prepared.contrast, options.untrained),
      ...personSentences(prepared),
      ...noteLines(projection.assumed),
      "About groups and people like those studied; a forecast for nobody.",
    ],
  };
};

/**
 * The course of a projection over weeks: the three ranges at each, and whether that week was studied.
 *
 * @param projection from `projectProtocol`, with its course
 * @param prepared   what it was projected from
 */
export const projectionCourseTable = (
  projection: Projection,
  prepared: ReadyProjection,
  options: ProjectionTableOptions = {},
): Table => {
  const { confidence } = { ...projectionTableDefaults, ...options };
  const { low, high } = prepared.weeksStudied;
  const column = (key: string, label: string): Column => ({
    key,
    label,
    unit: "%",
    align: "right",
  });
  const notes: readonly Note[] = prepared.courseIsIdentified
    ? []
    : prepared.notes.filter(({ code }) => code === "one-time");
  return {
    id: `${options.id ?? projectionTableDefaults.id}-course`,
    title: `The course over weeks: middle and ${confidenceWords(confidence)} range`,
    columns: [
      { key: "weeks", label: "Weeks", align: "right" },
      column("average", "The average"),
      column("newGroup", "A new group"),
      column("person", "A single person"),
      { key: "studied", label: "Studied", align: "left" },
    ],
    csvColumns: [
      ...csvNumbers("weeks"),
      ...rangeWords.flatMap(({ key }) => csvNumbers(`${key} middle`, `${key} low`, `${key} high`)),
      ...csvTexts("studied"),
    ],
    rows: projection.course
      .filter(({ weeks }) => weeks > 0)
      .map((point) => ({
        weeks: plainNumber(point.weeks),
        average: rangeCell(point.average),
        newGroup: rangeCell(point.newGroup),
        person: rangeCell(point.person),
        studied: point.studied ? "yes" : point.weeks < low ? "earlier than any test" : "later",
        ...Object.fromEntries(
          rangeWords.flatMap(({ key }) => {
            const { estimate, low: least, high: most } = point[key].percent;
            return [
              [`${key} middle`, plainNumber(estimate)],
              [`${key} low`, plainNumber(least)],
              [`${key} high`, plainNumber(most)],
            ];
          }),
        ),
      })),
    notes: [
      `Tests stand between ${plainNumber(low)} and ${plainNumber(high)} weeks; outside that span the shape of the curve alone speaks.`,
      ...noteLines(notes),
    ],
  };
};
