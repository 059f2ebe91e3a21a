/**
 * The kinds of option a question takes. Each reads what a person types at any door, `--hold-seconds 5,5` or a
 * choice in an address, and what a program hands over, and says in words what it expected.
 */
import * as z from "zod";
import { type CallErrorCode, CallError } from "../errors.js";
import { nearestWord } from "../protocol/nearest-word.js";

/** What every door shows of an option. */
export type OptionWords = Readonly<{
  /** What it decides, for help and labels. */
  help: string;
  /** What stands for the value in help, e.g. `<share>`; absent for a switch. */
  value?: string;
  /** Taken as a word of its own after the file, or before it; `many` takes all that follow. */
  operand?: "one" | "many" | "before";
  /** May be typed more than once. */
  repeats?: true;
  /** The value names a small text file, which a door reads and hands over as its text. */
  namesFile?: true;
  /** The value names a further file, which a door opens as it opens the file itself; answers keep its name. */
  opensFile?: true;
  /** The name it had before, which is read still. */
  formerly?: string;
  /** Seldom wanted: listed after the others. */
  seldom?: true;
  /** Told by a person of themselves: it stands in no recipe, card, address or data. */
  keptNowhere?: true;
  /** What a form calls it, where its name would not do. */
  label?: string;
  /** What a form calls each of its values; under "", what it calls none. */
  labels?: Readonly<Record<string, string>>;
}>;

/** Thrown by a reader; the name of the option is added where it is known. */
class Unread extends Error {
  constructor(
    readonly needs: string,
    readonly got: string,
    readonly hint?: string,
    readonly code: CallErrorCode = "unknown-choice",
  ) {
    super(needs);
  }
}

/** Stops reading an option: what was expected, and what was found. */
export const unread = (needs: string, got: unknown, hint?: string, code?: CallErrorCode): never => {
  throw new Unread(
    needs,
    typeof got === "string" ? `"${got}"` : String(JSON.stringify(got)),
    hint,
    code,
  );
};

/** `holdSeconds` as it is typed: hold-seconds. */
export const kebab = (name: string): string =>
  name.replace(/(?<=[a-z0-9])[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

/** One form for `holdSeconds`, `hold-seconds`, `hold_seconds` and `hold seconds`. */
export const plainWord = (word: string): string =>
  kebab(word.trim())
    .toLowerCase()
    .replaceAll(/[\s_–-]+/g, "-");

/**
 * The one of several names that a word means.
 *
 * @param others further spellings of each name
 */
export const namedOne = <Name extends string>(
  word: string,
  names: readonly Name[],
  others?: Readonly<Partial<Record<Name, readonly string[]>>>,
): Name => {
  const spellings = new Map(
    names.flatMap((name) =>
      [name, ...(others?.[name] ?? [])].map((spelling) => [plainWord(spelling), name] as const),
    ),
  );
  const found = spellings.get(plainWord(word));
  if (found !== undefined) return found;
  const near = nearestWord(plainWord(word), [...spellings.keys()]);
  return unread(
    `one of ${names.map(plainWord).join(", ")}`,
    word,
    near === undefined ? undefined : `did you mean ${near}?`,
  );
};

const parts = (text: string): readonly string[] =>
  text
    .split(",")
    .map((part) => part.trim())
    .filter((part) => part !== "");

/** One of several names, in any spelling. */
export const oneOf = <const Names extends readonly [string, ...string[]]>(
  names: Names,
  others?: Readonly<Partial<Record<Names[number], readonly string[]>>>,
) =>
  z.preprocess(
    (value) => (typeof value === "string" ? namedOne(value, names, others) : value),
    z.enum(names),
  );

/** Some of several names; text is split at commas, `all` means every one. */
export const someOf = <const Names extends readonly [string, ...string[]]>(
  names: Names,
  others?: Readonly<Partial<Record<Names[number], readonly string[]>>>,
) =>
  z.preprocess(
    (value) => {
      const words =
        typeof value === "string" ? parts(value) : Array.isArray(value) ? value : undefined;
      if (words === undefined) return value;
      if (words.length === 1 && words[0] === "all") return [...names];
      return [
        ...new Set(
          words.map((word) => (typeof word === "string" ? namedOne(word, names, others) : word)),
        ),
      ];
    },
    z.array(z.enum(names)).min(1).readonly(),
  );

const numberIn = (text: string, needs = "a number"): number => {
  const [, digits, three] = /^\s*([+\-−]?[1-9]\d{0,2}),(\d{3})\s*%?\s*$/.exec(text) ?? [];
  if (three !== undefined)
    unread(
      "a number that can be read one way",
      text,
      `write ${digits}${three} or ${digits}.${three}, whichever is meant`,
      "ambiguous-number",
    );
  const value = Number(text.trim().replace(",", ".").replace(/%$/, ""));
  return text.trim() === "" || !Number.isFinite(value)
    ? unread(needs, text, undefined, "not-a-number")
    : value;
};

/** Bounds of a number, and the words that say them. */
export type NumberBounds = Readonly<{
  above?: number;
  below?: number;
  least?: number;
  most?: number;
  whole?: true;
  needs: string;
}>;

const isWithin = (
  value: number,
  { above = -Infinity, below = Infinity, least = -Infinity, most = Infinity, whole }: NumberBounds,
): boolean =>
  value > above &&
  value < below &&
  value >= least &&
  value <= most &&
  (whole !== true || Number.isSafeInteger(value));

/** A number; a decimal comma and a percent sign are read. */
export const aNumber = (bounds: NumberBounds) =>
  z.preprocess((given) => {
    const value = typeof given === "string" ? numberIn(given, bounds.needs) : given;
    if (typeof value === "number" && !isWithin(value, bounds))
      // People who type 95 mean a percentage.
      unread(
        bounds.needs,
        given,
        isWithin(value / 100, bounds) && bounds.below === 1
          ? `did you mean ${value / 100}?`
          : undefined,
        "out-of-range",
      );
    return value;
  }, z.number());

/** Numbers separated by commas, or by semicolons where the comma is decimal. */
export const numbers = () =>
  z.preprocess(
    (value) =>
      typeof value === "string"
        ? (value.includes(";") ? value.split(";") : value.split(",")).map((word) =>
            numberIn(word, "numbers separated by commas"),
          )
        : value,
    z.array(z.number()).min(1).readonly(),
  );

/** Words separated by commas, kept as they are typed. */
export const words = () =>
  z.preprocess(
    (value) => (typeof value === "string" ? parts(value) : value),
    z.array(z.string()).readonly(),
  );

/** Text as it is typed. */
export const text = () => z.string();

/** On or off. */
export const onOff = () =>
  z
    .preprocess(
      (value) => (value === "true" ? true : value === "false" ? false : value),
      z.boolean(),
    )
    .default(false);

/** Attaches what the doors show. */
export const option = <Schema extends z.ZodType>(schema: Schema, words: OptionWords): Schema =>
  schema.meta(words);

/** What the doors show of an option. */
export const wordsOf = (schema: z.ZodType): OptionWords =>
  (schema.meta() ?? { help: "" }) as unknown as OptionWords;

/** What people read in place of a value, such as "before to after". */
export const valueLabel = (schema: z.ZodType, value: string): string =>
  wordsOf(schema).labels?.[value] ?? value;

/** What kind of value an option takes, for a form: one name, several, yes or no, or text; and the names. */
export const kindOf = (
  schema: z.ZodType,
): Readonly<{ kind: "one" | "some" | "switch" | "text"; names: readonly string[] }> => {
  const { type, innerType, out, element, entries } = schema.def as Readonly<{
    type: string;
    innerType?: z.ZodType;
    out?: z.ZodType;
    element?: z.ZodType;
    entries?: Readonly<Record<string, string>>;
  }>;
  if (type === "boolean") return { kind: "switch", names: [] };
  if (entries !== undefined) return { kind: "one", names: Object.values(entries) };
  if (element !== undefined) return { ...kindOf(element), kind: "some" };
  const inner = innerType ?? out;
  return inner === undefined ? { kind: "text", names: [] } : kindOf(inner);
};

/** The default of an option, where it has one. */
export const defaultOf = (schema: z.ZodType): unknown => {
  const read = schema.safeParse(undefined);
  return read.success ? read.data : undefined;
};

/** Whether a question cannot do without an option. */
export const isNeeded = (schema: z.ZodType): boolean => !schema.safeParse(undefined).success;

/** Whether a question needs an option that is kept nowhere, so that no recipe or card can ask it again. */
export const isAskedOnce = (shape: z.ZodRawShape): boolean =>
  Object.values(shape).some(
    (schema) => wordsOf(schema as never).keptNowhere === true && isNeeded(schema as never),
  );

/**
 * A question's options, each read and checked, every default in place.
 *
 * @param shape the options there are
 * @param given values as a person typed them or a program hands them over; names in any spelling
 * @throws {CallError} naming the option, what it takes and what it got
 */
export const resolvedOptions = <Shape extends z.ZodRawShape>(
  shape: Shape,
  given: Readonly<Record<string, unknown>>,
): z.output<z.ZodObject<Shape>> => {
  const names = new Map(Object.keys(shape).map((name) => [plainWord(name), name]));
  const readable = new Map(names);
  for (const [name, schema] of Object.entries(shape)) {
    const { formerly } = wordsOf(schema as z.ZodType);
    if (formerly !== undefined) readable.set(plainWord(formerly), name);
  }
  const values = new Map<string, unknown>();
  for (const [typed, value] of Object.entries(given)) {
    if (value === undefined) continue;
    const name = readable.get(plainWord(typed));
    if (name === undefined) {
      const near = nearestWord(plainWord(typed), [...names.keys()]);
      throw new CallError({
        code: "unknown-option",
        where: "this question",
        needs: `options among ${[...names.keys()].join(", ")}`,
        got: `"${typed}"`,
        ...(near === undefined ? {} : { try: `did you mean ${near}?` }),
      });
    }
    values.set(name, value);
  }
  const resolved = Object.entries(shape).flatMap(([name, schema]) => {
    const value = readOption(name, schema as z.ZodType, values.get(name));
    return value === undefined ? [] : [[name, value] as const];
  });
  return Object.fromEntries(resolved) as z.output<z.ZodObject<Shape>>;
};

/** What `read` gives; where it cannot read, the refusal says so of the option. */
export const readAs = <Value>(where: string, read: () => Value): Value => {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof Unread)) throw error;
    throw new CallError({
      code: error.code,
      where,
      needs: error.needs,
      got: error.got,
      ...(error.hint === undefined ? {} : { try: error.hint }),
    });
  }
};

const readOption = (name: string, schema: z.ZodType, given: unknown): unknown => {
  const where = wordsOf(schema).operand === undefined ? `--${kebab(name)}` : kebab(name);
  const read = readAs(where, () => schema.safeParse(given));
  if (read.success) return read.data;
  const got = given === undefined ? "none" : JSON.stringify(given);
  const needs =
    given === undefined ? `a value: ${wordsOf(schema).help}` : read.error.issues[0]!.message;
  throw new CallError({ code: "option-not-read", where, needs, got });
};
