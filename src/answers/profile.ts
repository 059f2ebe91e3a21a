/** What a person says of themselves, read; it changes which cautions come first, and is kept nowhere. */
import * as z from "zod";
import { cautionsFor } from "../projection/cautions.js";
import type { Profile, StudiedAges, SurgerySite } from "../projection/profile.js";
import { nearestWord } from "../protocol/nearest-word.js";
import { joints, type Prescription } from "../protocol/prescription.js";
import { numberWords } from "../protocol/written-numbers.js";
import { jointNamed } from "../protocol/written-place.js";
import type { AnswerCautions } from "./answer.js";
import type { Evidence } from "./evidence.js";
import { option, plainWord, unread, wordsOf } from "./option.js";

const example =
  "62 years, knee, knee surgery 10 weeks ago, treated high blood pressure, not pregnant";
const needs = "an age, a joint, surgery and when, blood pressure or pregnancy";

type Draft = { -readonly [Field in keyof Profile]: Profile[Field] };
type Field = keyof Profile;

const fieldNames: Readonly<Record<string, Field>> = {
  age: "ageYears",
  "age-years": "ageYears",
  joint: "joint",
  surgery: "surgery",
  operation: "surgery",
  "blood-pressure": "bloodPressure",
  bp: "bloodPressure",
  pregnancy: "pregnancy",
};

const sites: readonly (readonly [SurgerySite, RegExp])[] = [
  ["eye", /^(?:eyes?|cataracts?|retinal?|lens)$/u],
  ["belly", /^(?:belly|abdom\w+|hernias?|caesarean|cesarean|appendix|gallbladder|bowel)$/u],
  ["heart", /^(?:heart|bypass|valve|stents?|cardiac)$/u],
  ["knee", /^(?:acl|pcl|cruciate|menisc\w+|patella)$/u],
  ["trunk", /^(?:back|spine|spinal|lumbar|discs?)$/u],
];
const operated =
  /^(?:surger(?:y|ies)|operat(?:ed|ions?)|reconstructions?|replacements?|replaced|repair(?:ed|s)?|arthroscop\w+|caesarean|cesarean|bypass|stents?)$/u;
const says =
  /^(?:left|right|both|total|partial|keyhole|arthroscopic|open|on|of|the|a|an|my|her|his|had|was|with|ligaments?|tendons?|joint|section|muscles?|cuff|for|in)$/u;
const numbers: Readonly<Record<string, number>> = { ...numberWords, a: 1, an: 1, last: 1 };
const inWeeks: Readonly<Record<string, number>> = { day: 1 / 7, week: 1, month: 52 / 12, year: 52 };
const since =
  /(\d+(?:\.\d+)?|\b(?:an?|one|last|two|three|four|five|six|seven|eight|nine|ten)\b)[\s-]*(day|week|month|year)s?(?:\s*(?:ago|since|back|post[\s-]?op\w*|after))?/u;

/** Weeks since something, and the words left over. */
const when = (text: string): Readonly<{ weeks?: number; rest: string }> => {
  const [all, count = "", unit = ""] = since.exec(text) ?? [];
  if (all === undefined)
    return /\b(?:yesterday|today)\b/u.test(text)
      ? { weeks: 0, rest: text.replace(/\b(?:yesterday|today)\b/u, " ") }
      : { rest: text };
  const weeks = (numbers[count] ?? Number(count)) * inWeeks[unit]!;
  return { weeks, rest: text.replace(all, " ") };
};

/** What each field's words mean; undefined where they are none of that field's. */
const readers: Readonly<
  Record<Field, (text: string, named: boolean) => Partial<Draft> | undefined>
> = {
  surgery: (text, named) => {
    if (/^(?:no|none|never|without)(?: (?:surger\w+|operations?))?$/u.test(text))
      return named || text.includes(" ") ? { surgery: "none" } : undefined;
    const { weeks, rest } = when(text);
    const words = rest.split(/[\s-]+/u).filter((word) => word !== "");
    if (!named && !words.some((word) => operated.test(word))) return undefined;
    const siteOf = (word: string): SurgerySite | undefined =>
      sites.find(([, pattern]) => pattern.test(word))?.[0] ??
      (word === "rotator" ? "shoulder" : jointNamed(word));
    const strange = words.find(
      (word) => !operated.test(word) && !says.test(word) && siteOf(word) === undefined,
    );
    if (strange !== undefined)
      return unread(
        "a surgery as its place and how long ago",
        `${text} (not understood: ${strange})`,
        'write "knee surgery 10 weeks ago"',
      );
    const site = words.map(siteOf).find((one) => one !== undefined);
    return {
      surgery: {
        ...(site === undefined ? {} : { site }),
        ...(weeks === undefined ? {} : { weeksAgo: weeks }),
      },
      ...(/c(?:a?e)sarean/u.test(text) ? { pregnancy: "after birth" as const } : {}),
    };
  },
  pregnancy: (text, named) => {
    if (/^(?:not pregnant|no pregnancy)$/u.test(text) || (named && /^(?:no|none|not)$/u.test(text)))
      return { pregnancy: "none" };
    if (
      /^(?:after|since|gave|given|post)[\s-]?(?:the )?(?:birth|partum|natal)\b|^postpartum\b|\bafter birth\b/u.test(
        text,
      )
    )
      return { pregnancy: "after birth" };
    if (
      /^(?:\d+ (?:weeks?|months?) )?(?:pregnan(?:t|cy)|expecting)(?: (?:in )?(?:week )?\d+(?: weeks?| months?)?)?$/u.test(
        text,
      ) ||
      (named && /^(?:yes|\d+ weeks?)$/u.test(text))
    )
      return { pregnancy: "pregnant" };
    return undefined;
  },
  bloodPressure: (text, named) => {
    const [pair, up, down] = /(\d{2,3})\s*(?:\/|over)\s*(\d{2,3})/u.exec(text) ?? [];
    const about = /blood[\s-]pressure|hypertens|mm ?hg|\bbp\b/u.test(text);
    if (pair !== undefined) {
      const [systolic, diastolic] = [Number(up), Number(down)];
      if (systolic < 60 || systolic > 300 || diastolic < 30 || diastolic >= systolic)
        return unread("a blood pressure in mmHg, the higher number first", text, "write 135/85");
      return { bloodPressure: { systolic, diastolic } };
    }
    if (!named && !about) return undefined;
    const high = /high|raised|hypertens|elevated/u.test(text);
    if (/untreated|not treated|uncontrolled|no tablets/u.test(text))
      return { bloodPressure: "high, not treated" };
    if (/treated|tablets|medic|controlled/u.test(text)) return { bloodPressure: "high, treated" };
    if (high) return { bloodPressure: "high" };
    if (/usual|normal/u.test(text)) return { bloodPressure: "usual" };
    return unread(
      "a blood pressure as usual, high, treated, not treated or in mmHg",
      text,
      "write treated high blood pressure, or 135/85",
    );
  },
  ageYears: (text, named) => {
    const [, digits, unit] =
      /^(?:aged?:? ?)?(\d{1,3}(?:\.\d+)?)[\s-]*(years?|yrs?|y\/?o|y)?(?:[\s-]*old)?$/u.exec(text) ??
      [];
    if (digits === undefined) return undefined;
    if (!named && unit === undefined && !text.startsWith("age"))
      return unread("a unit or a name for a number", text, `did you mean ${digits} years?`);
    const age = Number(digits);
    return age > 120 ? unread("an age from 0 to 120 years", text) : { ageYears: age };
  },
  joint: (text) => {
    const joint = jointNamed(text.replace(/^(?:left|right|both|the|my) /u, ""));
    return joint === undefined ? undefined : { joint };
  },
};
const order = Object.keys(readers) as readonly Field[];

const merged = (before: Draft, found: Partial<Draft>, part: string): Draft => {
  for (const [name, value] of Object.entries(found)) {
    const known = before[name as Field];
    if (known !== undefined && JSON.stringify(known) !== JSON.stringify(value))
      return unread("each thing said once", part, undefined, "said-twice");
  }
  return { ...before, ...found };
};

/** One part of a profile, with what was read before it. */
const withPart = (before: Draft, part: string): Draft => {
  const [, name, rest = ""] = /^([\p{L} _-]+?)\s*[=:]\s*(.*)$/u.exec(part) ?? [];
  const words = (name === undefined ? part : rest).toLowerCase().trim();
  if (name !== undefined) {
    const field = fieldNames[plainWord(name)];
    if (field === undefined) {
      const near = nearestWord(plainWord(name), Object.keys(fieldNames));
      return unread(
        needs,
        part,
        near === undefined ? `for example ${example}` : `did you mean ${near}?`,
      );
    }
    const found = readers[field](words, true);
    return found === undefined
      ? unread(needs, part, `for example ${example}`)
      : merged(before, found, part);
  }
  // What a comma cut off: "knee surgery, 10 weeks ago", "high blood pressure, treated".
  const { weeks, rest: left } = when(words);
  if (
    weeks !== undefined &&
    left.trim() === "" &&
    /ago$/u.test(words) &&
    typeof before.surgery === "object" &&
    before.surgery.weeksAgo === undefined
  )
    return { ...before, surgery: { ...before.surgery, weeksAgo: weeks } };
  if (/^(?:un|not )?treated$/u.test(words) && before.bloodPressure === "high")
    return {
      ...before,
      bloodPressure: words === "treated" ? "high, treated" : "high, not treated",
    };
  for (const field of order) {
    const found = readers[field](words, false);
    if (found !== undefined) return merged(before, found, part);
  }
  const near = nearestWord(words, ["pregnant", "high blood pressure", "knee surgery", ...joints]);
  return unread(
    needs,
    part,
    near === undefined ? `for example ${example}` : `did you mean ${near}?`,
  );
};

/** A profile out of words parted by commas, `name=value` among them, or out of an object with those names. */
const readProfile = (given: unknown): unknown => {
  if (given === undefined) return undefined;
  const parts =
    typeof given === "string"
      ? given.split(/[,;\n]/u)
      : typeof given === "object" && given !== null && !Array.isArray(given)
        ? Object.entries(given).flatMap(([name, value]) =>
            value === undefined || value === "" ? [] : [`${plainWord(name)}=${String(value)}`],
          )
        : unread(needs, given, `for example ${example}`);
  const said = parts.map((part) => part.trim()).filter((part) => part !== "");
  if (said.length === 0) return unread(needs, given, `for example ${example}`);
  return said.reduce<Draft>(withPart, {});
};

export const profileOption = option(
  z.preprocess(readProfile, z.custom<Profile>().optional()).optional(),
  {
    help: `the person, for the cautions that come first: "${example}"; clears nobody, kept nowhere`,
    value: "<words>",
    label: "The person, for cautions",
    keptNowhere: true,
  },
);

export { readProfile, type Profile };

/** The options that stay with an answer, and the profile among those that do not. */
export const withoutProfile = <Options extends object>(
  shape: z.ZodRawShape,
  options: Options,
): readonly [Partial<Options>, Profile | undefined] => {
  const isPersonal = (name: string): boolean => wordsOf(shape[name] as never).keptNowhere === true;
  const parted = (personal: boolean) =>
    Object.fromEntries(Object.entries(options).filter(([name]) => isPersonal(name) === personal));
  const { profile } = parted(true) as Readonly<{ profile?: Profile }>;
  return [parted(false) as Partial<Options>, profile];
};

/** Lowest and highest mean age of the isometric arms of a file; null where it says none. */
export const agesOf = ({ records }: Pick<Evidence, "records">): StudiedAges | null => {
  const ages = records.rows.flatMap(({ armKind, ageMeanYears }) =>
    armKind === "isometric" && ageMeanYears !== undefined ? [ageMeanYears] : [],
  );
  return ages.length === 0 ? null : { low: Math.min(...ages), high: Math.max(...ages) };
};

/** The cautions that go with some protocols, in full; those of a profile before them. */
export const cautionsWith = (
  prescriptions: readonly Prescription[],
  profile?: Profile,
  ages?: StudiedAges | null,
): AnswerCautions => {
  const { shown: _shown, ...block } = cautionsFor(prescriptions, {
    ...(profile === undefined ? {} : { profile }),
    ...(ages === undefined ? {} : { ages }),
  });
  return block;
};
