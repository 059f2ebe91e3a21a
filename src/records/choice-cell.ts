import type { CellReading } from "./cell-reading.js";
import { problemCell } from "./cell-reading.js";
import { nearestWord } from "../protocol/nearest-word.js";

/** A choice without the differences that do not matter: case, hyphens, spaces, -ize for -ise. */
const loose = (word: string): string =>
  word
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[\s_\-–—‐‑−]+/g, " ")
    .replace(/iz(e|ed|ing|ation)\b/g, "is$1")
    .trim();

/**
 * Reader of a choice column: compares a clean cell with the allowed values and their other spellings,
 * whatever its case, hyphens and spaces, and names the nearest allowed value when none fits.
 */
export const choiceCell = (
  allowed: readonly string[],
  spellings: Readonly<Record<string, string>> = {},
): ((cell: string) => CellReading) => {
  const known = new Map<string, string>();
  for (const [spelling, meant] of Object.entries(spellings)) known.set(loose(spelling), meant);
  for (const value of allowed) known.set(loose(value), value);
  const words = [...known.keys()];
  return (cell) => {
    const value = known.get(loose(cell));
    if (value !== undefined) return { kind: "value", value };
    const near = nearestWord(loose(cell), words);
    const meant = near === undefined ? undefined : known.get(near);
    return problemCell(
      "unknown-choice",
      "the cell is none of the allowed values",
      `${meant === undefined ? "" : `did you mean "${meant}"? `}allowed: ${allowed.join(", ")}`,
      meant === undefined ? allowed : [meant],
    );
  };
};
