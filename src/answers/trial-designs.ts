/** Plans of further trials: how many of what size, and ten designs of the same people; and how their chances are shown. */
import type { ChanceOfTrials } from "../certainty/further-trials.js";
import type { DoseAxis } from "../dose/dose-axes.js";
import { doseSpan } from "../tables/dose-table.js";
import { counted, formatNumber, sharePercent } from "../tables/number-format.js";
import { folded, type Table } from "../tables/table.js";
import type { HeadlineGroup } from "./headline-selection.js";
import { usualDesign, type SettleTarget, type TrialDesign } from "./settle-targets.js";

/** Verdicts of the variables table that leave nothing to settle. */
export const decidedVerdicts = [
  "favoured",
  "no difference that counts",
  "a difference, smaller than counts",
];

/** The weeks that the middle effect was trained for. */
export const usualWeeks = ({ headline }: HeadlineGroup): number => {
  const all = headline.effects.flatMap(({ row }) => row.weeks ?? []).sort((a, b) => a - b);
  return all[Math.floor(all.length / 2)] ?? 8;
};

export const trialCounts = [1, 2, 3, 5, 10] as const;
export const groupSizes = [10, 20, 40, 60] as const;
/** So many people in a group as no trial will have: what is left is the spread between trials. */
export const boundless = 1e5;
/** Below this chance one boundless trial is not said to be able to decide. */
export const hardlyEver = 0.1;
/** People in all by whom designs are compared. */
const people = 150;
const designTrials = 5;
/** Time in which 63% of a difference is there; a starting assumption that stands in the answer. */
const weeksOfGain = 4;

type Design = Readonly<{
  name: string;
  design: TrialDesign;
  trials: number;
  /** In each group, or, of limbs, in all. */
  people: number;
}>;

const shareAfter = (weeks: number): number => 1 - Math.exp(-weeks / weeksOfGain);

/** Ten designs of the same people: of a verdict groups or limbs, doses, weeks; of an average how they are parted into trials. */
export const designsOf = (
  target: SettleTarget,
  axis: DoseAxis | undefined,
  weeks: number,
): readonly Design[] => {
  if (axis === undefined || target.span === undefined)
    return [people, 2 * people].flatMap((all) =>
      [1, 2, 3, 5, 10].map((trials) => ({
        name: `${counted(trials, "trial")} of ${all / trials}, ${all} people in all`,
        design: usualDesign,
        trials,
        people: all / trials,
      })),
    );
  const { low, high } = target.span;
  const isRatio = low > 0 && high / low > 3;
  const middle = isRatio ? Math.sqrt(low * high) : (low + high) / 2;
  const span = (from: number, to: number): string => doseSpan(axis, { low: from, high: to });
  const places =
    axis.kind === "levels"
      ? [
          {
            from: 0,
            to: 1,
            words: span(low, high),
            weeks: [weeks / 2, 0.75 * weeks, weeks, 1.5 * weeks, 2 * weeks],
          },
        ]
      : [
          { from: 0, to: 1, words: span(low, high), weeks: [weeks / 2, weeks, 2 * weeks] },
          { from: 0, to: 0.5, words: span(low, Number(middle.toPrecision(2))), weeks: [weeks] },
          { from: 0.5, to: 1, words: span(Number(middle.toPrecision(2)), high), weeks: [weeks] },
        ];
  return [false, true].flatMap((limbs) =>
    places.flatMap(({ from, to, words, weeks: all }) =>
      all.map((own) => ({
        name: `${limbs ? "two limbs of each person" : "two groups"}, ${words}, ${counted(Math.round(own), "week")}`,
        design: { limbs, from, to, share: shareAfter(own) / shareAfter(weeks) },
        trials: designTrials,
        people: people / designTrials / (limbs ? 1 : 2),
      })),
    ),
  );
};

/** The sizes of group, up to the largest, whose chances are one within twice the error of their difference; null where no two are. */
export const sameSizes = (
  chances: readonly ChanceOfTrials[],
): Readonly<{ from: number; to: number }> | null => {
  const to = groupSizes.at(-1)!;
  const isSame = (size: number): boolean =>
    trialCounts.every((trials) => {
      const [one, largest] = [size, to].map((of) =>
        chances.find((chance) => chance.trials === trials && chance.people === of),
      );
      const apart = Math.abs(one!.share - largest!.share);
      return apart <= 2 * Math.hypot(one!.error, largest!.error);
    });
  const from = groupSizes.find(
    (size, place) => size !== to && groupSizes.slice(place).every(isSame),
  );
  return from === undefined ? null : { from, to };
};

export const eachWords = (each: ChanceOfTrials["each"]): string =>
  Object.entries(each)
    .sort(([, a], [, b]) => b - a)
    .map(([name, share]) => `${name} ${sharePercent(share)}`)
    .join(", ");

export const chancesTable = (chances: readonly ChanceOfTrials[]): Table => ({
  id: "settle-chances",
  title: "Chance that further trials decide it",
  columns: [
    { key: "trials", label: "Trials", align: "right" },
    ...groupSizes.map((size) => ({
      key: `of ${size}`,
      label: `${size} a group`,
      align: "right" as const,
    })),
  ],
  rows: trialCounts.map((trials) => ({
    trials: String(trials),
    ...Object.fromEntries(
      groupSizes.map((size) => {
        const one = chances.find((chance) => chance.trials === trials && chance.people === size)!;
        return [
          `of ${size}`,
          `${sharePercent(one.share)} ± ${formatNumber(100 * one.error, { digits: 0 })}`,
        ];
      }),
    ),
  })),
  notes: ["± is the Monte Carlo error of each chance, one standard error."],
});

export const designsTable = (
  designs: readonly Readonly<{ name: string; people: number; chance: ChanceOfTrials }>[],
): Table =>
  folded({
    id: "settle-designs",
    title: "Ten designs, the one that decides most first",
    columns: [
      { key: "name", label: "Design", align: "left" },
      { key: "people", label: "People in all", align: "right" },
      { key: "chance", label: "Chance to decide", align: "right" },
      { key: "perPerson", label: "A hundred people buy", align: "right" },
    ],
    rows: designs.map(({ name, people: all, chance }) => ({
      name,
      people: String(all),
      chance: `${sharePercent(chance.share)} ± ${formatNumber(100 * chance.error, { digits: 0 })}`,
      perPerson: sharePercent((100 * chance.share) / all),
    })),
    notes: [
      `A difference after other weeks than usual is taken to grow as 1 − exp(−weeks/${weeksOfGain}), a starting assumption; between two doses of the span, in proportion.`,
    ],
  });
