/** A client's log as an option, the test of it that is followed, and what became of its lines. */
import * as z from "zod";
import { readTable } from "../csv/read-table.js";
import { DataError, refusal, type Issue, type Refusal } from "../errors.js";
import { clientDays, type ClientChange } from "../projection/client-change.js";
import {
  projectionGoals,
  sameAngleWithinDegrees,
  type ProjectionGoal,
} from "../projection/goals.js";
import { clientLog, readDate, type ClientLog, type ClientTrial } from "../records/client-log.js";
import { grouped } from "../records/grouped.js";
import { familyNamed, outcomeFamilies } from "../records/outcome-families.js";
import { namedOne, option, readAs, unread } from "./option.js";

const trialSchema = z.object({
  line: z.number(),
  date: z.string(),
  day: z.number(),
  test: z.string(),
  value: z.number(),
  unit: z.string(),
  angleDegrees: z.number().optional(),
});

/** A log as text is read at the door, so that only the columns it needs travel on. */
export const logOption = option(
  z.preprocess(
    (given) => (typeof given === "string" ? clientLog(readTable(given)) : given),
    z.object({
      trials: z.array(trialSchema).readonly(),
      issues: z.array(z.custom<Issue>()).readonly(),
      lines: z.array(z.number()).readonly(),
      ignored: z.array(z.string()).readonly(),
      invented: z.boolean(),
    }),
  ),
  {
    help: "the client's log: a CSV with the columns date (2026-03-14), test, value and unit, and where wanted trial, joint and angle",
    operand: "one",
    namesFile: true,
    keptNowhere: true,
  },
);

export const startOption = option(
  z.preprocess((given) => {
    if (typeof given !== "string") return given;
    const read = readDate(given.trim());
    return "code" in read ? unread("a date such as 2026-03-14", given, read.mend) : read.date;
  }, z.string().optional()),
  {
    help: "day on which training began; the first day of the log where left out",
    value: "<date>",
    label: "day on which training began",
  },
);

/** The test that is followed. */
export type FollowedTest = Readonly<{
  log: ClientLog;
  test: string;
  trials: readonly ClientTrial[];
  goal: ProjectionGoal;
  /** Degrees between trained and tested angle, where both are given. */
  distance?: number;
}>;

/** The test that is followed, and the goal it is a test of. */
export const followedTest = (
  log: ClientLog,
  options: Readonly<{ test?: string | undefined; goal?: ProjectionGoal | undefined }>,
  trained: readonly number[],
): FollowedTest | Refusal => {
  if (log.trials.length === 0)
    throw new DataError(
      log.issues.length > 0
        ? log.issues
        : [
            {
              ...{ code: "no-rows", severity: "error", line: 0, column: "", value: "" },
              message: "the log has no tests",
              mend: "write one a line: date, test, value, unit",
            },
          ],
    );
  const tests = grouped(log.trials, (trial) => trial.test);
  const days = (of: readonly ClientTrial[]): number => new Set(of.map(({ day }) => day)).size;
  const [most] = [...tests].sort(([, a], [, b]) => days(b) - days(a));
  const { test: asked } = options;
  const test =
    asked === undefined ? most![0] : readAs("--test", () => namedOne(asked, [...tests.keys()]));
  const trials = tests.get(test)!;
  const family = familyNamed(test);
  const goals = family === undefined ? undefined : outcomeFamilies[family].goals;
  if (options.goal === undefined && goals?.length === 0)
    return refusal(
      "unknown-goal",
      `"${test}" is a test of ${family!}, and a client's change is followed in ${projectionGoals.join(", ")}`,
    );
  const angle = trials[0]!.angleDegrees;
  const distance =
    angle === undefined || trained.length === 0
      ? undefined
      : Math.min(...trained.map((one) => Math.abs(one - angle)));
  const named = goals?.[0]?.name ?? "strength at the trained angle";
  const goal =
    options.goal ??
    (named === "strength at the trained angle" && (distance ?? 0) > sameAngleWithinDegrees
      ? "strength elsewhere"
      : named);
  return { log, test, trials, goal, ...(distance === undefined ? {} : { distance }) };
};

/** What became of every line. */
export const fatesOf = (
  { log, test }: Pick<FollowedTest, "log" | "test">,
  change: ClientChange | undefined,
) => {
  const trialOn = new Map(log.trials.map((trial) => [trial.line, trial]));
  return log.lines.map((line) => {
    const trial = trialOn.get(line);
    const problem = log.issues.find((one) => one.line === line && one.severity === "error");
    if (trial === undefined)
      return problem === undefined
        ? { line, fate: "set aside", reason: "the line is empty" }
        : {
            line,
            fate: "refused",
            reason: `${problem.column === "" ? "" : `${problem.column}: `}${problem.message}`,
          };
    if (trial.test !== test)
      return {
        line,
        fate: "set aside",
        reason: `another test, “${trial.test}”, which can be followed in place of this one`,
      };
    if (change?.tooOld.includes(trial.day) === true)
      return {
        line,
        fate: "set aside",
        reason: `more than ${clientDays.baseline} days before the last test before training`,
      };
    return { line, fate: "used", reason: "in the answer" };
  });
};
