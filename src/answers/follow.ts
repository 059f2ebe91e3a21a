/** Whether one client's change is real, where it lies in what was projected, and what both together expect by the end. */
import * as z from "zod";
import { logRatioFromPercent } from "../effects/percent-from-log-ratio.js";
import { refusal } from "../errors.js";
import {
  clientChange,
  clientDays,
  type ClientChange,
  type NoChange,
  type UntrainedChange,
} from "../projection/client-change.js";
import { keptOverEightWeeks, type ClientOutlook } from "../projection/client-outlook.js";
import { clientRule, clientRules } from "../projection/client-rule.js";
import { goalRecord } from "../projection/goals.js";
import { listed } from "../protocol/listed.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { readDate } from "../records/client-log.js";
import { fatesTable } from "../tables/fates-table.js";
import {
  callWords,
  changeText,
  followTable,
  rulesTable,
  weeksText,
} from "../tables/follow-table.js";
import { issuesTable } from "../tables/issues-table.js";
import {
  capital,
  confidenceWords,
  counted,
  formatNumber,
  formatPercent,
} from "../tables/number-format.js";
import { rangeLimits, rangeText } from "../tables/range-cells.js";
import { folded } from "../tables/table.js";
import type { AnswerDraft } from "./answer.js";
import { linesOf } from "./evidence.js";
import { outlookOf, projectOf, untrainedOf } from "./followed-outlook.js";
import { fatesOf, followedTest, logOption, startOption } from "./followed-test.js";
import {
  anyGoalOption,
  goalChoices,
  goalFit,
  goalShape,
  projectOptionsOf,
  rangeSchema,
  type GoalOptions,
  type ProjectionGoal,
} from "./goal-fit.js";
import { aNumber, option, text } from "./option.js";
import { question } from "./question.js";
import { assumedOf, protocolOption, readProtocol } from "./session.js";

/** The error of the test and what it lets be told, in sentences. */
const errorWords = (
  { error, thresholdFor, detectable, occasions }: ClientChange,
  published: number | undefined,
  confidence: number,
  isPlanned: boolean,
): readonly string[] => {
  const percent = (deviation: number): string => formatPercent(100 * Math.expm1(deviation));
  const parts = [
    ...(published === undefined
      ? []
      : [
          `the published ${percent(published)}, which counts as ${counted(Number(formatNumber(error.publishedRepeats, { digits: 1 })), "repeat")}`,
        ]),
    ...(error.ownDeviation === undefined
      ? []
      : [
          `${counted(error.ownRepeats, "repeat")} of the client's own on other days, ${percent(error.ownDeviation)}`,
        ]),
    ...(error.trialsWiden === 0 ? [] : ["trials of a day that differ by more than that"]),
  ];
  const repeats = occasions.reduce((sum, { days }) => sum + days - 1, 0);
  return [
    `One test errs by ${percent(error.deviation)} (one standard deviation), from ${listed(parts)}.`,
    `With ${counted(thresholdFor, "later test")}${repeats === 0 ? "" : ", repeats within 3 days counted"}, one more test on one day would tell a change from ${percent(detectable)} up or ${percent(-detectable).slice(1)} down; a change of nothing is then called real in at most ${confidenceWords(1 - confidence)} of logs.`,
    ...(isPlanned
      ? []
      : [
          // As simulated in the tests: 10.1 of 100 logs of five later tests at 95% confidence.
          "If you ask again after every test, say beforehand how many tests are planned: asked after each of five without that, about 10 in 100 logs of no change are called real at some time (simulated, 95% confidence).",
        ]),
  ];
};

const whyNoChange: Readonly<Record<NoChange, readonly [reason: string, mend: string]>> = {
  "no-baseline": [
    "no test stands before training began",
    `the first test, or one up to ${clientDays.together} days after the start, is what later ones are compared with`,
  ],
  "no-later-test": ["no test stands after training began", "test again, made the same way"],
  "no-test-error": [
    "the error of this test is not known",
    "say by how many percent one test errs, or test on two days before training",
  ],
};

const share = (chance: number): string =>
  chance < 0.005
    ? "fewer than 1"
    : chance > 0.995
      ? "more than 99"
      : `about ${Math.round(100 * chance)}`;

export type FollowData = Readonly<{
  test: string | null;
  unit: string | null;
  goal: ProjectionGoal | null;
  written: string;
  /** As `clientChange` gives it; null where there is none. */
  change: ClientChange | null;
  /** What people show who do not train; null where the file does not say. */
  untrained: UntrainedChange | null;
  /** Range of one person at the last test, error of the test included, and by the end; null without a projection. */
  projected: Readonly<{ weeks: number; now: object; endWeeks: number }> | null;
  outlook: ClientOutlook | null;
  rule: Readonly<{ id: string; advice: string; when: string; what: string }> | null;
  /** What became of every line of the log. */
  lines: readonly Readonly<{ line: number; fate: string; reason: string }>[];
}>;

/** Whether a client's change is real. */
export const follow = question({
  id: "follow",
  options: {
    log: logOption,
    protocol: protocolOption,
    ...goalShape,
    goal: anyGoalOption("what the test is of, where its name does not tell"),
    test: option(text().optional(), {
      help: "test to follow, where the log has several; the one with the most days by default",
      value: "<name>",
      label: "which test of the log",
    }),
    start: startOption,
    testError: option(
      aNumber({ above: 0, below: 100, needs: "a percentage above 0 and below 100" }).optional(),
      {
        help: "error of one test in percent, in place of the published one",
        value: "<percent>",
        label: "error of one test, %",
      },
    ),
    planned: option(
      aNumber({ least: 1, whole: true, needs: "a whole number of 1 or more" }).optional(),
      {
        help: "later tests planned in all, so that asking after each of them keeps to one error in twenty",
        value: "<tests>",
        label: "later tests planned in all",
      },
    ),
  },
  choices: ["log", "protocol", "goal", "test", "start", "testError", "planned", ...goalChoices],
  data: {
    test: z.string().nullable(),
    unit: z.string().nullable(),
    goal: z.string().nullable(),
    written: z.string(),
    change: z.looseObject({ occasions: z.array(z.looseObject({})) }).nullable(),
    untrained: z.looseObject({}).nullable(),
    projected: z
      .looseObject({ weeks: z.number(), endWeeks: z.number(), now: rangeSchema })
      .nullable(),
    outlook: z
      .looseObject({ below: z.number(), alone: rangeSchema, together: rangeSchema })
      .nullable(),
    rule: z
      .object({ id: z.string(), advice: z.string(), when: z.string(), what: z.string() })
      .nullable(),
    lines: z.array(z.object({ line: z.number(), fate: z.string(), reason: z.string() })),
  },
  prepare: (evidence, options) => (goal: ProjectionGoal) => goalFit(evidence, { ...options, goal }),
  answer: (fitFor, options, tell): AnswerDraft<FollowData> => {
    const p = readProtocol(options.protocol, options.joint);
    const written = writePrescription(p);
    const { confidence } = options;
    const told = followedTest(options.log, options, p.trainingAngleDegrees ?? []);
    const nothing = {
      ...{ test: null, unit: null, goal: null, written, change: null, untrained: null },
      ...{ projected: null, outlook: null, rule: null, lines: [], confidence },
    };
    if ("kind" in told)
      return {
        headline: `${capital(told.reason)}.`,
        refusal: told,
        prescriptions: [p],
        data: nothing,
      };
    const { log, test, trials, goal } = told;
    const { unit } = trials[0]!;
    const fit = fitFor(goal)(tell);
    const published =
      options.testError !== undefined
        ? { deviation: logRatioFromPercent(options.testError), source: "as given" }
        : (goalRecord(goal).testError ??
          (fit.kind === "fit" ? fit.prepared.measurement : undefined));
    const isOver = options.contrast === "against-control";
    const untrained = fit.kind === "fit" ? untrainedOf(fit, published?.deviation ?? 0) : undefined;
    const start =
      options.start === undefined ? undefined : (readDate(options.start) as { day: number }).day;
    const found = clientChange(
      trials.map(({ day, value }) => ({ day, logValue: Math.log(value) })),
      {
        confidence,
        ...(published === undefined ? {} : { published }),
        ...(untrained === undefined ? {} : { untrained }),
        ...(start === undefined ? {} : { start }),
        ...(options.planned === undefined ? {} : { planned: options.planned }),
      },
    );
    const change = typeof found === "string" ? undefined : found;
    const lines = fatesOf(told, change);
    const unused = lines.filter(({ fate }) => fate !== "used").length;
    const fates = {
      ...fatesTable(lines),
      id: "log-fates",
      title: "What became of the lines of the log",
    };
    const logTables = [
      ...(log.issues.length === 0 ? [] : [{ ...issuesTable(log.issues), id: "log-issues" }]),
      unused === 0 ? folded(fates) : fates,
    ];
    const logWords = [
      ...(log.invented ? ["The log is invented, as its notes say."] : []),
      ...(unused === 0
        ? []
        : [
            `${counted(unused, "line")} of ${log.lines.length} in the log ${unused === 1 ? "is" : "are"} not in the answer.`,
          ]),
      ...(log.ignored.length === 0 ? [] : [`Not read of the log: ${log.ignored.join(", ")}.`]),
    ];
    const last = change?.occasions.at(-1);
    if (change === undefined || last === undefined) {
      const code = typeof found === "string" ? found : "no-later-test";
      const [reason, mend] = whyNoChange[code];
      return {
        headline: `${capital(test)}: no change can be told, since ${reason}; ${mend}.`,
        sentences: [`${written}.`, ...assumedOf(options.protocol), ...logWords],
        tables: logTables,
        refusal: { ...refusal(code, reason), try: mend },
        prescriptions: [p],
        data: { ...nothing, test, unit, goal, lines },
      };
    }
    const asked = {
      ...projectOptionsOf(options as GoalOptions),
      ...(options.testDistance === undefined && told.distance !== undefined
        ? { testDistanceDegrees: told.distance }
        : {}),
    };
    const projection =
      fit.kind === "refusal" || options.contrast === "against-other-limb"
        ? undefined
        : projectOf(fit, p, asked, last.weeks);
    const missing =
      fit.kind === "refusal"
        ? fit.reason
        : projection === undefined
          ? "a log has no other limb to compare with"
          : projection.kind === "refusal"
            ? projection.reason
            : undefined;
    const shown =
      fit.kind === "fit" && projection?.kind === "projection"
        ? outlookOf(fit, projection, change, {
            confidence,
            asked,
            overUntrained: isOver,
            ...(untrained === undefined ? {} : { untrained }),
          })
        : undefined;
    const rule = clientRule({
      call: last.call,
      days: last.days,
      detectable: change.detectable,
      ...(shown === undefined ? {} : { below: shown.outlook.below, expected: shown.expected }),
    });
    const { holds: _holds, ...followed } = rule;
    const takenOff =
      untrained === undefined
        ? ""
        : `, the ${formatPercent(100 * Math.expm1(untrained.mean))} of people who do not train taken off`;
    const after = `after ${weeksText(last.weeks)}`;
    return {
      headline: `${capital(test)} ${after}: ${changeText(last, confidence)}${takenOff}: ${
        last.call === "within the error"
          ? "within the error of the test, so it cannot be told from no change"
          : `beyond the error of the test, so the change is real`
      }.`,
      sentences: [
        `${capital(rule.advice)}. ${rule.when} ${rule.what}${rule.id === "too-early" && shown?.tellsFrom !== undefined ? ` Test again in week ${shown.tellsFrom}, from when the gain expected is one that a test can tell.` : ""}`,
        ...errorWords(change, published?.deviation, confidence, options.planned !== undefined),
        untrained === undefined
          ? "What people gain without training, by practice of the test among others, is not taken off: the file has no such arms for this test."
          : `Without training, people of ${counted(fit.kind === "fit" ? fit.untrained!.arms : 0, "arm")} of the file changed by ${formatPercent(100 * Math.expm1(untrained.mean))}; that, and how far they differ, is taken off before a change is called real.`,
        ...(shown === undefined
          ? [`Nothing is projected for ${goal}: ${missing!}. The change is told by the log alone.`]
          : [
              `For one person ${after} the file projects ${rangeLimits(shown.now)}%, error of the test included; of 100 such people ${share(shown.outlook.below)} would have measured less.`,
              `True change by week ${formatNumber(shown.endWeeks, { digits: 0 })}, without the error of a test: ${rangeText(shown.outlook.alone)} expected from the trials alone; ${rangeText(shown.outlook.together)} with this client's tests.`,
            ]),
        `${written}.`,
        ...assumedOf(options.protocol),
        ...logWords,
      ],
      tables: [
        followTable(change, {
          dateOf: (day) => trials.find((trial) => trial.day === day)!.date,
          unit,
          confidence,
          isAdjusted: untrained !== undefined,
          ...(published === undefined ? {} : { source: published.source }),
        }),
        folded(rulesTable(clientRules, rule.id)),
        ...logTables,
      ],
      figures: [
        {
          name: "follow",
          data: {
            id: "follow",
            title: `${capital(test)} ${after}: ${changeText(last)}${untrained === undefined ? "" : " beyond no training"}, ${callWords[last.call]}`,
            protocol: written,
            // Over people who do not train where that is projected, as measured otherwise.
            tests: change.occasions.map(({ weeks, change: beyond, measured, low, high }) => {
              const back = isOver ? 0 : measured - beyond;
              return { weeks, change: beyond + back, low: low + back, high: high + back };
            }),
            ...(untrained === undefined || isOver ? {} : { withoutTraining: untrained.mean }),
            ...(shown === undefined
              ? {}
              : {
                  projected: {
                    course: shown.projection.course.map(({ weeks, studied, person }) => ({
                      weeks,
                      studied,
                      person,
                    })),
                    weeks: shown.endWeeks,
                    alone: shown.outlook.alone,
                    together: shown.outlook.together,
                  },
                }),
            confidence,
            ...(log.invented ? { invented: true } : {}),
          },
        },
      ],
      notes: [
        ...(shown === undefined
          ? []
          : [
              {
                code: "assumption" as const,
                message: `a person's own response is taken to keep a correlation of ${keptOverEightWeeks} over eight weeks; with the file this makes the true change now and by the end correlate at ${formatNumber(shown.outlook.correlation, { digits: 2 })}`,
              },
              ...shown.projection.assumed,
              ...shown.projection.notes,
            ]),
      ],
      prescriptions: [p],
      data: {
        ...nothing,
        ...{ test, unit, goal, change, untrained: untrained ?? null, lines, rule: followed },
        projected:
          shown === undefined
            ? null
            : { weeks: last.weeks, now: shown.now, endWeeks: shown.endWeeks },
        outlook: shown?.outlook ?? null,
        contrast: options.contrast,
        scale: "log-ratio-of-means",
        rowsUsed: fit.kind === "fit" ? linesOf(fit.prepared.set) : [],
      },
    };
  },
});
