/** A figure made again beside its recipe: what differs, by name, with the headline first. */
import type { EffectScale } from "../effects/effect.js";
import { scales } from "../effects/scales.js";
import { formatCount } from "../tables/number-format.js";
import { scaleDisplay, shownEstimate } from "../tables/scale-display.js";
import type { Table } from "../tables/table.js";
import type { ReadRecipe } from "./figure-recipe.js";
import { holdbookVersion } from "./version.js";

type Cell = string | number | boolean | null;

/** Something drawn that is not what the recipe has; undefined where there is none. */
export type RecipeDifference = Readonly<{
  /** What it is, e.g. "effects, Kubo 2001 long, estimate". */
  name: string;
  old: Cell | undefined;
  new: Cell | undefined;
}>;

/** How a figure made again compares with its recipe. */
export type RecipeComparison = Readonly<{
  verdict: "the same" | "different";
  /** Values compared. */
  values: number;
  differences: readonly RecipeDifference[];
}>;

/** Machines may differ in the last digits of a logarithm; nobody can see the ninth on a figure. */
const sameDigits = 1e-9;

/** Below this share of the largest value of its kind a number is measured against that share. */
const smallShare = 1e-6;

/** Fields that say what a row is, whatever its place among the others. */
const namingFields = [
  "id",
  "effectId",
  "study",
  "arm",
  "comparatorArm",
  "outcome",
  "outcomeFamily",
  "family",
  "name",
  "label",
  "term",
  "effort",
  "hold",
] as const;

type Fields = Readonly<Record<string, unknown>>;
const isFields = (value: unknown): value is Fields =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** Rows under what they are called; those called the same are told apart by their content. */
const namedRows = (rows: readonly unknown[]): readonly (readonly [string, unknown])[] => {
  const called = rows.map((row, place) => {
    const parts = isFields(row)
      ? namingFields.flatMap((field) => (typeof row[field] === "string" ? [row[field]] : []))
      : [];
    return [parts.length === 0 ? String(place + 1) : parts.join(" "), row] as const;
  });
  const groups = new Map<string, unknown[]>();
  for (const [name, row] of called) groups.set(name, [...(groups.get(name) ?? []), row]);
  return [...groups].flatMap(([name, same]) =>
    same.length === 1
      ? [[name, same[0]] as const]
      : same
          .map((row) => JSON.stringify(row))
          .sort()
          .map((text, place) => [`${name} (${place + 1})`, JSON.parse(text) as unknown] as const),
  );
};

const partsOf = (value: unknown): readonly (readonly [string, unknown])[] | undefined =>
  Array.isArray(value) ? namedRows(value) : isFields(value) ? Object.entries(value) : undefined;

/** Every single value under the names that lead to it. */
const leaves = (value: unknown, names: readonly string[] = []): ReadonlyMap<string, Cell> => {
  const parts = partsOf(value);
  if (parts === undefined) return new Map([[names.join(", "), (value ?? null) as Cell]]);
  return new Map(parts.flatMap(([name, part]) => [...leaves(part, [...names, name])]));
};

const kindOf = (name: string): string => name.slice(name.lastIndexOf(", ") + 1);

/** Largest absolute number of each kind, so that a rounding error near zero stays one. */
const sizesOf = (values: ReadonlyMap<string, Cell>): ReadonlyMap<string, number> => {
  const largest = new Map<string, number>();
  for (const [name, value] of values)
    if (typeof value === "number")
      largest.set(kindOf(name), Math.max(largest.get(kindOf(name)) ?? 0, Math.abs(value)));
  return largest;
};

const numbersIn = /[−-]?\d(?:[\d,]*\d)?(?:\.\d+)?%?/g;

/** Whether two texts say the same numbers in the same order, whatever the words around them. */
const sameNumbers = (old: string, fresh: string): boolean =>
  String(old.match(numbersIn)) === String(fresh.match(numbersIn));

/**
 * Everything drawn in a figure made again beside what its recipe holds.
 *
 * Rows are found by what they are and not by their place, and numbers that agree to nine digits are the same, so
 * the order of a file's rows, its line ends and another machine's last digit make no difference.
 *
 * @param old   what the recipe holds
 * @param fresh what is drawn now
 * @param options `words`: false where texts that say the same numbers are the same: a later version may say it better
 */
export const recipeComparison = (
  old: unknown,
  fresh: unknown,
  { words = true }: Readonly<{ words?: boolean }> = {},
): RecipeComparison => {
  const before = leaves(old);
  const after = leaves(fresh);
  const sizes = sizesOf(before);
  const names = new Set([...before.keys(), ...after.keys()]);
  const differences: RecipeDifference[] = [];
  for (const name of names) {
    const was = before.get(name);
    const is = after.get(name);
    if (was === is) continue;
    if (!words && typeof was === "string" && typeof is === "string" && sameNumbers(was, is))
      continue;
    if (typeof was === "number" && typeof is === "number") {
      const size = smallShare * (sizes.get(kindOf(name)) ?? 0);
      const scale = Math.max(Math.abs(was), Math.abs(is), size);
      if (scale === 0 || Math.abs(was - is) / scale <= sameDigits) continue;
    }
    differences.push({ name, old: was, new: is });
  }
  return {
    verdict: differences.length === 0 ? "the same" : "different",
    values: names.size,
    differences,
  };
};

/** A sentence with every number that changed as "old → new"; both sentences where more than numbers changed. */
const sentenceChange = (old: string, fresh: string): string => {
  if (old.replace(numbersIn, "#") !== fresh.replace(numbersIn, "#"))
    return `It said: ${old} Now: ${fresh}`;
  const now = fresh.match(numbersIn) ?? [];
  let place = -1;
  return old.replace(numbersIn, (was) => {
    place += 1;
    const is = now[place] ?? was;
    return was === is ? was : `${was} → ${is}`;
  });
};

const isScale = (name: unknown): name is EffectScale =>
  typeof name === "string" && Object.hasOwn(scales, name);

/** The average of a figure as it is shown, where it draws one. */
const shownAverage = (drawn: unknown): string | undefined => {
  if (!isFields(drawn) || !isFields(drawn["pooled"])) return undefined;
  const { estimate, interval } = drawn["pooled"];
  const scale = drawn["scale"];
  if (typeof estimate !== "number" || !isScale(scale) || !isFields(interval)) return undefined;
  // The interval says to how many digits the average is worth showing.
  const reach = (Number(interval["high"]) - Number(interval["low"])) / 4;
  return `${shownEstimate(estimate, scale, reach)}${scaleDisplay(scale).sign}`;
};

/** Whether a headline is the recipe's; of a card's its numbers are, as a later version may say it better. */
export const isSameHeadline = ({ headline, figure }: ReadRecipe, fresh: string): boolean =>
  headline === null ||
  headline === fresh ||
  (figure.name === "card" && sameNumbers(headline, fresh));

/**
 * What came out, as sentences: the headline with what changed in it, how much of the figure differs, the file and
 * the version.
 *
 * @param fresh the headline and the drawing as they are now, and the file asked about
 */
export const recipeSentences = (
  recipe: ReadRecipe,
  fresh: Readonly<{ headline: string; drawn: unknown; file: ReadRecipe["file"] }>,
  { verdict, values, differences }: RecipeComparison,
): readonly string[] => {
  const isCard = recipe.figure.name === "card";
  const [what, made] = isCard
    ? ["the answer", "card"]
    : [`figure ${recipe.figure.data.id}`, "recipe"];
  const { file } = fresh;
  const brief = (one: ReadRecipe["file"]): string =>
    one === null ? "no file" : `${one.name} (SHA-256 ${one.fingerprint.slice(0, 12)}…)`;
  const sameFile = recipe.file?.fingerprint === file?.fingerprint;
  const aboutFile = sameFile
    ? []
    : [
        `The file has changed: the ${made} was made from ${brief(recipe.file)}, and this is ${brief(file)}.`,
      ];
  if (verdict === "the same" && isSameHeadline(recipe, fresh.headline))
    return [
      `The same: all ${formatCount(values)} values of ${what} are those of the ${made}. ${fresh.headline}`,
      ...(!isCard
        ? []
        : !sameFile || file === null
          ? aboutFile
          : [`The file is the card's: ${brief(file)}.`]),
    ];
  const [was, is] = [recipe.figure.data, fresh.drawn].map(shownAverage);
  const sameVersion = recipe.holdbook === holdbookVersion;
  return [
    was !== undefined && is !== undefined && was !== is
      ? `Different: average ${was} → ${is}.`
      : `Different: ${what}.`,
    recipe.headline === null || recipe.headline === fresh.headline
      ? fresh.headline
      : sentenceChange(recipe.headline, fresh.headline),
    `${formatCount(differences.length)} of ${formatCount(values)} values of ${what} are not those of the ${made}.`,
    ...aboutFile,
    ...(sameVersion
      ? []
      : [`The ${made} was written by Holdbook ${recipe.holdbook}; this is ${holdbookVersion}.`]),
    ...(isCard && sameFile && sameVersion
      ? [
          "File and version are the card's, so what it holds was changed after it was made, or the program was.",
        ]
      : []),
  ];
};

/** Differences listed; the rest are counted. */
const mostListed = 20;

const shown = (value: Cell | undefined): string =>
  value === undefined ? "absent" : value === null ? "none" : String(value);

/** The values that differ, old beside new, all digits. */
export const recipeTable = ({ differences }: RecipeComparison): Table => ({
  id: "recipe-differences",
  title: "What differs",
  columns: [
    { key: "name", label: "Value", align: "left" },
    { key: "old", label: "As it was", align: "right" },
    { key: "new", label: "Now", align: "right" },
  ],
  rows: differences.slice(0, mostListed).map((difference) => ({
    name: difference.name,
    old: shown(difference.old),
    new: shown(difference.new),
  })),
  notes:
    differences.length > mostListed
      ? [`${formatCount(differences.length - mostListed)} more; --json lists them all`]
      : [],
});
