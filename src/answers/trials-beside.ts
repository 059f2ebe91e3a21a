/** What single trials compared beside another answer: leading where nothing can be pooled, folded where something can. */
import type { NamedFigure } from "../figures/figure-list.js";
import { doseDistance, supportLimits } from "../projection/support.js";
import { grouped } from "../records/grouped.js";
import { capital, counted } from "../tables/number-format.js";
import { folded, type Table } from "../tables/table.js";
import type { AnswerPart } from "./outcome-groups.js";
import {
  comparisonWords,
  comparisonsFigures,
  comparisonsTable,
  differenceWords,
  gainWords,
  nearestFirst,
  pairOf,
  type AskedPlace,
} from "./trial-comparisons-shown.js";
import type {
  ComparedArm,
  ComparedGroup,
  TrialComparison,
  TrialComparisons,
} from "./trial-comparisons.js";

/** One comparison for every two rows: that of the variable which comes first in a prescription. */
export const onePerPair = (comparisons: readonly TrialComparison[]): readonly TrialComparison[] =>
  [...grouped(comparisons, pairOf).values()].flatMap(([first]) => first ?? []);

/** What leads: known in most, different in least, and with an interval where there is one. */
export const clearest = (comparisons: readonly TrialComparison[]): TrialComparison | undefined => {
  const doubt = (one: TrialComparison): number =>
    10 * (one.variable === "notCoded" ? 1 : 0) +
    2 * (one.alsoDiffer.length + one.unknown.length) +
    (one.interval === null ? 1 : 0);
  return [...comparisons].sort((a, b) => doubt(a) - doubt(b))[0];
};

/** Rows of a table that leads; what is beyond stands in the question single-trials. */
const leadingRows = 12;

/** The table and, where it leads, the drawing of what single trials compared beside another answer. */
const besides = (
  { group, comparisons, confidence, instead }: TrialsOfGroup,
  asked: readonly AskedPlace[] = [],
) => {
  const own = onePerPair(comparisons);
  const shown = instead === undefined ? own.slice(0, leadingRows) : own;
  const named = asked.length === 0 ? group : { ...group, id: `${group.id}-near` };
  const table = comparisonsTable(named, shown, confidence, asked);
  const more = own.length - shown.length;
  return {
    own,
    table: {
      ...table,
      notes: [
        ...table.notes,
        ...(more === 0
          ? []
          : [
              `${counted(more, "more comparison")} of this kind: the question single-trials lists them.`,
            ]),
      ],
    },
    figures: comparisonsFigures(named, shown, confidence),
  };
};

/** What single trials compared of one kind of outcome, as another answer shows it. */
export type TrialsOfGroup = Readonly<{
  group: Pick<ComparedGroup, "id" | "label">;
  comparisons: readonly TrialComparison[];
  confidence: number;
  /**
   * Where the trials are the question's own and stand in full: what cannot be had and why, as the headline begins where
   * they lead.
   */
  instead?: string;
}>;

/** The comparisons of a kind of outcome. */
export const trialsOf = (
  { comparisons }: Pick<TrialComparisons, "comparisons">,
  group: Pick<ComparedGroup, "id" | "label">,
  confidence: number,
): TrialsOfGroup => ({
  group,
  confidence,
  comparisons: comparisons.filter(({ group: of }) => of === group.id),
});

/**
 * What is said of one kind of outcome with what single trials compared: they lead where nothing can be pooled, and stand
 * folded beside where something is.
 */
export const withTrials = (
  part: AnswerPart,
  trials: TrialsOfGroup,
  isPooled: boolean,
): AnswerPart => {
  if (trials.comparisons.length === 0) return part;
  const { own, table, figures } = besides(trials);
  const lead = clearest(own);
  if (isPooled || lead === undefined)
    return {
      ...part,
      tables: [...(part.tables ?? []), trials.instead === undefined ? folded(table) : table],
    };
  const more = own.length - 1;
  return {
    ...part,
    headline: `${capital(trials.group.label)}: ${trials.instead ?? "no doses can be pooled; single trials compared them"}. ${comparisonWords(lead)}.${
      more === 0
        ? ""
        : ` ${counted(more, "more comparison")} of two arms ${more === 1 ? "stands" : "stand"} in the table.`
    }`,
    sentences: [
      ...(trials.instead === undefined ? [part.headline] : []),
      ...(part.sentences ?? []),
    ],
    tables: [table, ...(part.tables ?? [])],
    figures: [...figures, ...(part.figures ?? [])],
  };
};

/** Two values that are the same but for rounding. */
const alike = (a: number | undefined, b: number | undefined): boolean =>
  a !== undefined && b !== undefined && Math.abs(a - b) <= 0.01 * Math.max(a, b);
const mayBe = <Value>(a: Value | undefined, b: Value | undefined): boolean =>
  a === undefined || b === undefined || a === b;

/** Whether an arm is a protocol, as far as both say; intensity, hold and tension time must be said. */
const isProtocol = ({ place: arm }: ComparedArm, { place }: AskedPlace): boolean =>
  (["effortPercent", "holdSeconds", "tensionTimeSeconds"] as const).every((axis) =>
    alike(arm[axis], place[axis]),
  ) &&
  mayBe(arm.sessionsPerWeek, place.sessionsPerWeek) &&
  mayBe(arm.muscleLength, place.muscleLength) &&
  mayBe(arm.joint, place.joint);

/** Trials that compared exactly two of the protocols asked about, each in a sentence. */
const exactTrials = (
  comparisons: readonly TrialComparison[],
  asked: readonly AskedPlace[],
): readonly string[] =>
  onePerPair(comparisons).flatMap((one) =>
    asked.flatMap((first, place) =>
      asked.slice(place + 1).flatMap((second) => {
        const { lower, higher, unit, study, citation, interval, difference } = one;
        const straight = isProtocol(lower, first) && isProtocol(higher, second);
        const turned = isProtocol(lower, second) && isProtocol(higher, first);
        if (straight === turned) return [];
        const [a, b] = straight ? [lower, higher] : [higher, lower];
        const sign = straight ? -1 : 1;
        const less =
          difference === null
            ? "cannot be worked out"
            : differenceWords({
                ...one,
                difference: sign * difference,
                interval:
                  interval === null || !straight
                    ? interval
                    : { low: -interval.high, high: -interval.low },
              });
        const source = citation === study ? "" : ` ${citation}.`;
        return [
          `${study} compared ${first.name} and ${second.name} themselves (${one.groupLabel}, ${one.outcome}; lines ${a.line} and ${b.line}): ${first.name} ${gainWords(a, unit)}, ${second.name} ${gainWords(b, unit)}, ${first.name} minus ${second.name} ${less}.${source}`,
        ];
      }),
    ),
  );

/** Lines of the rows, with a weight or without, that compare arms near two protocols inside one trial. */
export const linesLike = (
  { groups, comparisons }: TrialComparisons,
  family: string,
  [first, second]: readonly [AskedPlace, AskedPlace],
): ReadonlySet<number> => {
  const own = new Set(groups.filter((group) => group.family === family).map(({ id }) => id));
  const like = (arm: ComparedArm, one: AskedPlace, other: AskedPlace): boolean => {
    const distance = doseDistance(arm.place, one.place);
    return distance <= supportLimits.near && distance < doseDistance(arm.place, other.place);
  };
  return new Set(
    comparisons.flatMap(({ group, lower, higher }) =>
      own.has(group) &&
      ((like(lower, first, second) && like(higher, second, first)) ||
        (like(higher, first, second) && like(lower, second, first)))
        ? [lower.line, higher.line]
        : [],
    ),
  );
};

/** Trials of a family of outcomes beside protocols: those that compared two of them, and the nearest in a table. */
export const trialsOfProtocols = (
  found: TrialComparisons,
  family: string,
  confidence: number,
  asked: readonly AskedPlace[],
): Readonly<{
  exact: readonly string[];
  tables: readonly Table[];
  figures: readonly NamedFigure[];
}> => {
  const groups = found.groups
    .filter((group) => group.family === family)
    .map((group) => trialsOf(found, group, confidence))
    .filter(({ comparisons }) => comparisons.length > 0)
    .map((trials) => ({
      exact: exactTrials(trials.comparisons, asked),
      ...besides({ ...trials, comparisons: nearestFirst(trials.comparisons, asked) }, asked),
    }));
  return {
    exact: groups.flatMap(({ exact }) => exact),
    tables: groups.map(({ table }) => table),
    figures: groups.flatMap(({ figures }) => figures),
  };
};
