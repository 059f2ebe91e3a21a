/** Invented clients whose true change is known, followed as a reader follows one. */
import { randomStream, type RandomStream } from "../../src/numeric/random-stream.js";
import {
  clientChange,
  type ClientChange,
  type ClientChangeOptions,
  type LogTrial,
} from "../../src/projection/client-change.js";
import { clientOutlook, type GainCase } from "../../src/projection/client-outlook.js";
import { weeksCurve } from "../../src/projection/weeks-curve.js";

export type Clients = Readonly<{
  /** Later tests, one a day, spread over twelve weeks. */
  dates: number;
  /** Days before training beyond the first. */
  repeats: number;
  /** Everyone errs as published; or people differ, and the published error was measured in twenty of them. */
  errors: "as published" | "people differ";
  /** Known to the answer: what people show who do not train. */
  untrained: boolean;
  /** How far a person's own response keeps its place over eight weeks; the answer takes 0.8. */
  kept?: number;
}>;

/** Log scale: the usual error of a test, and what people show who do not train. */
const usualError = 0.05;
const practice = { mean: 0.02, standardError: 0.008, groups: 0.013, person: 0.03 };

/** What trials say of a gain, invented: two courses, three deviations of people's own response. */
const cases: readonly GainCase[] = [4, 9].flatMap((constant) =>
  [0.02, 0.06, 0.1].map((response) => ({
    ...{ weight: 1 / 6, constant, response },
    mean: constant === 4 ? 0.16 : 0.2,
    variance: 0.05 ** 2,
  })),
);

const chiSquared = (random: RandomStream, degrees: number): number => {
  let total = 0;
  for (let i = 0; i < degrees; i++) total += random.normal() ** 2;
  return total;
};

/** True change at some weeks of one client out of the cases; correlated own responses by a walk through time. */
const trueChanges = (random: RandomStream, weeks: readonly number[], kept: number) => {
  const { mean, variance, response, constant } = cases[random.integer(cases.length)]!;
  const common = mean + Math.sqrt(variance) * random.normal();
  let own = random.normal();
  return weeks.map((week, j) => {
    if (j > 0) {
      const alike = kept ** ((week - weeks[j - 1]!) / 8);
      own = alike * own + Math.sqrt(1 - alike ** 2) * random.normal();
    }
    return weeksCurve(week, constant) * (common + response * own);
  });
};

/** One client's log and what is known of the truth behind it. */
const client = (random: RandomStream, clients: Clients, trained: boolean, isRepeated = false) => {
  const differ = clients.errors === "people differ";
  const error = usualError * (differ ? Math.sqrt(10 / chiSquared(random, 10)) : 1);
  const published = usualError * (differ ? Math.sqrt(chiSquared(random, 20) / 20) : 1);
  const without = clients.untrained
    ? practice.mean + Math.hypot(practice.groups, practice.person) * random.normal()
    : 0;
  const trials: LogTrial[] = [];
  // Two trials a day: the mean of a day errs by the whole error, a part of it from trial to trial.
  const testOn = (day: number, truth: number): void => {
    const ofDay = truth + Math.sqrt(0.8) * error * random.normal();
    for (const _ of [1, 2])
      trials.push({ day, logValue: 5 + ofDay + Math.sqrt(0.4) * error * random.normal() });
  };
  for (let i = 0; i <= clients.repeats; i++) testOn(-2 * (clients.repeats - i), 0);
  const weeks = Array.from({ length: clients.dates }, (_, j) => (12 * (j + 1)) / clients.dates);
  const gains = trained ? trueChanges(random, weeks, clients.kept ?? 0.8) : weeks.map(() => 0);
  weeks.forEach((week, j) => {
    const day = Math.round(7 * week);
    for (const one of isRepeated ? [day, day + 2] : [day]) testOn(one, without + gains[j]!);
  });
  const options: ClientChangeOptions = {
    start: 0,
    published: { deviation: published, people: 20 },
    ...(clients.untrained
      ? {
          untrained: {
            mean: practice.mean + practice.standardError * random.normal(),
            meanVariance: practice.standardError ** 2 + practice.groups ** 2,
            personVariance: practice.person ** 2,
          },
        }
      : {}),
  };
  return { trials, options, end: gains.at(-1)! };
};

const isCalled = ({ occasions }: ClientChange): boolean =>
  occasions.some(({ call }) => call !== "within the error");

/** A share of some logs with its Monte Carlo error, percent. */
export type Share = Readonly<{ percent: number; error: number }>;
const shareOf = (count: number, of: number): Share => ({
  percent: (100 * count) / of,
  error: 100 * Math.sqrt((count * (of - count)) / of ** 3),
});
export const shareText = ({ percent, error }: Share): string =>
  `${percent.toFixed(1)} ± ${error.toFixed(1)} %`;

/** Of logs without any true change beyond what people show who do not train, the share in which a change is called real. */
export const calledReal = (clients: Clients, logs: number, seed: number): Share => {
  const random = randomStream(seed);
  let called = 0;
  for (let i = 0; i < logs; i++) {
    const { trials, options } = client(random, clients, false);
    if (isCalled(clientChange(trials, options) as ClientChange)) called++;
  }
  return shareOf(called, logs);
};

/** The same, where somebody asks after each of the planned tests and remembers any yes. */
export const calledRealAtAnyLook = (
  clients: Clients,
  planned: number | undefined,
  logs: number,
  seed: number,
): Share => {
  const random = randomStream(seed);
  let called = 0;
  for (let i = 0; i < logs; i++) {
    const { trials, options } = client(random, clients, false);
    const days = [...new Set(trials.map(({ day }) => day))].filter((day) => day > 3);
    const looked = days.some((last) =>
      isCalled(
        clientChange(
          trials.filter(({ day }) => day <= last),
          { ...options, ...(planned === undefined ? {} : { planned }) },
        ) as ClientChange,
      ),
    );
    if (looked) called++;
  }
  return shareOf(called, logs);
};

/**
 * The same with the tests planned, where the rules' repeat is made within 3 days of every test that tells no change, and of
 * nothing else: the look that stops is the one that says yes.
 */
export const calledRealWithRepeats = (clients: Clients, logs: number, seed: number): Share => {
  const random = randomStream(seed);
  let called = 0;
  for (let i = 0; i < logs; i++) {
    const { trials, options } = client(random, clients, false, true);
    const days = [...new Set(trials.map(({ day }) => day))].filter((day) => day > 3);
    const looked = days.some((last) =>
      isCalled(
        clientChange(
          trials.filter(({ day }) => day <= last),
          { ...options, planned: clients.dates },
        ) as ClientChange,
      ),
    );
    if (looked) called++;
  }
  return shareOf(called, logs);
};

/**
 * Of trained clients, the share whose true change by the end, over people who do not train, lies in the updated range; and
 * in the range before.
 */
export const coverage = (
  clients: Clients,
  logs: number,
  seed: number,
): Readonly<{ together: Share; alone: Share; width: number }> => {
  const random = randomStream(seed);
  let [together, alone, width] = [0, 0, 0];
  for (let i = 0; i < logs; i++) {
    const { trials, options, end } = client(random, clients, true);
    // The last test is the one of the end: the end is foretold from those before it, or from all where there is one.
    const seen = clientChange(trials, options) as ClientChange;
    const before =
      seen.occasions.length === 1 ? seen : { ...seen, occasions: seen.occasions.slice(0, -1) };
    const found = clientOutlook(cases, before, 12, { ...options, overUntrained: true });
    const holds = (range: typeof found.alone): boolean => range.low <= end && end <= range.high;
    if (holds(found.together)) together++;
    if (holds(found.alone)) alone++;
    width +=
      (found.together.high - found.together.low) / (found.alone.high - found.alone.low) / logs;
  }
  return { together: shareOf(together, logs), alone: shareOf(alone, logs), width };
};
