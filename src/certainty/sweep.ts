/** How an answer moves when what was chosen and assumed for it is chosen otherwise. */
import { CallError, type Refusal } from "../errors.js";
import { randomStream } from "../numeric/random-stream.js";
import type { Interval } from "../synthesis/synthesis-results.js";

/** Something that was chosen; its first level is the one of the answer that is shown. */
export type SweptChoice = Readonly<{ name: string; levels: readonly string[] }>;

/** One level of every choice, by its place. */
export type Way = readonly number[];

/** What a way of analysing gives. */
export type WayAnswer = Readonly<{ estimate: number; interval: Interval }>;

/** How a sweep is asked. */
export type SweepOptions = Readonly<{
  /** The amount that counts, on the answer's scale; undefined where none is known. */
  amount?: number | undefined;
  /** Ways asked at most; of more, so many are drawn, that of the shown answer among them. */
  most?: number;
  seed?: number;
  /** Called before each way with how many are done and how many there are. */
  tell?: (done: number, ways: number) => void;
}>;

/** Ways asked at most, and the seed of a sample of them. */
export const sweepDefaults = { most: 500, seed: 1 } as const;

/** What some ways agree on. Counts of ways are not chances: the ways are neither equally likely nor independent. */
export type SweepAgreement = Readonly<{
  ways: number;
  /** Of them, those with an answer. */
  answered: number;
  /** Smallest, middle and largest estimate; null where no way has an answer. */
  least: number | null;
  middle: number | null;
  most: number | null;
  /** Their average, by which levels are compared. */
  mean: number | null;
  /** Answers with the sign of the one shown. */
  sameSign: number;
  /** Those of them whose interval leaves out no change. */
  clear: number;
  /** Answers with that sign and more than the amount that counts; null where no amount is known. */
  counts: number | null;
}>;

/** An answer under every other choice: what all ways agree on, and which choice moves it most. */
export type Sweep = Readonly<{
  /** Ways there are. */
  crossed: number;
  /** Whether they were drawn from them. */
  sampled: boolean;
  shown: WayAnswer;
  all: SweepAgreement;
  /** Lowest and highest bound of any interval. */
  bounds: Interval;
  choices: readonly Readonly<{
    name: string;
    levels: readonly (SweepAgreement & Readonly<{ level: string; estimates: readonly number[] }>)[];
    /** Largest minus smallest mean of its levels; null where fewer than two have an answer. */
    moves: number | null;
  }>[];
  /** The choice between whose levels the answer moves most; null where none moves it. */
  movesMost: string | null;
}>;

/** The way of a number among all ways, the last choice turning fastest. */
const wayAt = (choices: readonly SweptChoice[], number: number): Way => {
  const way: number[] = [];
  let rest = number;
  for (let place = choices.length - 1; place >= 0; place -= 1) {
    const { length } = choices[place]!.levels;
    way[place] = rest % length;
    rest = Math.floor(rest / length);
  }
  return way;
};

/** Every way of crossing some choices, or so many drawn from them with a seed; the shown one comes first. */
export const crossedWays = (
  choices: readonly SweptChoice[],
  { most = sweepDefaults.most, seed = sweepDefaults.seed }: SweepOptions = {},
): Readonly<{ ways: readonly Way[]; crossed: number }> => {
  const crossed = choices.reduce((product, { levels }) => product * levels.length, 1);
  const numbers = new Set<number>([0]);
  const stream = randomStream(seed);
  while (numbers.size < Math.min(most, crossed))
    numbers.add(crossed <= most ? numbers.size : Math.floor(stream.uniform() * crossed));
  return { ways: [...numbers].map((number) => wayAt(choices, number)), crossed };
};

type Asked = Readonly<{ way: Way; answer: WayAnswer | undefined }>;

const agreementOf = (
  asked: readonly Asked[],
  shown: WayAnswer,
  amount: number | undefined,
): SweepAgreement => {
  const answers = asked.flatMap(({ answer }) => answer ?? []);
  const estimates = answers.map(({ estimate }) => estimate).sort((a, b) => a - b);
  const { length } = estimates;
  const sign = Math.sign(shown.estimate);
  const agreeing = answers.filter(({ estimate }) => Math.sign(estimate) === sign);
  return {
    ways: asked.length,
    answered: length,
    least: estimates[0] ?? null,
    middle:
      length === 0
        ? null
        : (estimates[Math.floor((length - 1) / 2)]! + estimates[Math.ceil((length - 1) / 2)]!) / 2,
    most: estimates.at(-1) ?? null,
    mean: length === 0 ? null : estimates.reduce((sum, one) => sum + one, 0) / length,
    sameSign: agreeing.length,
    clear: agreeing.filter(({ interval: { low, high } }) => low > 0 || high < 0).length,
    counts:
      amount === undefined
        ? null
        : agreeing.filter(({ estimate }) => Math.abs(estimate) > amount).length,
  };
};

/**
 * An answer asked in every way that some choices allow.
 *
 * Every level of every choice meets every level of the others; of more than `most` ways so many are drawn without
 * replacement. What a choice moves is the largest minus the smallest of its levels' mean estimates.
 *
 * @param choices the shown level first; at least one with two levels
 * @param answerTo the same question asked one way, fitted anew
 * @throws {CallError} "nothing-left" where the shown answer is a refusal or nothing can be chosen otherwise
 * @source crossing of choices: Steegen, Tuerlinckx, Gelman and Vanpaemel (2016) Perspectives on Psychological Science
 *   11:702–712
 */
export const sweep = (
  choices: readonly SweptChoice[],
  answerTo: (way: Way) => WayAnswer | Refusal,
  options: SweepOptions = {},
): Sweep => {
  const { amount, tell = () => undefined } = options;
  const { ways, crossed } = crossedWays(choices, options);
  const asked = ways.map((way, done): Asked => {
    tell(done, ways.length);
    const answer = answerTo(way);
    return { way, answer: "kind" in answer ? undefined : answer };
  });
  const shown = asked[0]?.answer;
  if (shown === undefined || crossed < 2)
    throw new CallError({
      code: "nothing-left",
      where: "a sweep",
      needs: "an answer, and something that can be chosen otherwise",
      got: shown === undefined ? "no answer" : "nothing to choose",
    });
  const answers = asked.flatMap(({ answer }) => answer ?? []);
  const swept = choices.map(({ name, levels }, place) => {
    const told = levels.map((level, index) => {
      const own = asked.filter(({ way }) => way[place] === index);
      return {
        level,
        ...agreementOf(own, shown, amount),
        estimates: own.flatMap(({ answer }) => answer?.estimate ?? []),
      };
    });
    const means = told.flatMap(({ mean }) => mean ?? []);
    return {
      name,
      levels: told,
      moves: means.length < 2 ? null : Math.max(...means) - Math.min(...means),
    };
  });
  const [first] = swept
    .filter(({ moves }) => (moves ?? 0) > 1e-9 * Math.abs(shown.estimate))
    .sort((a, b) => b.moves! - a.moves!);
  return {
    crossed,
    sampled: ways.length < crossed,
    shown,
    all: agreementOf(asked, shown, amount),
    bounds: {
      low: Math.min(...answers.map(({ interval }) => interval.low)),
      high: Math.max(...answers.map(({ interval }) => interval.high)),
    },
    choices: swept,
    movesMost: first?.name ?? null,
  };
};

/**
 * Ways that turn one choice at a time, and the two that take for every choice the level with the lowest and with the
 * highest answer: what serves where each way costs more than a fit.
 *
 * @param estimateOf the number that a way gives, by which the two extremes are made; undefined where it gives none
 */
export const singleWays = (
  choices: readonly SweptChoice[],
  estimateOf: (way: Way) => number | undefined,
): Readonly<{
  single: readonly Readonly<{ name: string; level: string; way: Way }>[];
  lowest: Way;
  highest: Way;
}> => {
  const shown: Way = choices.map(() => 0);
  const turned = (place: number, level: number): Way => shown.with(place, level);
  const extreme = (sign: 1 | -1): Way =>
    choices.map(({ levels }, place) => {
      // A level without a number is no extreme, on either side.
      const estimates = levels.map((_, level) => {
        const estimate = estimateOf(turned(place, level));
        return estimate === undefined ? -Infinity : sign * estimate;
      });
      return Math.max(0, estimates.indexOf(Math.max(...estimates)));
    });
  return {
    single: choices.flatMap(({ name, levels }, place) =>
      levels.slice(1).map((level, index) => ({ name, level, way: turned(place, index + 1) })),
    ),
    lowest: extreme(-1),
    highest: extreme(1),
  };
};
