/**
 * Which number would rescue most rows: study by study what is missing, what it would add, and where to ask for it. Longer
 * than most for what headlines, comparisons, the table and the letter each take.
 */
import * as z from "zod";
import type { Effect, EffectSet } from "../effects/effect.js";
import { isTraining } from "../effects/match-comparator.js";
import { cohortOf } from "../effects/pre-post-correlation.js";
import { scalesOfRows } from "../effects/scale-of-row.js";
import { listed } from "../protocol/listed.js";
import { grouped } from "../records/grouped.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { effectInputs, inputSubset, studyAverage } from "../synthesis/effect-inputs.js";
import type { SynthesisEffect } from "../synthesis/synthesis-input.js";
import { counted } from "../tables/number-format.js";
import { probabilityCell } from "../tables/range-cells.js";
import type { Table } from "../tables/table.js";
import { comparedVariables, movement, notCoded } from "./compared-variables.js";
import { effectsOptionsOf, type EffectChoices } from "./effect-options.js";
import { chosenRows, effectsOf, type Evidence } from "./evidence.js";
import { headlineGroups } from "./headline-selection.js";
import { movingKinds, movingKindOf } from "./moving-arms.js";
import { pool } from "./pool.js";
import type { PreparedGroup } from "./pool-words.js";
import { askedOf } from "./prepared.js";
import { wantedNumbers } from "./row-fates.js";
import { asEffect, trialComparisons, type TrialComparison } from "./trial-comparisons.js";
import { variancesOf } from "./without-study.js";
import { ownComparisons } from "./trial-comparisons-shown.js";

export const wantedSchema = z.object({
  study: z.string(),
  citation: z.string(),
  doi: z.string().nullable(),
  /** Where in the work the rows were read. */
  readFrom: z.array(z.string()),
  lines: z.array(z.number()),
  /** The numbers that are missing, with the file's columns. */
  missing: z.array(z.string()),
  /** Rows that would get a weight. */
  rows: z.number(),
  /** Effects of a headline that would get a weight, and those that would have a spread of their own in place of a borrowed one. */
  effects: z.number(),
  ownSpread: z.number(),
  /** What becomes possible or firmer, in words. */
  adds: z.array(z.string()),
  /** What the average of each kind of outcome would gain, at the same spread between true effects, percent. */
  gains: z.array(
    z.object({ outcome: z.string(), weight: z.number(), intervalNarrower: z.number() }),
  ),
  /** How many answers become possible that are not: an average, or a comparison with its second or third trial. */
  opens: z.number(),
  letter: z.string(),
});
export type Wanted = z.infer<typeof wantedSchema>;

/** A number of trials at which a comparison begins to be answerable. */
const firstTrials = [2, 3];

const distinct = <Value>(values: readonly Value[]): readonly Value[] => [...new Set(values)];

/**
 * What some rows lack, each number once. Where like rows borrow a spread, the number of people is enough, and a spread of
 * their own is better.
 */
const missingOf = (
  rows: readonly OutcomeRow[],
  isRatio: boolean,
  borrows: (row: OutcomeRow) => boolean,
): string[] => {
  const parts = rows.flatMap((row) => {
    const own = wantedNumbers(row, isRatio)
      .split("; and ")
      .filter((part) => part !== "");
    const [people, spread] = own;
    return own.length === 2 && people!.endsWith("(n_end)") && /spread/.test(spread!) && borrows(row)
      ? [`${people}, with which a spread can be borrowed; better still ${spread}`]
      : own;
  });
  // Rows with a bound of p ask for an exact one.
  return [...new Map(parts.map((part) => [part.replace("exact ", ""), part])).values()];
};

const trials = (count: number, before: number): string =>
  before === 0
    ? "its first trial with an interval"
    : `${counted(count, "trial")} with an interval in place of ${before}`;

/** Words without the file's columns. */
const plain = (words: string): string => words.replace(/ \([a-z_ ,]*_[a-z_ ,]*\)/g, "");

type Gain = Pick<Wanted, "effects" | "ownSpread" | "adds" | "opens" | "gains">;

/** The middle of some values, the upper of two; 0 where there are none. */
const middle = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;

/**
 * What more effects of one study would weigh in an average, and by how much they would narrow its interval, percent.
 *
 *   w = g / (W + g), narrower by 1 − √(W / (W + g)),  W = Σ over studies of 1'M⁻¹1, g what it grows by,
 *   M = V + θ of the fit; a further effect has the median of variance × people of those averaged, over its own people
 *
 * @source none: generalised least squares at the variances of the fit
 */
const addedWeight = (
  { group: { headline: input }, headline }: PreparedGroup,
  more: readonly Effect[],
  set: EffectSet,
): Omit<Wanted["gains"][number], "outcome"> | undefined => {
  const average = headline();
  const averaged = input.set?.effects ?? [];
  if (average.kind === "refusal" || averaged.length === 0) return undefined;
  const variances = variancesOf(average.result);
  const known = averaged.map(({ participants }) => participants).filter((people) => people > 0);
  const perPerson = middle(
    averaged.map(({ variance, participants }) => variance * (participants || middle(known))),
  );
  const added = effectInputs({
    ...set,
    blocks: [],
    effects: more.map((one) => ({
      ...one,
      variance: perPerson / (one.participants || middle(known)),
    })),
  }).effects;
  const weightOf = (study: string, further: readonly SynthesisEffect[] = []): number => {
    const own = inputSubset(input, (one) => one.study === study);
    const all = { ...own, effects: [...own.effects, ...further] };
    return all.effects.length === 0 ? 0 : 1 / studyAverage(all, variances).variance;
  };
  const [{ study }] = added as [SynthesisEffect];
  const studies = [...new Set(input.effects.map((one) => one.study))];
  const whole = studies.reduce((total, one) => total + weightOf(one), 0);
  const gain = weightOf(study, added) - weightOf(study);
  return {
    weight: (100 * gain) / (whole + gain),
    intervalNarrower: 100 * (1 - Math.sqrt(whole / (whole + gain))),
  };
};

/** What the headlines would gain from each study, with stand-ins for the effects that rows would give. */
const headlineGains = (
  standIns: ReadonlySet<Effect>,
  set: EffectSet,
  averages: readonly PreparedGroup[],
  gainOf: (cohort: string) => Gain,
): void => {
  const groups = headlineGroups({ ...set, effects: [...set.effects, ...standIns], blocks: [] });
  for (const { id, label, headline } of groups) {
    const average = averages.find(({ group }) => group.id === id);
    const own = headline.effects;
    const before = new Set(own.filter((one) => !standIns.has(one)).map(({ cohort }) => cohort));
    for (const [cohort, some] of grouped(own, (effect) => effect.cohort)) {
      const gain = gainOf(cohort);
      const added = some.filter((one) => standIns.has(one)).length;
      const borrowed = some.filter(({ row, borrowed: lent }) =>
        lent?.some(({ line }) => line === row.line),
      ).length;
      gain.effects += added;
      gain.ownSpread += borrowed;
      if (borrowed > 0)
        gain.adds.push(
          `${label}: ${counted(borrowed, "effect")} with a spread of ${borrowed === 1 ? "its" : "their"} own in place of a borrowed one`,
        );
      if (added === 0) continue;
      const weighs =
        average &&
        addedWeight(
          average,
          some.filter((one) => standIns.has(one)),
          set,
        );
      if (weighs !== undefined) gain.gains.push({ outcome: label, ...weighs });
      const weight =
        weighs === undefined
          ? ""
          : `, with ${probabilityCell(weighs.weight / 100)} of the weight and an interval ${probabilityCell(weighs.intervalNarrower / 100)} narrower`;
      if (before.has(cohort))
        gain.adds.push(`${label}: ${counted(added, "more effect")} of a study that is in${weight}`);
      else if (before.size === 1) {
        gain.opens += 1;
        gain.adds.push(`${label}: then there is an average, of 2 studies`);
      } else
        gain.adds.push(
          before.size === 0
            ? `${label}: its first study`
            : `${label}: ${before.size + 1} studies in place of ${before.size}${weight}`,
        );
    }
  }
};

/** What comparisons inside trials would gain: a trial more with an interval. */
const comparisonGains = (
  comparisons: readonly TrialComparison[],
  gainOf: (cohort: string) => Gain,
): void => {
  const byQuestion = grouped(ownComparisons(comparisons), (one) => `${one.group} ${one.variable}`);
  for (const own of byQuestion.values()) {
    const told = new Set(own.filter(({ interval }) => interval !== null).map((one) => one.cohort));
    for (const [cohort, some] of grouped(own, (one) => one.cohort)) {
      const [{ variable, label, groupLabel, unknown }] = some as [TrialComparison];
      const gain = gainOf(cohort);
      if (variable === notCoded) {
        if (unknown.length > 0)
          gain.adds.push(
            `${groupLabel}: its arms compare a dose once it is known in what they differ (${listed(unknown)})`,
          );
        continue;
      }
      if (
        told.has(cohort) ||
        some.every(({ lower, higher }) => `${lower.wanted}${higher.wanted}` === "")
      )
        continue;
      const count = told.size + 1;
      if (firstTrials.includes(count)) gain.opens += 1;
      gain.adds.push(
        `${variable === movement ? "isometric or dynamic" : label} in ${groupLabel}: ${trials(count, told.size)}`,
      );
    }
  }
};

/** Places in a work that are named; more are counted. */
const placesNamed = 3;
const placesOf = (readFrom: readonly string[]): string =>
  `${readFrom.slice(0, placesNamed).join("; ")}${
    readFrom.length > placesNamed
      ? ` and ${counted(readFrom.length - placesNamed, "more place")}`
      : ""
  }`;

/** A short letter to whoever wrote up the study. */
const letterOf = (
  { citation, doi, readFrom, adds }: Omit<Wanted, "letter">,
  rows: readonly OutcomeRow[],
  missing: readonly string[],
): string => {
  const named = (of: (row: OutcomeRow) => string): string => listed(distinct(rows.map(of)));
  return [
    `Dear authors of ${citation}${doi === null ? "" : ` (doi ${doi})`}, we are collecting what trials of isometric training have published, and would like to give your results their weight.`,
    ...(readFrom.length === 0 ? [] : [`Of it we have read: ${placesOf(readFrom)}.`]),
    `For ${named(({ outcome }) => outcome)} (${named(({ arm }) => arm)}) we did not find: ${missing.map(plain).join("; ")}.`,
    "Could you send us, for each group and test, the number of people and the mean and standard deviation before and after training, or tell us where they are printed?",
    ...(adds.length === 0 ? [] : [`It would add to what can be said: ${adds.join("; ")}.`]),
    "Whatever you can spare helps, and the source will be named. With thanks and kind regards.",
  ].join(" ");
};

/**
 * The numbers that would rescue rows of a file, study by study: first those that give most effects of a headline a weight,
 * then those that make most answers possible, then most rows, then most spreads of their own.
 *
 * @param choices rows, scale and assumptions, as every question takes them
 * @source none: bookkeeping
 */
export const numbersWanted = (evidence: Evidence, choices: EffectChoices): readonly Wanted[] => {
  if (evidence.kind === "ready effects" || evidence.records.rows.length === 0) return [];
  const all = chosenRows(evidence, choices.where);
  const within = { ...choices, contrast: "change-within-arm" } as const;
  const set = effectsOf(evidence, effectsOptionsOf(within));
  const every = effectsOf(
    evidence,
    effectsOptionsOf({ ...within, armKinds: ["isometric", ...movingKinds, "no exercise"] }),
  );
  const lacks = new Set(every.rowUses.flatMap((use) => (use.lacksNumbers ? use.line : [])));
  const lent = new Set(
    every.effects.flatMap(({ borrowed = [] }) => borrowed.map(({ line }) => line)),
  );
  const lending = new Set(
    every.effects.flatMap(({ borrowed, row }) => (borrowed === undefined ? [] : row.outcomeFamily)),
  );
  const isRatio = choices.scale === "log-ratio-of-means";
  const scaleOf = scalesOfRows(all, choices.scale);
  const standIns = new Set(
    all
      .filter((row) => lacks.has(row.line) && isTraining(row) && movingKindOf(row) === undefined)
      .map((row) => asEffect(row, set, scaleOf(row))),
  );
  const gains = new Map<string, Gain>();
  const gainOf = (cohort: string): Gain => {
    const gain = gains.get(cohort) ?? { effects: 0, ownSpread: 0, adds: [], opens: 0, gains: [] };
    gains.set(cohort, gain);
    return gain;
  };
  headlineGains(
    standIns,
    set,
    standIns.size === 0 ? [] : askedOf(pool, evidence, within).prepared.groups,
    gainOf,
  );
  const asked = { ...choices, confidence: 0.95 };
  comparisonGains(
    [
      ...trialComparisons(evidence, asked, comparedVariables).comparisons,
      ...trialComparisons(evidence, asked, [movement]).comparisons,
    ],
    gainOf,
  );
  return [...grouped(all, cohortOf)]
    .flatMap(([cohort, own]): readonly Wanted[] => {
      const { effects, ownSpread, adds, opens, gains: told } = gainOf(cohort);
      const rows = own.filter(({ line }) => lacks.has(line));
      const behind = own.filter(({ line }) => lacks.has(line) || lent.has(line));
      if (behind.length === 0 && adds.length === 0) return [];
      const about = behind.length > 0 ? behind : own;
      const [{ study, citation = study, doi }] = about as [OutcomeRow];
      const wanted = {
        ...{ study, citation, doi: doi ?? null, rows: rows.length },
        ...{ effects, ownSpread, opens, adds: [...distinct(adds)], gains: told },
        readFrom: [...distinct(about.flatMap(({ sourceLocation }) => sourceLocation ?? []))],
        lines: about.map(({ line }) => line),
        missing:
          behind.length === 0
            ? ["what the arms differed in (intensity, hold length, number of holds)"]
            : missingOf(behind, choices.scale === "log-ratio-of-means", ({ outcomeFamily }) =>
                lending.has(outcomeFamily),
              ),
      };
      return wanted.missing.length === 0
        ? []
        : [
            {
              ...wanted,
              letter: evidence.source.invented
                ? ""
                : letterOf(
                    wanted,
                    about,
                    behind.length === 0 ? wanted.missing : missingOf(behind, isRatio, () => false),
                  ),
            },
          ];
    })
    .sort(
      (a, b) =>
        b.effects - a.effects ||
        b.opens - a.opens ||
        b.rows - a.rows ||
        b.ownSpread - a.ownSpread ||
        (a.study < b.study ? -1 : 1),
    );
};

/** The list as people read it. */
export const wantedTable = (wanted: readonly Wanted[]): Table => {
  const text = (key: string, label: string) => ({ key, label, align: "left" }) as const;
  return {
    id: "numbers-wanted",
    title: "Which number would rescue most rows",
    columns: [
      text("study", "Study"),
      text("missing", "What is missing"),
      text("adds", "What it would add"),
      text("where", "Where to look and ask"),
    ],
    rows: wanted.map(({ study, missing, rows, adds, citation, doi, readFrom }) => ({
      study,
      missing: missing.map(plain).join("; and "),
      adds: [...(rows === 0 ? [] : [`${counted(rows, "row")} with a weight`]), ...adds].join("; "),
      where: `${citation}${doi === null ? "" : `, doi ${doi}`}${readFrom.length === 0 ? "" : `; read so far: ${placesOf(readFrom)}`}`,
    })),
    notes: [
      "In the order of the effects that would get a weight, then of the answers that become possible. Weight and interval are worked out at the spread between studies of today, as if a further effect were as precise for its people as the middle one averaged.",
    ],
  };
};
