/** What becomes of an answer when each study is left out in turn. */
import { CallError, type Refusal } from "../errors.js";
import type { Interval } from "../synthesis/synthesis-results.js";

/** An answer as it is compared with itself: one number with its error and interval. */
export type RepeatedAnswer = Readonly<{
  estimate: number;
  standardError: number;
  interval: Interval;
  /**
   * Of an answer with one study left out that is an average: the study's own average, and how far such a
   * study may lie from this answer by chance and by what differs between studies (a variance). See
   * studyAverage of the synthesis.
   */
  own?: Readonly<{ estimate: number; variance: number }>;
}>;

/** The answer without one study. */
export type LeftOut = Readonly<{
  name: string;
  /** Null where the question has no answer without the study; `refusal` says why. */
  answer: Readonly<{ estimate: number; standardError: number; interval: Interval }> | null;
  refusal: Refusal | null;
  /** Estimate without the study minus the estimate with it. */
  shift: number | null;
  /** Squared shift over the squared standard error of the whole. */
  cooksDistance: number | null;
  /** (own average − estimate without it) over the error of that difference; null where it has none. */
  deletedResidual: number | null;
  /** Whether the interval leaves zero, takes it in, or the estimate turns its sign; or no answer is left. */
  changesConclusion: boolean;
}>;

/** The average without each study in turn. */
export type LeaveEachOut = Readonly<{
  leftOut: readonly LeftOut[];
  /** Smallest and largest estimate over all that were left out; null where none was left. */
  range: Interval | null;
  /** The study without which the estimate moves most; null where nothing was left. */
  movesMost: string | null;
  /** Studies without which the conclusion is another. */
  restsOn: readonly string[];
}>;

const where = "leaveEachOut";

/**
 * The answer with each unit left out in turn, compared with the whole.
 *
 *   Cook (μ − μ₍ᵢ₎)²/SE²;  deleted residual (ȳ_i − μ₍ᵢ₎)/√(Var(ȳ_i) + SE₍ᵢ₎²),  SE of the whole
 *
 * with ȳ_i the unit's own average and Var(ȳ_i) its sampling variance plus the spread between true effects
 * as estimated without it. What is asked, and how it is refitted, is the caller's.
 *
 * @param units names of what is left out, at least two
 * @param whole the answer with all of them
 * @param without the answer without one of them, refitted, or why there is none
 * @returns one line per unit, in their order
 * @throws {CallError} "nothing-left" for fewer than two units
 * @source Viechtbauer and Cheung (2010) Research Synthesis Methods 1:112–125
 */
export const leaveEachOut = (
  units: readonly string[],
  whole: RepeatedAnswer,
  without: (unit: string) => RepeatedAnswer | Refusal,
): LeaveEachOut => {
  if (units.length < 2) {
    throw new CallError({
      code: "nothing-left",
      where,
      needs: "at least two studies to leave one out",
      got: String(units.length),
    });
  }
  const leftOut = units.map((name): LeftOut => {
    const answer = without(name);
    if ("kind" in answer) {
      return {
        ...{ name, answer: null, refusal: answer, shift: null },
        ...{ cooksDistance: null, deletedResidual: null, changesConclusion: true },
      };
    }
    const { estimate, standardError, interval, own } = answer;
    const shift = estimate - whole.estimate;
    return {
      name,
      answer: { estimate, standardError, interval },
      refusal: null,
      shift,
      cooksDistance: (shift / whole.standardError) ** 2,
      deletedResidual:
        own === undefined
          ? null
          : (own.estimate - estimate) / Math.sqrt(own.variance + standardError ** 2),
      changesConclusion: conclusion(answer) !== conclusion(whole),
    };
  });
  const moved = leftOut.filter(({ shift }) => shift !== null);
  const estimates = moved.map(({ answer }) => answer!.estimate);
  const [furthest] = [...moved].sort((a, b) => Math.abs(b.shift!) - Math.abs(a.shift!));
  return {
    leftOut,
    range:
      estimates.length === 0 ? null : { low: Math.min(...estimates), high: Math.max(...estimates) },
    movesMost: furthest?.name ?? null,
    restsOn: leftOut.flatMap(({ name, changesConclusion }) => (changesConclusion ? [name] : [])),
  };
};

/** Which side of zero the interval lies on, or 0 where it holds zero, with the sign of the estimate. */
const conclusion = ({ estimate, interval }: RepeatedAnswer): string => {
  const side = interval.low > 0 ? 1 : interval.high < 0 ? -1 : 0;
  return `${side} ${Math.sign(estimate)}`;
};
