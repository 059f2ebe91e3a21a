/** Protocols side by side as tables: what is projected for each, what each costs, and how two differ. */
import { contrastShortLabel } from "../effects/scale-label.js";
import type {
  ComparedProtocol,
  ProtocolComparison,
  ProtocolDifference,
} from "../projection/compare-protocols.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import { capital, confidenceWords, counted, formatNumber, plainNumber } from "./number-format.js";
import { listed } from "../protocol/listed.js";
import { gradeWords } from "./hold-table.js";
import { noteLines } from "./note-lines.js";
import { personSentences } from "./projection-table.js";
import { probabilityCell, rangeCell, rangeLimits, rangeMiddle, rangeText } from "./range-cells.js";
import { csvNumbers, csvTexts, type Column, type Table } from "./table.js";

export type ComparisonTableOptions = Readonly<{
  /** Share of the probability inside a range, as it was compared with. */
  confidence?: number;
  id?: string;
}>;
export const comparisonTableDefaults = { confidence: 0.95, id: "comparison" } as const;

/**
 * The three ranges of every protocol, a row each.
 *
 * @param comparison from `compareProtocols`
 * @param prepared   what it was projected from
 */
export const comparisonTable = (
  comparison: ProtocolComparison,
  prepared: Pick<ReadyProjection, "contrast" | "contrastWords" | "individual" | "measurement">,
  options: ComparisonTableOptions = {},
): Table => {
  const { confidence, id } = { ...comparisonTableDefaults, ...options };
  const range = (key: string, label: string): Column => ({
    key,
    label,
    unit: "%",
    align: "right",
  });
  return {
    id,
    title: `Side by side: ${comparison.goal}, ${contrastShortLabel(prepared.contrast)}; middle and ${confidenceWords(confidence)} range`,
    columns: [
      { key: "name", label: "Protocol", align: "left" },
      { key: "written", label: "Prescription", align: "left" },
      { key: "weeks", label: "Weeks", align: "right" },
      range("average", "The average over such studies"),
      range("newGroup", "A new group"),
      range("person", "A single person"),
    ],
    rows: comparison.protocols.map(({ name, written, projection: { ranges, weeks } }) => ({
      name,
      written,
      weeks: plainNumber(weeks),
      average: rangeCell(ranges.average),
      newGroup: rangeCell(ranges.newGroup),
      person: rangeCell(ranges.person),
    })),
    notes: [
      `Percent of the score before training (${prepared.contrastWords}).`,
      ...personSentences(prepared),
      ...noteLines(comparison.protocols.flatMap(({ projection }) => projection.assumed)),
    ],
  };
};

const minutes = (seconds: number): string => formatNumber(seconds / 60, { digits: 1 });

const held = ({ feasibility }: ComparedProtocol): Readonly<{ grade: string; reserve: string }> => {
  if (feasibility.kind === "not judged")
    return { grade: "cannot be said: rests or intensity missing", reserve: "" };
  const { assessment } = feasibility;
  const { smallestReservePercent: spare } = assessment;
  const whole = (value: number): string => formatNumber(value, { digits: 0 });
  return {
    grade: gradeWords(assessment),
    reserve:
      assessment.grade === null
        ? ""
        : `${whole(spare.central)} (${whole(spare.low)} to ${whole(spare.high)})`,
  };
};

/** What each protocol costs, whether it can be held, and how much evidence lies near it. */
export const comparisonCostTable = (
  { protocols }: Pick<ProtocolComparison, "protocols">,
  id = "comparison-cost",
): Table => ({
  id,
  title: "What each takes, and what lies near it",
  columns: [
    { key: "name", label: "Protocol", align: "left" },
    { key: "grade", label: "Can be held", align: "left" },
    { key: "reserve", label: "To spare", unit: "points of MVC", align: "right" },
    { key: "session", label: "Session", unit: "min", align: "right" },
    { key: "week", label: "A week", unit: "min", align: "right" },
    { key: "tension", label: "Tension time", unit: "s", align: "right" },
    { key: "torque", label: "Torque–time", unit: "%·s", align: "right" },
    { key: "near", label: "Near it", align: "left" },
  ],
  rows: protocols.map((protocol) => {
    const { name, prescription, sessionSeconds, tensionTimeSeconds, torqueTime } = protocol;
    const { support } = protocol.projection;
    const frequency = prescription.sessionsPerWeek;
    return {
      name,
      ...held(protocol),
      session: sessionSeconds === undefined ? "not known" : minutes(sessionSeconds),
      week:
        sessionSeconds === undefined || frequency === undefined
          ? "not known"
          : minutes(sessionSeconds * frequency),
      tension: plainNumber(Number(tensionTimeSeconds.toFixed(1))),
      torque: torqueTime === undefined ? "not known" : plainNumber(Math.round(torqueTime)),
      near: `${counted(support.nearArms, "arm")}, ${counted(support.nearPeople, "person", "people")}${support.extrapolates ? "; extrapolation" : ""}`,
    };
  }),
  notes: [
    "To spare: least capacity above the load at the end of a hold, by the endurance model, with the band from those who tire early to those who tire late.",
    ...protocols.flatMap(({ name, projection: { support } }) =>
      support.extrapolates ? [`Extrapolation for ${name}: ${support.reasons.join("; ")}.`] : [],
    ),
  ],
});

/** Whether two of the protocols are the same to the last field that counts. */
export const isSameProtocol = (
  { protocols }: Pick<ProtocolComparison, "protocols">,
  { first, second }: Pick<ProtocolDifference, "first" | "second">,
): boolean => {
  const [one, other] = [protocols[first], protocols[second]];
  return one?.written === other?.written && one?.projection.weeks === other?.projection.weeks;
};

/** What stands where a number would only say that the model was given nothing to tell a pair apart by. */
const untold = "cannot be told";

/** Whether two different protocols are one to the model. */
export const isUntold = (
  comparison: Pick<ProtocolComparison, "protocols">,
  difference: ProtocolDifference,
): boolean => !difference.toldApart && !isSameProtocol(comparison, difference);

/** Two protocols that are one to the model differ by nothing; any others by a number with its range. */
const numberWords = (
  comparison: Pick<ProtocolComparison, "protocols">,
  difference: ProtocolDifference,
  confidence: number,
): string => {
  const [first, second] = [difference.first, difference.second].map(
    (place) => comparison.protocols[place]?.name ?? "",
  );
  return difference.toldApart
    ? `${first} minus ${second} is ${rangeMiddle(difference.average)}% (${confidenceWords(confidence)} range ${rangeLimits(difference.average)}%)`
    : `${first} and ${second}`;
};

/**
 * The answer of a comparison in one sentence: of two protocols their difference with its range and the call, of more
 * how many pairs are told apart, and which.
 *
 * @param prepared   what it was projected from
 * @param confidence share of the probability inside a range, as it was compared with
 */
export const comparisonAnswer = (
  comparison: ProtocolComparison,
  prepared: Pick<ReadyProjection, "contrast">,
  confidence: number = comparisonTableDefaults.confidence,
): string => {
  const { differences, goal } = comparison;
  const about = `${capital(goal)}, ${contrastShortLabel(prepared.contrast)}`;
  const [only, another] = differences;
  if (only !== undefined && another === undefined)
    return `${about}: ${numberWords(comparison, only, confidence)}${only.toldApart ? ";" : ":"} ${only.verdict.words}.`;
  const told = differences.filter(({ verdict }) => verdict.call !== "tie");
  const pairs = told.map(
    (difference) =>
      `${difference.verdict.short} (${numberWords(comparison, difference, confidence)})`,
  );
  return `${about}: ${told.length === 0 ? "none" : told.length} of ${counted(differences.length, "pair")} ${told.length > 1 ? "are" : "is"} told apart${told.length === 0 ? "" : `: ${pairs.join("; ")}`}.`;
};

/** Every pair's call in a sentence, with its rule and with what it rests on. */
export const verdictSentences = (comparison: ProtocolComparison): readonly string[] =>
  comparison.differences.map((difference) => {
    const name = (place: number): string => comparison.protocols[place]?.name ?? "";
    const pair = `${name(difference.first)} against ${name(difference.second)}`;
    return isSameProtocol(comparison, difference)
      ? `${pair}: ${difference.verdict.words}.`
      : [
          `${pair}: ${difference.verdict.words}.`,
          `Rests on ${restsOn(difference)}.${directWords(difference)}`,
          ...besideCall(comparison, difference),
        ].join(" ");
  });

/** What stands beside a call: rows without a weight, the curve of the only dose that differs, what the model does not hold. */
export const besideCall = (
  { protocols }: Pick<ProtocolComparison, "protocols">,
  { first, second, curve, unseen, unweighted, toldApart }: ProtocolDifference,
): readonly string[] => [
  ...(unweighted === undefined ? [] : [unweighted]),
  ...(curve === undefined
    ? []
    : [
        `The curve of ${curve.label} alone gives ${curve.first} over ${curve.second} ${rangeText({ estimate: curve.estimate, ...curve.interval })} (${curve.evidence}).`,
      ]),
  ...(toldApart && unseen.length > 0
    ? [
        `${protocols[first]?.name ?? ""} and ${protocols[second]?.name ?? ""} also differ in ${listed(unseen)}, which moved nothing here.`,
      ]
    : []),
];

/** What the trials that compare two such arms say by themselves, and whether they point the model's way. */
const directWords = ({
  headToHead: { trials, pooled },
  average,
  toldApart,
}: ProtocolDifference): string => {
  if (pooled === undefined) return "";
  const distances = trials.flatMap(({ firstDistance, secondDistance }) => [
    firstDistance,
    secondDistance,
  ]);
  const steps = (value: number): string => formatNumber(value, { digits: 1 });
  const away = `${steps(Math.min(...distances))} to ${steps(Math.max(...distances))} steps away`;
  // Two estimates near nothing differ in sign by chance; only where one range leaves the other out is it worth a word.
  const apart =
    pooled.estimate < average.low ||
    pooled.estimate > average.high ||
    average.estimate < pooled.interval.low ||
    average.estimate > pooled.interval.high;
  const model = toldApart ? `, the model ${rangeText(average)}` : "";
  const turned = toldApart && apart && Math.sign(pooled.estimate) * Math.sign(average.estimate) < 0;
  return ` ${trials.length === 1 ? "That trial by itself gives" : "Those trials by themselves give"} ${rangeText({ estimate: pooled.estimate, ...pooled.interval })} for arms that lie ${away}${model}${turned ? "; the two point opposite ways" : ""}.`;
};

/** What a difference rests on; indirect evidence is named as such. */
export const restsOn = ({ headToHead, unweighted }: ProtocolDifference): string =>
  headToHead.trials.length > 0
    ? `${counted(headToHead.trials.length, "head-to-head trial")} and the model`
    : `indirect evidence: no trial of the file ${unweighted === undefined ? "" : "with a weight "}compares two such arms`;

/**
 * Every pair's difference in projected gain with its ranges, the chances, the call and what it rests on.
 *
 * @param comparison from `compareProtocols`
 */
export const differencesTable = (
  comparison: ProtocolComparison,
  options: ComparisonTableOptions = {},
): Table => {
  const { confidence } = { ...comparisonTableDefaults, ...options };
  const worthwhile = comparison.smallestWorthwhilePercent;
  const amount = `${plainNumber(worthwhile)}%`;
  const name = (place: number): string => comparison.protocols[place]?.name ?? "";
  const right = (key: string, label: string, unit?: string): Column => ({
    key,
    label,
    ...(unit === undefined ? {} : { unit }),
    align: "right",
  });
  return {
    id: `${options.id ?? comparisonTableDefaults.id}-differences`,
    title: `Differences in projected gain, with ${confidenceWords(confidence)} ranges`,
    columns: [
      { key: "pair", label: "Pair", align: "left" },
      right("average", "First over second, average", "%"),
      right("newTrial", "In a further study", "%"),
      ...(worthwhile === 0
        ? [right("first", "Chance the first is better")]
        : [
            right("firstWorthwhile", `First better by more than ${amount}`),
            right("secondWorthwhile", `Second better by more than ${amount}`),
            right("within", `Less than ${amount} apart`),
          ]),
      { key: "call", label: "Call", align: "left" },
      { key: "rests", label: "Rests on", align: "left" },
    ],
    csvColumns: [
      ...csvTexts("pair"),
      ...csvNumbers("estimate", "low", "high", "newLow", "newHigh"),
      ...csvNumbers("probability", "probabilityFirst", "probabilitySecond"),
      ...csvTexts("call", "rests"),
    ],
    rows: comparison.differences.map((difference) => {
      const told = (cell: string): string => (isUntold(comparison, difference) ? untold : cell);
      // A CSV is read by programs: what cannot be told is a blank there.
      const number = (value: number): string =>
        isUntold(comparison, difference) ? "" : plainNumber(value);
      return {
        pair: `${name(difference.first)} – ${name(difference.second)}`,
        average: told(rangeCell(difference.average)),
        newTrial: told(rangeCell(difference.newTrial)),
        first: isSameProtocol(comparison, difference)
          ? "neither"
          : told(probabilityCell(difference.probabilityFirstBetter)),
        firstWorthwhile: told(probabilityCell(difference.probabilityFirstWorthwhile)),
        secondWorthwhile: told(probabilityCell(difference.probabilitySecondWorthwhile)),
        within: told(probabilityCell(difference.probabilityWithin)),
        call: difference.verdict.short,
        rests: restsOn(difference),
        estimate: number(difference.average.percent.estimate),
        low: number(difference.average.percent.low),
        high: number(difference.average.percent.high),
        newLow: number(difference.newTrial.percent.low),
        newHigh: number(difference.newTrial.percent.high),
        probability: number(difference.probabilityFirstBetter),
        probabilityFirst: number(difference.probabilityFirstWorthwhile),
        probabilitySecond: number(difference.probabilitySecondWorthwhile),
      };
    }),
    notes: [
      "A difference is the ratio of the scores after training: 3% means an end score 3% higher. What two protocols share cancels, so it is surer than the two ranges set beside each other suggest.",
      "In a further study: where the difference of two new groups should fall, their own scatter included.",
      worthwhile > 0
        ? `${amount} is the difference that counts here: as asked for, or else the amount stated for this kind of outcome.`
        : "Any difference counts, as was asked for.",
    ],
  };
};
