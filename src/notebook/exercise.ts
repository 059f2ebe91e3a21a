/** A question of a notebook. The answer is worked out from the data when it is asked for, never written down. */
export type Exercise = Readonly<{
  /** Number of the notebook, a full stop, number of the exercise. */
  id: string;
  answer: () => number | string;
  /** Decimals the answer is wanted to; 0 for counts. */
  decimals?: number;
  /** Ways to go wrong that can be recognised, and what to think about. */
  slips: readonly Readonly<{ answer: () => number | string; because: string }>[];
  /** What helps when the slip is not recognised. */
  hint: string;
  /** Why the answer is what it is; for the teacher's key. */
  reason: string;
}>;

export type Judgement = Readonly<{ right: boolean; message: string }>;

const plain = (text: string): string =>
  text
    .trim()
    .toLowerCase()
    .replace(/[_\s-]+/g, " ");

const close = (value: unknown, wanted: number | string, tolerance: number): boolean =>
  typeof wanted === "number"
    ? typeof value === "number" && Math.abs(value - wanted) <= tolerance
    : typeof value === "string" && plain(value) === plain(wanted);

/** How far a number may be off: half a unit of the last decimal asked for, and a shade for its rounding. */
const toleranceOf = (decimals: number): number =>
  decimals === 0 ? 1e-9 : 0.5001 * 10 ** -decimals;

const kindOfNumber = (value: number, wanted: number, tolerance: number): string | undefined => {
  if (!Number.isFinite(value))
    return "This is not a finite number; look at what was divided by what.";
  const near = (other: number): boolean => Math.abs(value - other) <= tolerance;
  if (wanted !== 0 && near(-wanted))
    return "The size is right and the sign is turned round: what is taken from what?";
  if (near(wanted / 100) || Math.abs(value - 100 * wanted) <= 100 * tolerance)
    return "This is off by a factor of one hundred: is a percentage wanted, or a share?";
  if (wanted > 0 && (near(wanted ** 2) || near(Math.sqrt(wanted))))
    return "A square too many or too few: think of variance and standard error.";
  if (Math.abs(value - wanted) <= 20 * tolerance)
    return "Very near, but not to the decimals asked for: keep all digits until the last step.";
  return undefined;
};

const isMissing = (value: unknown): boolean =>
  value === undefined || value === null || value === "";

/**
 * Whether an answer is right, and if not what may have gone wrong; the right one is not given away.
 *
 * @param exercise the question
 * @param value    what the learner found; undefined while there is none
 */
export const judgedAnswer = (exercise: Exercise, value: unknown): Judgement => {
  if (isMissing(value))
    return {
      right: false,
      message: "No answer yet: run, and put what you found in place of undefined.",
    };
  const wanted = exercise.answer();
  const tolerance = toleranceOf(exercise.decimals ?? 0);
  if (close(value, wanted, tolerance)) return { right: true, message: "Right." };
  if (typeof value !== typeof wanted)
    return {
      right: false,
      message: `Not yet. A ${typeof wanted === "number" ? "number" : "word in quotation marks"} is asked for.`,
    };
  const slip = exercise.slips.find(({ answer }) => close(value, answer(), tolerance));
  const because =
    slip?.because ??
    (typeof value === "number" && typeof wanted === "number"
      ? kindOfNumber(value, wanted, tolerance)
      : undefined) ??
    exercise.hint;
  return { right: false, message: `Not yet. ${because}` };
};

/** How far off a prediction was, in words that go on. */
const predictionWords = (predicted: unknown, found: unknown): string => {
  if (typeof predicted !== "number" || typeof found !== "number")
    return plain(String(predicted)) === plain(String(found))
      ? "as you predicted"
      : `you predicted ${String(predicted)}`;
  const off = Number((predicted - found).toPrecision(3));
  return off === 0
    ? "as you predicted"
    : `you predicted ${predicted}, ${Math.abs(off)} too ${off > 0 ? "high" : "low"}`;
};

/** The judgement of what was found, once there is a prediction to hold it against. */
export const judgedAttempt = (
  exercise: Exercise,
  predicted: unknown,
  found: unknown,
): Judgement => {
  if (isMissing(predicted))
    return {
      right: false,
      message: "Predict first: put your guess in place of the first undefined, however rough.",
    };
  const judged = judgedAnswer(exercise, found);
  return judged.right
    ? { right: true, message: `Right; ${predictionWords(predicted, found)}. Now explain.` }
    : judged;
};
