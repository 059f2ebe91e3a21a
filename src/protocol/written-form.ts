/** The written form of a prescription, as people write it, read. */
import { nearestWord } from "./nearest-word.js";
import { fieldWords, prescriptionIssues, type Prescription } from "./prescription.js";
import { writePrescription } from "./write-prescription.js";
import { WrittenFormError } from "./written-error.js";
import { numberFormsFor, plainSigns } from "./written-numbers.js";
import { knownWords, phrases } from "./written-phrases.js";
import {
  fail,
  matchAt,
  put,
  putRange,
  refuseTwoWays,
  take,
  type Match,
  type Phrase,
  type Reading,
} from "./written-reading.js";

export { writePrescription } from "./write-prescription.js";

/** A written protocol, read: what it says, and what had to be assumed, each in a few words. */
export type Written = Readonly<{ prescription: Prescription; taken: readonly string[] }>;

const separators = /(?:[\s,;.|()&+:=]|-(?!\s*\d)|-(?=\s)|\/(?=\s))+/uy;
const word = /\p{L}+|\d+(?:[.,]\d+)?|./uy;

const longest = (
  r: Reading,
  plain: string,
  place: number,
): Readonly<{ phrase: Phrase; match: Match }> | undefined => {
  const forms = numberFormsFor(plain);
  let best: Readonly<{ phrase: Phrase; match: Match }> | undefined;
  for (const phrase of phrases) {
    const match = matchAt(r.text, plain, phrase.pattern(forms), place);
    if (match !== undefined && match.stop > (best?.match.stop ?? place)) best = { phrase, match };
  }
  return best;
};

const unread = (r: Reading, plain: string, place: number): never => {
  word.lastIndex = place;
  const piece = word.exec(plain)?.[0] ?? "";
  const at = { start: place, stop: place + piece.length };
  if (/^\d/u.test(piece))
    return fail(
      r,
      at,
      "%, s, /week, weeks or ° after this number",
      "70%, rest 15 s, 3/week, 12 weeks, knee 90°",
    );
  return fail(
    r,
    at,
    "an intensity, a rest, a frequency, weeks, a muscle length, a joint, an angle, an action or an intent",
    "4 × 20 s at 70–75%, rest 60 s, 3/week, 12 weeks, long, knee 90°, pushing",
    /^\p{L}/u.test(piece) ? "unexpected" : "unknown-character",
  );
};

/** Settles what counts and rests count, now that all is read. */
const settle = (r: Reading): void => {
  const { draft, pair, ratio } = r;
  const end = { start: r.text.length, stop: r.text.length };
  if (pair !== undefined) {
    if (draft.holdSeconds !== undefined && draft.sets === undefined) {
      putRange(r, "sets", pair.a, pair.at);
      putRange(r, "repetitions", pair.b, pair.at);
    } else {
      take(
        r,
        pair.said,
        `holds of ${pair.b.low}${pair.b.high === undefined ? "" : ` to ${pair.b.high}`} s`,
      );
      putRange(r, "holdSeconds", pair.b, pair.at);
      if (r.count !== undefined)
        fail(r, pair.at, "the holds said once", "4 × (5 × 3 s)", "said-twice");
      r.count = { value: pair.a, at: pair.at, named: false };
    }
  }
  if (draft.holdSeconds === undefined)
    fail(r, end, "how long one hold lasts", "4 × 30 s or 4 × (5 × 3 s)");
  const counted = r.count;
  if (counted !== undefined) {
    const betweenSets = r.places.get("restBetweenSetsSeconds");
    const oneLevel = draft.sets === undefined && !counted.named;
    if (oneLevel && betweenSets !== undefined) {
      if (draft.restBetweenRepetitionsSeconds !== undefined)
        fail(
          r,
          betweenSets,
          "sets for this rest to lie between, written round the holds,",
          "3 × (4 × 30 s), rest 15 s, 60 s between sets",
          "rest-without-sets",
        );
      putRange(r, "sets", counted.value, counted.at);
    } else if (draft.repetitions === undefined)
      putRange(r, "repetitions", counted.value, counted.at);
    else if (draft.sets === undefined) putRange(r, "sets", counted.value, counted.at);
    else fail(r, counted.at, "one number of holds, not a second", "4 × (5 × 3 s)", "said-twice");
  }
  if (ratio !== undefined)
    put(
      r,
      "restBetweenRepetitionsSeconds",
      Number(((draft.holdSeconds ?? 0) * ratio.value).toPrecision(6)),
      ratio.at,
    );
  // `3 sets of 30 s, rest 60 s`: with one hold a set the rest lies between sets.
  if (
    r.setsByWord &&
    draft.repetitions === undefined &&
    draft.restBetweenSetsSeconds === undefined &&
    draft.restBetweenRepetitionsSeconds !== undefined
  ) {
    draft.restBetweenSetsSeconds = draft.restBetweenRepetitionsSeconds;
    delete draft.restBetweenRepetitionsSeconds;
    if (draft.restBetweenRepetitionsSecondsHigh !== undefined) {
      draft.restBetweenSetsSecondsHigh = draft.restBetweenRepetitionsSecondsHigh;
      delete draft.restBetweenRepetitionsSecondsHigh;
    }
  }
  draft.sets ??= 1;
  draft.repetitions ??= 1;
  if (draft.effortRating !== undefined && draft.intensityBasis === undefined)
    draft.intensityBasis = "effort rating 0–10";
};

const read = (text: string): Written => {
  const plain = plainSigns(text);
  const r: Reading = { text, draft: {}, places: new Map(), taken: [], setsByWord: false };
  refuseTwoWays(r, plain);
  let place = 0;
  for (;;) {
    separators.lastIndex = place;
    place += separators.exec(plain)?.[0].length ?? 0;
    if (place >= plain.length) break;
    const found = longest(r, plain, place);
    if (found === undefined) return unread(r, plain, place);
    found.phrase.say(r, found.match);
    place = found.match.stop;
  }
  if (text.trim() === "")
    fail(r, { start: text.length, stop: text.length }, "a protocol", "4 × 20 s at 70%, rest 60 s");
  settle(r);
  // Settling has set the three fields every prescription has.
  const prescription = r.draft as Prescription;
  const [issue] = prescriptionIssues(prescription);
  if (issue !== undefined)
    fail(
      r,
      r.places.get(issue.column as keyof Prescription) ?? { start: 0, stop: text.length },
      `a sound ${fieldWords[issue.column as keyof Prescription]} (this is ${issue.message})`,
      issue.mend,
      issue.code,
    );
  return { prescription, taken: r.taken };
};

/** Texts near one that cannot be read, the likeliest first: a slip mended, a range turned round, a piece left out. */
const nearTexts = (error: WrittenFormError): readonly string[] => {
  const { text, place, length } = error;
  const [before, piece, after] = [
    text.slice(0, place),
    text.slice(place, place + length),
    text.slice(place + length),
  ];
  const slips = [...text.slice(place).matchAll(/\p{L}{3,}/gu)].slice(0, 2).flatMap((slip) => {
    const near = nearestWord(slip[0], knownWords);
    const at = place + slip.index;
    return near === undefined || near === slip[0].toLowerCase()
      ? []
      : [`${text.slice(0, at)}${near}${text.slice(at + slip[0].length)}`];
  });
  const turned = piece.replace(
    /(\d+(?:\.\d+)?)(\s*[-–]\s*)(\d+(?:\.\d+)?)/u,
    (all, low: string, dash: string, high: string) =>
      Number(low) > Number(high) ? `${high}${dash}${low}` : all,
  );
  const clauseGone = `${before}${after.replace(/^[^,;]*/u, "")}`;
  // Half of "90/90" says nothing.
  const pieceGone = `${before.replace(/\d+\s*\/\s*$/u, "")}${after}`;
  return [
    ...slips,
    ...(turned === piece ? [] : [`${before}${turned}${after}`]),
    ...(/^(?:not?|but|without|never|avoid)$/iu.test(piece)
      ? [clauseGone]
      : /^\s*[:=]?\s*\d/u.test(after)
        ? [clauseGone, pieceGone]
        : [pieceGone, clauseGone]),
  ];
};

/** A whole protocol near a text that cannot be read; undefined where none is within three changes. */
const meantBy = (error: WrittenFormError, changes = 3): string | undefined => {
  for (const near of nearTexts(error)) {
    if (near === error.text) continue;
    try {
      return writePrescription(read(near).prescription);
    } catch (next) {
      if (!(next instanceof WrittenFormError)) throw next;
      const further =
        changes > 1 && next.place >= error.place ? meantBy(next, changes - 1) : undefined;
      if (further !== undefined) return further;
    }
  }
  return undefined;
};

/** Texts read lately: every question about a protocol reads it again. */
const kept = new Map<string, Written>();
const mostKept = 24;

/**
 * A protocol as people write it: what it says, and what had to be assumed.
 *
 * Counts and times may stand in any order: `4 × 30 s` is one set of four holds; `4 × (5 × 3 s)`,
 * `4x5 5s`, `4 sets of 5 holds of 5 s` sets of holds; `10 on / 20 off x 6` holds with their rest.
 * Where `4 × 30 s` goes with a rest *between sets* only, it is four sets of one hold; a second rest is
 * the one between sets. Any number may be a range. Times are kept in seconds; `45"`, `2'`, `1:30`
 * and words are read. A percentage with no basis keeps none; a rating stays a rating. What a text
 * leaves out and the reading assumes (`at 70` as 70% of MVC, `near-maximal` as 90 to 100%, `every
 * other day` as 3 to 4 sessions a week) is named in `taken`.
 *
 * @throws {WrittenFormError} pointing at the place in the text, with what was expected there, an
 *   example and, where one is near, a whole protocol that may have been meant
 * @source spellings in use (common practice, no source)
 * @example
 * readWritten("4x30 at 70").taken // => ["“at 70” taken as 70% of MVC", "“4x30” taken as holds of 30 s"]
 */
export const readWritten = (text: string): Written => {
  const known = kept.get(text);
  if (known !== undefined) return known;
  try {
    const made = read(text);
    const [oldest] = kept.keys();
    if (kept.size >= mostKept && oldest !== undefined) kept.delete(oldest);
    kept.set(text, made);
    return made;
  } catch (error) {
    if (!(error instanceof WrittenFormError)) throw error;
    const meant = meantBy(error);
    if (meant === undefined) throw error;
    throw new WrittenFormError(text, error, meant);
  }
};

/**
 * The prescription a written protocol stands for; `readWritten` says what was assumed.
 *
 * @throws {WrittenFormError} as `readWritten` does
 * @example parsePrescription("4 x 20 s at 70-75%, rest 60 s, 3/week, 12 weeks, long").weeks // 12
 */
export const parsePrescription = (text: string): Prescription => readWritten(text).prescription;
