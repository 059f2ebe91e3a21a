/**
 * The quiz of a course: items drawn from the file, in three levels, each with its answer and the reason. Longer than most
 * for the kinds of item: each is a few lines that make one from whatever the file holds.
 */
import type { Answer } from "../answers/answer.js";
import { comparedVariables, notCoded, variableLabel } from "../answers/compared-variables.js";
import { differenceWords, gainWords } from "../answers/trial-comparisons-shown.js";
import type { TrialComparison } from "../answers/trial-comparisons.js";
import { isTraining } from "../effects/match-comparator.js";
import type { EstimateRow } from "../figures/estimates-input.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { grouped } from "../records/grouped.js";
import { counted, formatNumber } from "../tables/number-format.js";
import { verdictWords } from "../tables/variables-table.js";
import { scaleDisplay } from "../tables/scale-display.js";
import { shownDuration } from "../tables/shown-duration.js";
import { averageOf, shownValue, type Setting, type Slide } from "./slide.js";

/** What an item asks of a student. */
export const quizLevels = ["read a figure", "compute", "judge a claim"] as const;
export type QuizLevel = (typeof quizLevels)[number];

export type QuizItem = Readonly<{
  level: QuizLevel;
  question: string;
  answer: string;
  reason: string;
  /** The figure it is about, as a question of the file; none where it needs none. */
  about?: Readonly<{ question: string; options: Readonly<Record<string, unknown>> }> | undefined;
}>;

/** How many items of each level a quiz has, as far as the file gives them. */
const wanted: Readonly<Record<QuizLevel, number>> = {
  "read a figure": 7,
  compute: 7,
  "judge a claim": 6,
};

type Maker = Omit<QuizItem, "level">;

const number = (value: number, digits = 1): string => formatNumber(value, { digits });

/** Other weeks to compare with. */
const other = (weeks: number): number => (weeks === 12 ? 8 : 12);

/** The first of every kind, then the second of every kind, and so on. */
const inTurn = (kinds: readonly (readonly Maker[])[]): readonly Maker[] =>
  Array.from({ length: Math.max(0, ...kinds.map(({ length }) => length)) }, (_, place) =>
    kinds.flatMap((kind) => kind[place] ?? []),
  ).flat();

const slideOf = (slides: readonly Slide[], id: string) => {
  const place = slides.findIndex((slide) => slide.id === id);
  return place < 0 ? undefined : { number: place + 1, slide: slides[place]! };
};

/** What is drawn of a figure by its own name, with the number of its slide. */
const readingOf = ({ lead, variables }: Setting, slides: readonly Slide[]): readonly Maker[] => {
  const average = slideOf(slides, "average");
  const estimates = average?.slide.figure;
  const single = slides.flatMap(({ figure }, place) =>
    figure.name === "single-trials" ? [{ figure, number: place + 1 }] : [],
  );
  const [hold, inside] = [slideOf(slides, "hold"), slideOf(slides, "within-between")];
  const about = { question: "pool", options: { outcome: lead.id } };
  return inTurn([
    estimates?.name !== "estimates"
      ? []
      : onlyEffects(estimates.data.effects)
          .slice(0, 5)
          .map(({ study, low, high, estimate }): Maker => {
            const { write, sign } = scaleDisplay(estimates.data.scale);
            const range = `${write(low)} to ${write(high)}${sign}`;
            return {
              question: `Slide ${average!.number}: between which values does the bar of ${study} run, and does it hold no change?`,
              answer: `${range}; ${low <= 0 && high >= 0 ? "it holds no change too" : "it does not hold no change"}.`,
              reason: `Its estimate is ${write(estimate)}${sign}, and the bar is the interval of this one effect.`,
              about,
            };
          }),
    single.flatMap(({ figure, number: at }) =>
      figure.data.rows
        .slice(0, 4)
        .map(({ study, variable, lower, higher, difference, interval }): Maker => ({
          question: `Slide ${at}: in ${study}, ${variable.toLowerCase()} ${lower.dose} against ${higher.dose}: which arm gained more, and by how much?`,
          answer:
            difference === 0
              ? "Neither: both gained the same."
              : `${difference > 0 ? higher.dose : lower.dose}, by ${number(Math.abs(difference))} ${figure.data.unit === "%" ? "points" : figure.data.unit}.`,
          reason:
            interval === null
              ? `${number(lower.gain)} and ${number(higher.gain)} stand without an interval: how sure the difference is cannot be read off.`
              : `The interval of the difference runs from ${number(interval.low)} to ${number(interval.high)}, so it ${interval.low <= 0 && interval.high >= 0 ? "does not tell them apart" : "tells them apart"}.`,
          about: { question: "single-trials", options: {} },
        })),
    ),
    inside?.slide.figure.name !== "variables"
      ? []
      : variables.data.rows
          .filter(({ family }) => family === lead.label)
          .map((row): Maker => {
            const { axis, studies, studiesWithin } = row;
            return {
              question: `Slide ${inside.number}: is the bar of ${axis.label} filled or hollow, and what is its verdict?`,
              answer: `${row.within === undefined ? "Hollow" : "Filled"}; ${verdictWords(row)}.`,
              reason: `${studiesWithin} of ${counted(studies, "study", "studies")} compared ${axis.label} in arms of their own; hollow is what only differences between studies say.`,
              about: { question: "variables", options: { outcome: lead.id } },
            };
          }),
    hold?.slide.figure.name !== "sessions"
      ? []
      : hold.slide.figure.data.sessions.map(({ label, timeline, summary }): Maker => {
          const holds = timeline.filter(({ kind }) => kind === "hold");
          return {
            question: `Slide ${hold.number}: how many holds has the session of ${label}, and how long is it from the first to the end?`,
            answer: `${counted(holds.length, "hold")}; ${summary}.`,
            reason: `Each dark block is one hold, here of ${shownDuration((holds[0]?.endSeconds ?? 0) - (holds[0]?.startSeconds ?? 0))}; what is pale between them is rest.`,
          };
        }),
  ]);
};

/** Effects of studies that have one only, the narrowest interval first: a figure shows each of these. */
const onlyEffects = (effects: readonly EstimateRow[]): readonly EstimateRow[] =>
  [
    ...grouped(
      effects.filter(({ spread }) => spread !== "none"),
      ({ study }) => study,
    ).values(),
  ]
    .flatMap((own) => (own.length === 1 ? own : []))
    .sort((a, b) => a.high - a.low - (b.high - b.low));

/** One row an arm, of those that train. */
const armsOf = (rows: readonly OutcomeRow[]): readonly OutcomeRow[] =>
  [...grouped(rows.filter(isTraining), ({ study, arm }) => `${study} ${arm}`).values()].map(
    ([row]) => row!,
  );

const computed = (rows: readonly OutcomeRow[], slides: readonly Slide[]): readonly Maker[] => {
  const arms = armsOf(rows);
  const estimates = slideOf(slides, "average")?.slide.figure;
  return inTurn([
    rows.flatMap(({ study, arm, outcome, preMean, postMean, line }) =>
      preMean === undefined || postMean === undefined || preMean <= 0
        ? []
        : [
            {
              question: `${study}, ${arm}: ${outcome} was ${preMean} before and ${postMean} after. What is the change in percent?`,
              answer: `${number((100 * (postMean - preMean)) / preMean)}%.`,
              reason: `100 · (${postMean} − ${preMean}) / ${preMean}; line ${line} of the file.`,
            },
          ],
    ),
    arms.flatMap(({ study, arm, sets = 1, repetitions, holdSeconds }) =>
      repetitions === undefined || holdSeconds === undefined
        ? []
        : [
            {
              question: `${study}, ${arm}: how long is the muscle under tension in a session of ${sets} × ${repetitions} holds of ${number(holdSeconds, Number.isInteger(holdSeconds) ? 0 : 1)} s?`,
              answer: `${shownDuration(sets * repetitions * holdSeconds)}.`,
              reason: `${sets} · ${repetitions} · ${holdSeconds} s = ${number(sets * repetitions * holdSeconds, 0)} s; rests do not count.`,
            },
          ],
    ),
    estimates?.name !== "estimates" || !scaleDisplay(estimates.data.scale).shownAsPercent
      ? []
      : onlyEffects(estimates.data.effects).map(({ study, low, high }): Maker => {
          const { write } = scaleDisplay(estimates.data.scale);
          return {
            question: `The 95% interval of ${study} runs from ${write(low)} to ${write(high)}%. How large is its standard error on the scale of logarithms?`,
            answer: `About ${number((high - low) / 3.92, 3)}.`,
            reason: `The bounds are ${number(low, 3)} and ${number(high, 3)} as logarithms of 1 + change/100; their distance is 2 · 1.96 standard errors.`,
          };
        }),
    arms.flatMap(({ study, arm, weeks, sessionsPerWeek }) =>
      weeks === undefined || sessionsPerWeek === undefined
        ? []
        : [
            {
              question: `${study}, ${arm}: ${sessionsPerWeek} sessions a week for ${weeks} weeks. How many sessions is that, and how many would ${other(weeks)} weeks be?`,
              answer: `${number(weeks * sessionsPerWeek, 0)}, and ${number(other(weeks) * sessionsPerWeek, 0)} in ${other(weeks)} weeks.`,
              reason: `${weeks} · ${sessionsPerWeek} and ${other(weeks)} · ${sessionsPerWeek}; a longer course is more training too, so weeks and sessions cannot be told apart by it.`,
            },
          ],
    ),
  ]);
};

/** Claims that go further than the file. */
const claims = (
  setting: Setting,
  comparisons: readonly TrialComparison[],
  influence: Answer,
): readonly Maker[] => {
  const { brief, lead, pool, evidence } = setting;
  const goal = brief.data.goals.find(({ id }) => id === lead.id);
  const own = averageOf(setting);
  const tested = new Set<string>(comparisons.map(({ variable }) => variable));
  const missing = comparedVariables.filter((name) => name !== notCoded && !tested.has(name));
  const gain = own === undefined ? "" : shownValue(own, pool);
  return inTurn([
    own === undefined || goal === undefined
      ? []
      : [
          {
            question: `"${gain} means that a client of mine gains that much in ${lead.label}." True, false, or not told by ${evidence.source.name}?`,
            answer: `Not told. ${gain} is about the average of ${counted(own.studies, "study", "studies")}.`,
            reason: goal.sure,
          },
          {
            question: `"Training alone makes ${gain} of ${lead.label}." What stands against it?`,
            answer: `It is a change from before to after, with practice at the test in it. ${goal.gains.join(" ")}`,
            reason:
              goal.gains.length > 1
                ? "The second number compares with people who did not train; only that one belongs to training."
                : `No average of ${lead.label} against no exercise stands in ${evidence.source.name}, so how much is training cannot be said.`,
          },
        ],
    comparisons.flatMap((one) => {
      const { study, label, lower, higher, difference, interval, unit, variable } = one;
      if (difference === null || variable === "notCoded") return [];
      const [more, less] = difference > 0 ? [higher, lower] : [lower, higher];
      return [
        {
          question: `"${study} shows that ${label} of ${more.dose} beats ${less.dose}." Does it? It printed ${gainWords(more, unit)} and ${gainWords(less, unit)}.`,
          answer:
            interval === null
              ? `Not told: ${differenceWords(one)}.`
              : interval.low > 0 || interval.high < 0
                ? `In this one trial, yes: ${differenceWords(one)}.`
                : `No: ${differenceWords(one)}, which holds no difference too.`,
          reason:
            one.alsoDiffer.length === 0
              ? `As far as it is coded, the arms of ${study} differ in nothing else; it is one trial all the same.`
              : `The arms of ${study} differ in ${one.alsoDiffer.join(", ")} as well.`,
        },
      ];
    }),
    missing.map(variableLabel).map((label) => ({
      question: `"${evidence.source.name} shows that ${label} makes no difference." True?`,
      answer: `No: no trial of the file compared ${label}.`,
      reason: `What nobody compared is not told; that is another thing than no difference in ${label}.`,
    })),
    [
      {
        question: `"Without any one of ${counted(own?.studies ?? 0, "study", "studies")}, the average of ${lead.label} would say the same." True for this file?`,
        answer: influence.headline,
        reason: `Each of the studies behind ${gain === "" ? lead.label : gain} was left out in turn; see holdbook influence.`,
      },
    ],
    brief.data.untested
      .filter((one) => /^No(body| group)/.test(one))
      .map((bound) => ({
        question: `"The numbers of ${evidence.source.name} hold for people and weeks beyond those studied." What does the file say? (${bound.startsWith("Nobody") ? "Weeks" : "Age"})`,
        answer: bound,
        reason: `Beyond that there is no row, and a curve drawn further is no evidence: ${bound.toLowerCase()}`,
      })),
  ]);
};

/** Twenty items, or as many as the file gives. */
export const quizOf = async (
  setting: Setting,
  slides: readonly Slide[],
): Promise<readonly QuizItem[]> => {
  const { ask, lead, evidence } = setting;
  const trials = await ask("single-trials");
  const all = trials.data.groups.flatMap(({ comparisons }) => comparisons);
  const influence = await ask("influence", { outcome: lead.id });
  const { rowsUsed } = (await ask("pool", { outcome: lead.id })).data;
  const first = new Set(rowsUsed);
  const rows = [...evidence.records.rows].sort(
    (a, b) => Number(first.has(b.line)) - Number(first.has(a.line)),
  );
  const made: Readonly<Record<QuizLevel, readonly Maker[]>> = {
    "read a figure": readingOf(setting, slides),
    compute: computed(rows, slides),
    "judge a claim": claims(setting, all, influence),
  };
  const total = Object.values(wanted).reduce((sum, one) => sum + one, 0);
  const kept = quizLevels.map((level) => made[level].slice(0, wanted[level]));
  // Where a level has too few, others lend theirs.
  let lacking = total - kept.flat().length;
  return quizLevels.flatMap((level, place) => {
    const more = made[level].slice(kept[place]!.length, kept[place]!.length + lacking);
    lacking -= more.length;
    return [...kept[place]!, ...more].map((item) => ({ level, ...item }));
  });
};
