import type { FieldName } from "./codebook.js";
import { cellKindOf } from "./column-reader.js";
import { fieldOf, fieldOfColumn } from "./codebook.js";

/** A number of a text with what it seems to be; its values as they are typed into cells. */
export type MarkedNumber = Readonly<{
  start: number;
  end: number;
  kind: NumberKind;
  values: readonly string[];
}>;

const number = String.raw`[+\-−–]?\d{1,9}(?:[.,·]\d{1,9}){0,3}(?!\d)`;
const small =
  "one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen";
const tens = "twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety";
const count = String.raw`\d{1,6}(?:\.\d{1,3})?(?!\d)|(?:${tens})(?:[- ](?:${small}))?|${small}`;
const gap = String.raw`[\s\-‑–]*`;
const plusMinus = String.raw`\s*(?:±|\+\/-|\+-)\s*`;
const effort = String.raw`(?:(?:maximal|submaximal|isometric|static|unilateral|bilateral|voluntary)\s+){0,3}(?:repetitions?|contractions?|holds?|MVCs?|efforts?|actions?)(?=\P{L}|$)`;
const seconds = String.raw`${gap}(?:s|secs?|seconds?)`;
const minutes = String.raw`${gap}(?:min|mins|minutes?)`;
const people =
  "participants?|subjects?|volunteers?|people|persons?|patients?|individuals?|adults?|athletes?|students?|men|women|males?|females?|boys|girls|climbers|runners|players";
const kindOfPeople = String.raw`(?:(?:healthy|young|older|elderly|middle-aged|adult|male|female|college|collegiate|university|previously|recreationally|physically|moderately|resistance|strength|un|in)?-?(?:trained|active|healthy|young|older|elderly|adult|male|female|sedentary|untrained|inactive|collegiate|university|normotensive|hypertensive|previously|recreationally|physically|moderately|competitive)?,?\s+){0,4}`;

/** What is looked for, the more particular first, and the fields it may stand in. */
const kinds = {
  p: {
    looks: [String.raw`p(?:[- ]?values?)?\s*((?:[<>≤≥]|=)\s*[.,·]?\d+(?:[.,·]\d+)*)`],
    fields: ["pValue"],
  },
  interval: {
    looks: [
      String.raw`95\s*%\s*(?:CI|confidence interval)[\s:,=]*[[(]?\s*(${number})\s*%?\s*(?:to|[,;–—-])\s*(${number})`,
    ],
    fields: ["intervalLow", "intervalHigh"],
  },
  t: { looks: [String.raw`t\s*(?:\(\s*[\d.]+\s*\))?\s*=\s*(${number})`], fields: ["tValue"] },
  F: {
    looks: [String.raw`F\s*(?:\(\s*1\s*,\s*[\d.]+\s*\))?\s*=\s*(${number})`],
    fields: ["fValue"],
  },
  people: {
    looks: [
      String.raw`n\s*=\s*(\d+)`,
      String.raw`(${count})\s+${kindOfPeople}(?:${people})(?=\P{L}|$)`,
    ],
    fields: ["nEnd", "nStart"],
  },
  age: {
    looks: [
      String.raw`(${number})${plusMinus}${number}\s*(?:years?|yrs?|y)(?=\P{L}|$)`,
      String.raw`(${number})${gap}(?:years? (?:old|of age)|year-old|yrs?(?=\P{L}|$))`,
    ],
    fields: ["ageMeanYears"],
  },
  "percent with its spread": {
    looks: [String.raw`(${number})\s*%?${plusMinus}(${number})\s*(?:%|per ?cent)`],
    fields: ["changePercentMean", "changePercentSpread"],
  },
  "mean with its spread": {
    looks: [
      String.raw`(${number})\s*[^\s\d±;,()]{0,8}${plusMinus}(${number})`,
      String.raw`(${number})\s*\(\s*(?:SD|SE|SEM)\s*=?:?\s*(${number})\s*\)`,
    ],
    fields: ["preMean", "postMean", "preSpread", "postSpread", "changeMean", "changeSpread"],
  },
  "holds, seconds": {
    looks: [
      String.raw`(${count})\s*[x×]\s*(${number})${seconds}(?=[^\p{L}\d]|$)`,
      String.raw`(${count})(?:\s*[x×,]\s*|\s+)(${number})${seconds}\s+${effort}`,
    ],
    fields: ["repetitions", "holdSeconds"],
  },
  "holds, minutes": {
    looks: [
      String.raw`(${count})\s*[x×]\s*(${number})${minutes}(?=[^\p{L}\d]|$)`,
      String.raw`(${count})(?:\s*[x×,]\s*|\s+)(${number})${minutes}\s+${effort}`,
    ],
    fields: ["repetitions", "holdSeconds"],
  },
  "sets, holds, seconds": {
    looks: [
      String.raw`(${count})\s*(?:sets?\s*)?[x×]\s*(${count})(?:\s*[x×]\s*(${number})${seconds})?(?=[^\p{L}\d]|$)`,
    ],
    fields: ["sets", "repetitions", "holdSeconds"],
  },
  "sessions a week": {
    looks: [
      String.raw`(${count})\s*(?:[x×]|times|sessions?|days?|d)?\s*(?:\/|per|a|each|every)\s*(?:wk|week)(?=\P{L}|$)`,
      String.raw`(${count})\s*(?:[x×]|times|sessions|days)\s+weekly`,
    ],
    fields: ["sessionsPerWeek"],
  },
  weeks: {
    looks: [String.raw`(${count})${gap}(?:weeks?|wks?)(?=\P{L}|$)`],
    fields: ["weeks", "weekMeasured"],
  },
  sets: { looks: [String.raw`(${count})\s*sets?(?=\P{L}|$)`], fields: ["sets"] },
  holds: {
    looks: [String.raw`(${count})\s*(?:reps?(?=\P{L}|$)|${effort})`],
    fields: ["repetitions"],
  },
  seconds: {
    looks: [String.raw`(${number})${seconds}(?=\P{L}|$)`],
    fields: ["holdSeconds", "restBetweenRepetitionsSeconds", "restBetweenSetsSeconds"],
  },
  minutes: {
    looks: [String.raw`(${number})${minutes}(?=\P{L}|$)`],
    fields: ["restBetweenSetsSeconds", "restBetweenRepetitionsSeconds", "holdSeconds"],
  },
  degrees: {
    looks: [String.raw`(${number})\s*(?:°|º|deg(?:rees?)?(?=\P{L}|$))`],
    fields: ["trainingAngleDegrees", "testAngleDegrees"],
  },
  "women, %": {
    looks: [
      String.raw`(${number})\s*(?:%|per ?cent)\s*(?:of\s+(?:the\s+)?(?:them|whom|${people})\s+(?:were\s+)?|were\s+)?(?:wom[ae]n|females?|girls)(?=\P{L}|$)`,
      String.raw`(?:wom[ae]n|females?|girls)\s*[,:=(]?\s*(${number})\s*(?:%|per ?cent(?=\P{L}|$))`,
    ],
    fields: ["femalePercent"],
  },
  percent: {
    looks: [
      String.raw`(${number}(?:\s*%?\s*(?:-|–|to|and)\s*${number})?)\s*(?:%|per ?cent(?=\P{L}|$))`,
    ],
    fields: [
      "intensityPercent",
      "changePercentMean",
      "changePercentSpread",
      "sessionsCompletedPercent",
      "testSitePercent",
    ],
  },
  year: { looks: [String.raw`((?:19|20)\d\d)(?![\d.,·]*\d)`], fields: ["year"] },
  number: { looks: [String.raw`(${number})`], fields: [] },
} as const satisfies Readonly<
  Record<string, Readonly<{ looks: readonly string[]; fields: readonly FieldName[] }>>
>;

export type NumberKind = keyof typeof kinds;

const looks = (Object.keys(kinds) as NumberKind[]).flatMap((kind) =>
  kinds[kind].looks.map((source) => [kind, source] as const),
);
const any = new RegExp(
  String.raw`(?<![\p{L}\d.,·])(?:${looks.map(([, source], at) => `(?<k${at}>${source})`).join("|")})`,
  "giu",
);
const wholes = looks.map(([, source]) => new RegExp(`^(?:${source})$`, "iu"));

const words = new Map(
  [...small.split("|"), ...tens.split("|")].map((word, at) => [
    word,
    at < 19 ? at + 1 : (at - 17) * 10,
  ]),
);

/** A value as a cell takes it: digits for words, a point for the raised one. */
const typed = (value: string): string => {
  const parts = value.toLowerCase().split(/[- ]/);
  if (parts.every((part) => words.has(part)))
    return String(parts.reduce((sum, part) => sum + words.get(part)!, 0));
  const digits = value
    .replaceAll("·", ".")
    .replace(/^=\s*/, "")
    .replace(/\s*%?\s*(?:to|and)\s*/, "–")
    .replace(/\s+/g, "");
  return digits;
};

/** Longer texts are no abstracts; a whole paper would be all marks. */
const longestText = 20_000;

/**
 * The numbers of a text about a trial, in its order, each with what it seems to be: people, means with their spreads,
 * percentages, weeks, p, degrees, seconds. Words for numbers before what they count are taken as well. None overlap.
 *
 * @param text an abstract, or any piece of a paper
 * @source none: a reading of text
 */
export const numbersIn = (text: string): readonly MarkedNumber[] =>
  [...text.slice(0, longestText).matchAll(any)].map((match): MarkedNumber => {
    const at = looks.findIndex((_, place) => match.groups?.[`k${place}`] !== undefined);
    const kind = looks[at]![0];
    // What stands behind decided the match, so the piece is read alone without it.
    const values = (wholes[at]!.exec(match[0]) ?? [match[0], match[0]]).slice(1);
    return {
      ...{ start: match.index, end: match.index + match[0].length, kind },
      values: values
        .filter((value) => value !== undefined)
        .map((value) => typed(value))
        // Minutes stand last, and the codebook asks for seconds.
        .map((value, place, all) =>
          kind.endsWith("minutes") && place === all.length - 1
            ? String(Number(value.replace(",", ".")) * 60)
            : value,
        ),
    };
  });

/** Cells by field, as they are typed. */
export type Cells = Readonly<Partial<Record<FieldName, string>>>;

/** The field of the spread that is printed behind a mean. */
const spreadOf = (name: FieldName): FieldName | undefined =>
  fieldOfColumn(fieldOf(name).spreadColumn ?? "");

/**
 * What cells a number fills when a person places it in a field: a mean brings its spread, a written set its holds and
 * seconds, an interval its other end; undefined where it does not belong there.
 *
 * @param mark from `numbersIn`
 * @param name the field a person chose
 * @source none: bookkeeping
 */
export const placedIn = (
  { kind, values: [first = "", second, third] }: MarkedNumber,
  name: FieldName,
): Cells | undefined => {
  const fields: readonly FieldName[] = kinds[kind].fields;
  // A share of women is said beside the word; any other number in its field would be made up.
  if (kind === "number" && name === "femalePercent") return undefined;
  if (kind === "number")
    return ["number", "numbers"].includes(cellKindOf(fieldOf(name)))
      ? { [name]: first }
      : undefined;
  if (!fields.includes(name)) return undefined;
  const spread = spreadOf(name);
  if (kind === "interval") return { intervalLow: first, intervalHigh: second ?? "" };
  if (kind.startsWith("holds,")) return { repetitions: first, holdSeconds: second ?? "" };
  if (kind === "sets, holds, seconds")
    return {
      ...{ sets: first, repetitions: second ?? "" },
      ...(third === undefined ? {} : { holdSeconds: third }),
    };
  if (second === undefined) return { [name]: first };
  return spread === undefined ? { [name]: second } : { [name]: first, [spread]: second };
};

const meanAndSpread = /^\s*([^±(]*\d)[^±(\d]*(?:±|\+\/-|\+-|\(\s*(?:SD|SE|SEM)?\s*)\s*([\d.,]+)/i;

/**
 * What a person typed into a field, with a spread typed behind a mean moved to its own field: 13.4 ± 9.7.
 *
 * @source none: bookkeeping
 */
export const typedInto = (name: FieldName, text: string): Cells => {
  const spread = spreadOf(name);
  const [, mean, behind] = spread === undefined ? [] : (meanAndSpread.exec(text) ?? []);
  return spread === undefined || mean === undefined || behind === undefined
    ? { [name]: text }
    : { [name]: mean.trim(), [spread]: behind };
};
