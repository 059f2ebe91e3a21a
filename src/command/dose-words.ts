/** Words of the command line that name doses, shapes and products of doses. */
import { axisWords as wordsOfAxis, doseAxisNames, type DoseAxisName } from "../dose/dose-axes.js";
import { shapeNames, type ShapeName } from "../dose/shapes/shape.js";
import { CallError } from "../errors.js";
import { nearestWord } from "../records/nearest-word.js";

const kebab = (name: string): string =>
  name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

/** One form for `holdSeconds`, `hold-seconds`, `hold_seconds` and `hold seconds`. */
const plain = (word: string): string =>
  kebab(word.trim())
    .toLowerCase()
    .replaceAll(/[\s_–-]+/g, "-");

/** The one of several names that a word means, or a refusal that says the nearest. */
const named = <Name extends string>(
  option: string,
  word: string,
  wordsOf: ReadonlyMap<string, Name>,
  shown: readonly string[],
): Name => {
  const found = wordsOf.get(plain(word));
  if (found !== undefined) return found;
  const near = nearestWord(plain(word), [...wordsOf.keys()]);
  throw new CallError({
    code: "unknown-choice",
    where: option,
    needs: `names among ${shown.join(", ")}`,
    got: `"${word.trim()}"`,
    ...(near === undefined ? {} : { try: `did you mean ${near}?` }),
  });
};

const axisWords: ReadonlyMap<string, DoseAxisName> = new Map(
  doseAxisNames.flatMap((name) => wordsOfAxis(name).map((word) => [plain(word), name] as const)),
);

const parts = (text: string): readonly string[] =>
  text
    .split(",")
    .map((part) => part.trim())
    .filter((part) => part !== "");

const axisOf = (option: string, word: string): DoseAxisName =>
  named(option, word, axisWords, doseAxisNames.map(kebab));

/**
 * The axes of `--on hold-seconds,intensity_percent`, each once.
 *
 * @throws {CallError} "unknown-choice"
 */
export const axesOption = (text: string): readonly DoseAxisName[] => {
  const axes = parts(text).map((word) => axisOf("--on", word));
  if (axes.length === 0) {
    throw new CallError({
      code: "unknown-choice",
      where: "--on",
      needs: `at least one of ${doseAxisNames.map(kebab).join(", ")}`,
      got: `"${text}"`,
    });
  }
  return [...new Set(axes)];
};

const shapeWords: ReadonlyMap<string, ShapeName> = new Map(
  shapeNames.map((name) => [plain(name), name] as const),
);

/**
 * The shapes of `--shapes straight-line,logarithm`; `all` for every one there is.
 *
 * @throws {CallError} "unknown-choice"
 */
export const shapesOption = (text: string): readonly ShapeName[] =>
  text.trim() === "all"
    ? shapeNames
    : [
        ...new Set(
          parts(text).map((word) =>
            named("--shapes", word, shapeWords, ["all", ...shapeNames.map(plain)]),
          ),
        ),
      ];

/**
 * The products of `--interactions "intensity by hold, intensity by weeks"`.
 *
 * @throws {CallError} "bad-interaction", "unknown-choice"
 */
export const interactionsOption = (
  text: string,
): readonly (readonly [DoseAxisName, DoseAxisName])[] =>
  parts(text).map((part) => {
    const [first, second, ...more] = part.split(/\s+by\s+|\s*[×*]\s*/);
    if (first === undefined || second === undefined || more.length > 0) {
      throw new CallError({
        code: "bad-interaction",
        where: "--interactions",
        needs: "pairs such as intensity by hold, separated by commas",
        got: `"${part}"`,
      });
    }
    return [axisOf("--interactions", first), axisOf("--interactions", second)];
  });

/**
 * The numbers of an option such as `--at 5,10,30`; a semicolon separates as well, where the comma is decimal.
 *
 * @throws {CallError} "not-a-number"
 */
export const numbersOption =
  (option: string) =>
  (text: string): readonly number[] => {
    const words = text.includes(";") ? text.replaceAll(",", ".").split(";") : text.split(",");
    return words.map((word) => {
      const value = Number(word);
      if (word.trim() === "" || !Number.isFinite(value))
        throw new CallError({
          code: "not-a-number",
          where: option,
          needs: "numbers separated by commas",
          got: `"${text}"`,
        });
      return value;
    });
  };
