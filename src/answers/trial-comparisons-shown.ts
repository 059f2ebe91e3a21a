/** How what single trials compared is said, listed and drawn; wherever it is shown. */
import type { NamedFigure } from "../figures/figure-list.js";
import { doseDistance, type DosePlace } from "../projection/support.js";
import { grouped } from "../records/grouped.js";
import { withUnit } from "../protocol/with-unit.js";
import {
  capital,
  confidenceWords,
  counted,
  formatInterval,
  formatNumber,
  plainNumber,
} from "../tables/number-format.js";
import { csvNumbers, csvTexts, type Table } from "../tables/table.js";
import { notCoded } from "./compared-variables.js";
import type { ComparedArm, ComparedGroup, TrialComparison } from "./trial-comparisons.js";

/** A protocol asked about. */
export type AskedPlace = Readonly<{ name: string; place: DosePlace }>;

/** How far the two arms lie from two of the protocols, or the nearer arm from the only one. */
export type Nearness = Readonly<{ names: readonly string[]; distances: readonly number[] }>;

const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);

/** The protocols a comparison is nearest to; undefined where none was asked about. */
export const nearnessOf = (
  { lower, higher }: TrialComparison,
  asked: readonly AskedPlace[],
): Nearness | undefined => {
  const from = (arm: ComparedArm, { place }: AskedPlace): number => doseDistance(arm.place, place);
  const [only] = asked;
  if (only === undefined) return undefined;
  if (asked.length === 1)
    return { names: [only.name], distances: [Math.min(from(lower, only), from(higher, only))] };
  const both = asked.flatMap((first) =>
    asked.flatMap((second) =>
      first === second
        ? []
        : [
            {
              names: [first.name, second.name],
              distances: [from(lower, first), from(higher, second)],
            },
          ],
    ),
  );
  return both.sort((a, b) => sum(a.distances) - sum(b.distances))[0];
};

/** Comparisons nearest to the protocols asked about first; as they were where none was. */
export const nearestFirst = (
  comparisons: readonly TrialComparison[],
  asked: readonly AskedPlace[],
): readonly TrialComparison[] =>
  asked.length === 0
    ? comparisons
    : comparisons
        .map((one) => ({ one, far: sum(nearnessOf(one, asked)?.distances ?? []) }))
        .sort((a, b) => a.far - b.far)
        .map(({ one }) => one);

const digitsOf = (value: number): number => (Number.isInteger(value) ? 0 : 1);
const number = (value: number): string => formatNumber(value, { digits: digitsOf(value) });

/** "31.8%", or that the row prints none. */
export const gainWords = ({ gain }: ComparedArm, unit: string): string =>
  gain === null ? "not printed" : withUnit(number(gain), unit);

/** Of gains in percent the difference is one of percentage points. */
const differenceUnit = (unit: string): string => (unit === "%" ? "points" : unit);

const intervalWords = ({ interval }: TrialComparison): string =>
  interval === null ? "" : formatInterval(interval, { digits: 1 });

const isBorrowed = ({ lower, higher }: TrialComparison): boolean =>
  lower.borrowed || higher.borrowed;

/** "2.1 points (−11.8 to 16.0)"; without an interval, why there is none. */
export const differenceWords = (one: TrialComparison): string =>
  one.difference === null
    ? "cannot be worked out"
    : `${withUnit(formatNumber(one.difference, { digits: 1 }), differenceUnit(one.unit))} (${one.interval === null ? "no interval" : `${intervalWords(one)}${isBorrowed(one) ? ", spread borrowed" : ""}`})`;

/** What else differed between the two arms, and what is not coded for both. */
export const elseWords = ({ variable, alsoDiffer, unknown }: TrialComparison): string =>
  [
    ...(alsoDiffer.length > 0
      ? [`also differs: ${alsoDiffer.join(", ")}`]
      : variable === "notCoded"
        ? []
        : ["nothing else coded differs"]),
    ...(unknown.length === 0 ? [] : [`not coded for both: ${unknown.join(", ")}`]),
  ].join("; ");

/** One comparison as a sentence without its end. */
export const comparisonWords = (one: TrialComparison): string => {
  const { study, label, variable, lower, higher, unit, tested } = one;
  const place = tested === "" ? "" : ` (${tested})`;
  const doses = `${variable === "notCoded" ? "" : `${label} `}${lower.dose} against ${higher.dose}`;
  const more = elseWords(one);
  return `${study}${place}, ${doses}: ${gainWords(lower, unit)} and ${gainWords(higher, unit)}, difference ${differenceWords(one)}${more === "" ? "" : `; ${more}`}`;
};

/** How many comparisons there are, in words. */
export const comparisonCounts = (comparisons: readonly TrialComparison[]): string => {
  const pairs = new Map(comparisons.map((one) => [pairOf(one), one]));
  const trials = new Set(comparisons.map(({ cohort }) => cohort)).size;
  const told = [...pairs.values()].filter(({ interval }) => interval !== null).length;
  return `${counted(pairs.size, "comparison")} of two arms inside ${counted(trials, "trial")}, ${
    told === pairs.size ? "each" : told === 0 ? "none" : String(told)
  } with an interval`;
};

/** The two rows that are compared, whatever they differ in. */
export const pairOf = ({ lower, higher }: TrialComparison): string =>
  [lower.line, higher.line].sort((a, b) => a - b).join("-");

/** Comparisons without those that a difference in another variable brings with it, unless that is not shown. */
export const ownComparisons = (
  comparisons: readonly TrialComparison[],
): readonly TrialComparison[] => {
  const shown = new Set(comparisons.map((one) => `${one.variable} ${pairOf(one)}`));
  return comparisons.filter(
    (one) => one.followsFrom === undefined || !shown.has(`${one.followsFrom} ${pairOf(one)}`),
  );
};

/** The comparisons with the arms' names behind their doses, where two of a study would read alike without. */
const toldApart = (comparisons: readonly TrialComparison[]): readonly TrialComparison[] =>
  [
    ...grouped(comparisons, ({ variable, study, outcome, tested, lower, higher }) =>
      JSON.stringify([variable, study, outcome, tested, lower.dose, higher.dose]),
    ).values(),
  ].flatMap((alike) =>
    alike.length === 1
      ? alike
      : alike.map(({ lower, higher, ...one }) => ({
          ...one,
          lower: { ...lower, dose: `${lower.dose} (${lower.arm})` },
          higher: { ...higher, dose: `${higher.dose} (${higher.arm})` },
        })),
  );

/** Comparisons of one kind of outcome, a row each. */
export const comparisonsTable = (
  group: Pick<ComparedGroup, "id" | "label">,
  all: readonly TrialComparison[],
  confidence: number,
  asked: readonly AskedPlace[] = [],
): Table => {
  const comparisons = toldApart(ownComparisons(all));
  const outcomes = new Set(comparisons.map(({ outcome }) => outcome));
  const text = (key: string, label: string) => ({ key, label, align: "left" }) as const;
  const steps = asked.length === 0 ? [] : [text("steps", "Steps away")];
  const difference = text(
    "difference",
    `Second minus first (${confidenceWords(confidence)} interval)`,
  );
  return {
    id: `single-trials-${group.id}`,
    title: `What single trials compared: ${group.label}`,
    columns: [
      text("study", "Study"),
      text("compared", "Compared"),
      text("gains", "Gains"),
      difference,
      text("else", "What else"),
      ...steps,
    ],
    narrowColumns: [
      text("what", "Study and what it compared"),
      text("told", "Gains; second minus first"),
      text("else", "What else"),
      ...steps,
    ],
    csvColumns: [
      ...csvTexts(
        "variable",
        "studyName",
        "citation",
        "doi",
        "outcome",
        "tested",
        "lowerArm",
        "higherArm",
      ),
      ...csvTexts("lowerDose", "higherDose"),
      ...csvNumbers(
        "lowerLine",
        "higherLine",
        "lowerGain",
        "higherGain",
        "differenceExact",
        "low",
        "high",
      ),
      ...csvTexts("unit", "else", "lowerWanted", "higherWanted"),
    ],
    rows: comparisons.map((one) => {
      const { lower, higher, unit, interval } = one;
      const near = nearnessOf(one, asked);
      const place = testedWords(one, outcomes.size > 1);
      const exact = (value: number | null | undefined): string =>
        value === null || value === undefined ? "" : plainNumber(value);
      const study = `${one.study}${place === "" ? "" : ` (${place})`}`;
      const compared = `${capital(one.label)}: ${lower.dose} → ${higher.dose}`;
      const gains = `${gainWords(lower, unit)} → ${gainWords(higher, unit)}`;
      return {
        study: `${study}, lines ${lower.line} and ${higher.line}`,
        compared,
        gains,
        difference: differenceWords(one),
        what: `${study}. ${compared}`,
        told: `${gains}: ${differenceWords(one)}`,
        else: elseWords(one),
        steps:
          near === undefined
            ? ""
            : near.names
                .map(
                  (name, index) => `${name} ${formatNumber(near.distances[index]!, { digits: 1 })}`,
                )
                .join(", "),
        variable: one.label,
        studyName: one.study,
        citation: one.citation,
        doi: one.doi ?? "",
        outcome: one.outcome,
        tested: one.tested,
        lowerArm: lower.arm,
        higherArm: higher.arm,
        lowerDose: lower.dose,
        higherDose: higher.dose,
        lowerLine: String(lower.line),
        higherLine: String(higher.line),
        lowerGain: exact(lower.gain),
        higherGain: exact(higher.gain),
        differenceExact: exact(one.difference),
        low: exact(interval?.low),
        high: exact(interval?.high),
        unit,
        lowerWanted: lower.wanted,
        higherWanted: higher.wanted,
      };
    }),
    notes: [
      "Gains as printed, or worked out from the printed means; positive is better. The interval is of this trial alone, with no other trial's help.",
      ...(comparisons.some(isBorrowed)
        ? [
            "Spread borrowed: the trial prints its gains and not how sure they are, so the interval stands on the spread of like studies of the file.",
          ]
        : []),
      ...(comparisons.some(({ interval }) => interval === null)
        ? [
            "Without an interval: the rows do not print what a weight needs. They are shown and enter no average.",
          ]
        : []),
    ],
  };
};

/** Where the studies were published, in one line each study. */
export const citationNotes = (comparisons: readonly TrialComparison[]): readonly string[] =>
  [...grouped(comparisons, ({ study }) => study)].flatMap(([study, [first]]) =>
    first === undefined || first.citation === study
      ? []
      : [`${study}: ${first.citation}${first.doi === undefined ? "" : `, doi ${first.doi}`}`],
  );

/** From so many rows on, only the pairs that differ in one thing are drawn where there are any. */
const manyRows = 24;

/** Comparisons whose two arms are coded as different in one thing only. */
export const aloneOf = (comparisons: readonly TrialComparison[]): readonly TrialComparison[] =>
  comparisons.filter(
    ({ variable, alsoDiffer }) => variable !== "notCoded" && alsoDiffer.length === 0,
  );

/** The comparisons that are drawn, and whether they are a choice of them. */
export const drawnOf = (all: readonly TrialComparison[]): readonly TrialComparison[] => {
  const drawable = toldApart(ownComparisons(all).filter(({ difference }) => difference !== null));
  if (drawable.length <= manyRows) return drawable;
  const alone = aloneOf(drawable);
  return (alone.length > 0 ? alone : drawable).slice(0, manyRows);
};

/** Paired lines of one kind of outcome, one drawing a unit; nothing where no gain is printed. */
export const comparisonsFigures = (
  group: Pick<ComparedGroup, "id" | "label">,
  all: readonly TrialComparison[],
  confidence: number,
): readonly NamedFigure[] =>
  [...grouped(drawnOf(all), ({ unit }) => unit)].map(([unit, own], index) => {
    const outcomes = new Set(own.map(({ outcome }) => outcome));
    const side = ({ dose, gain, interval, borrowed }: ComparedArm) => ({
      dose,
      gain: gain!,
      interval,
      borrowed,
    });
    return {
      name: "single-trials",
      data: {
        id: `single-trials-${group.id}${index === 0 ? "" : `-${index + 1}`}`,
        family: group.label,
        unit,
        confidence,
        rows: own.map((one) => ({
          variable: capital(one.label),
          alike: one.variable === notCoded,
          study: one.study,
          tested: testedWords(one, outcomes.size > 1),
          lower: side(one.lower),
          higher: side(one.higher),
          difference: one.difference!,
          interval: one.interval,
          differs: elseWords(one),
        })),
      },
    };
  });

/** What was tested, and where; the outcome only where it tells rows apart. */
const testedWords = ({ outcome, tested }: TrialComparison, several: boolean): string =>
  [several ? outcome : "", tested].filter((words) => words !== "").join(", ");
