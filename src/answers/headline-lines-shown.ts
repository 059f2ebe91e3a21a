/** How what stands beside a headline is said: a line of few studies with its prior, and a table of the rest. */
import type { LeftOut } from "../certainty/leave-each-out.js";
import { tooFewMeans } from "../certainty/small-study-regression.js";
import type { Contrast } from "../effects/effect.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import { listed } from "../protocol/listed.js";
import type { HeadlineResult, Interval, PooledResult } from "../synthesis/synthesis-results.js";
import { counted, formatNumber, pValueText } from "../tables/number-format.js";
import type { Table } from "../tables/table.js";
import type { Average } from "./average.js";
import type { HeadlineLines } from "./headline-lines.js";
import { rangeOf, wayOf, type Shown } from "./pool-words.js";

/** A number with its range as a line gives it: "23.0% (20.1 to 26.0%)". */
const shownRange = (
  { estimate, interval }: Readonly<{ estimate: number; interval: Interval }>,
  standardError: number,
  set: Shown,
): string =>
  `${wayOf({ estimate, standardError }, set)} (${rangeOf(interval, set, standardError)})`;

const correlationsWords = (
  { assumed, effects, answers, hangs }: NonNullable<HeadlineLines["correlations"]>,
  set: Shown,
): string =>
  `${assumed} of ${counted(effects, "effect")} rest on an assumed pre–post correlation. At ${listed(answers.map(({ correlation }) => String(correlation)))} the average is ${listed(answers.map((one) => shownRange(one, one.standardError, set)))}.${
    hangs.length === 0
      ? ""
      : ` The spread between studies depends on it: ${listed(
          hangs.map((what) =>
            what === "τ"
              ? `τ ${listed(answers.map(({ betweenDeviation }) => formatNumber(betweenDeviation, { digits: 3 })))}`
              : `I² ${listed(answers.map(({ iSquaredPercent }) => `${formatNumber(iSquaredPercent ?? 0, { digits: 0 })}%`))}`,
          ),
        )}.`
  }`;

const movesMostWords = ({ name, answer, changesConclusion }: LeftOut, set: Shown): string =>
  answer === null
    ? `Without ${name} there is no average.`
    : `Moves most without ${name}: ${shownRange(answer, answer.standardError, set)}.${changesConclusion ? " Then its conclusion is another." : ""}`;

const borrowedWords = (
  { percentiles }: NonNullable<HeadlineLines["borrowed"]>,
  set: Shown,
): string =>
  `At the ${listed(percentiles.map(({ percentile }) => `${percentile}th`))} percentile of the coefficient of variation that is lent, the average is ${listed(percentiles.map((one) => shownRange(one, one.standardError, set)))}.`;

const tooFew = "too-few-for-asymmetry";

const smallStudiesWords = (answer: HeadlineLines["smallStudies"]): string => {
  // What too few studies may mean is said once, under the table.
  if (answer.kind === "refusal") return `Not tested: ${answer.reason.replace(tooFewMeans, "")}.`;
  const { slope, studies } = answer;
  const seen = slope.interval.low > 0 || slope.interval.high < 0;
  return `${seen ? `Small studies show ${slope.estimate > 0 ? "larger" : "smaller"} effects than large ones` : "Small and large studies cannot be told apart"} (${pValueText(slope.p)}, ${counted(studies, "study", "studies")}).`;
};

const percent = (deviation: number): string =>
  `${formatNumber(100 * Math.expm1(deviation), { digits: 0 })}%`;

/** How many effects have a borrowed spread, and the average without them; undefined where none has. */
const borrowedSentence = (lines: HeadlineLines | undefined, set: Shown): string | undefined => {
  if (lines?.borrowed === undefined) return undefined;
  const { borrowed, counts, without } = lines.borrowed;
  return `${counts}; without ${borrowed === 1 ? "it" : "them"} ${
    without.kind === "refusal"
      ? `there is no average, as ${without.reason}`
      : `${shownRange(without, without.standardError, set)}, from ${counted(without.effects, "effect")} in ${counted(without.studies, "study", "studies")}`
  }.`;
};

/** The second line of an average of few studies, with its prior by name; undefined where there is none. */
const priorSentence = (
  lines: HeadlineLines | undefined,
  { standardError }: HeadlineResult | PooledResult,
  set: Shown,
): string | undefined => {
  const { withPrior } = lines ?? {};
  const [stated, halved, doubled] = withPrior?.answers ?? [];
  if (withPrior === null)
    return "With a stated prior: not told, as the sum over what the spreads between studies could be does not settle.";
  if (withPrior === undefined || stated === undefined) return undefined;
  const { average, study } = withPrior.prior;
  const shown = (one: typeof stated): string => shownRange(one, standardError, set);
  return `With a stated prior (the average around no change ± ${percent(average)}, studies differing by ${percent(study)}): ${shown(stated)}; the prior halved ${shown(halved!)}, doubled ${shown(doubled!)}.`;
};

/** What stands under an average: its borrowed spreads, and of few studies the same with a prior. */
export const sentencesUnder = (
  lines: HeadlineLines | undefined,
  average: Average,
  set: Shown,
): readonly string[] =>
  average.kind === "refusal"
    ? []
    : [borrowedSentence(lines, set), priorSentence(lines, average.result, set)].filter(
        (sentence) => sentence !== undefined,
      );

/** The lines of several headlines, one table. */
export const headlineLinesTable = (
  id: string,
  contrast: Contrast | undefined,
  all: readonly Readonly<{ label: string; lines: HeadlineLines; set: Shown }>[],
): Table => ({
  id,
  title: `Beside each average${contrast === undefined ? "" : `, ${contrastShortLabel(contrast)}`}: assumed numbers, single studies, small studies`,
  columns: [
    { key: "group", label: "Group", align: "left" },
    { key: "what", label: "What if", align: "left" },
    { key: "told", label: "The average", align: "left" },
  ],
  rows: all.flatMap(({ label, lines, set }) => {
    const rows = [
      ...(lines.borrowed === undefined || lines.borrowed.percentiles.length === 0
        ? []
        : [{ what: "other borrowed spreads", told: borrowedWords(lines.borrowed, set) }]),
      ...(lines.correlations === undefined
        ? []
        : [{ what: "other correlations", told: correlationsWords(lines.correlations, set) }]),
      ...(lines.movesMost === undefined
        ? []
        : [{ what: "one study fewer", told: movesMostWords(lines.movesMost, set) }]),
      { what: "small studies", told: smallStudiesWords(lines.smallStudies) },
    ];
    return rows.map((row) => ({ group: label, ...row }));
  }),
  notes: [
    ...(all.some(
      ({ lines: { smallStudies: told } }) => told.kind === "refusal" && told.code === tooFew,
    )
      ? [
          "Under ten studies nothing tells whether small studies show larger effects; an average may be too high if small trials without an effect stayed unprinted.",
        ]
      : []),
    ...(all.some(({ lines }) => (lines.withPrior ?? undefined) !== undefined)
      ? [
          "A stated prior is a starting assumption, made before any data: the average normal around no change with the deviation given, the spread between studies half-normal with the scale given, of arms and readings half of that. If halving or doubling it changes the answer, the data are too few to overrule it.",
        ]
      : []),
  ],
});
