import type { OutcomeRow } from "../outcome-row.js";
import { rowIssue } from "./row-check.js";
import type { TableCheck } from "./row-check.js";

const loose = (id: string): string =>
  id
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "");

/**
 * Study ids, and arm ids within a study, that differ only in case, accents, spaces or punctuation: most
 * likely one study or arm typed in two ways, which would count as two.
 */
export const idsAlike: TableCheck = (rows) => [
  ...alike(rows, "study", () => ""),
  ...alike(rows, "arm", (row) => row.study),
];

const alike = (
  rows: readonly OutcomeRow[],
  field: "study" | "arm",
  within: (row: OutcomeRow) => string,
) => {
  const exact = new Set<string>();
  const firsts = new Map<string, OutcomeRow>();
  return rows.flatMap((row) => {
    const id = `${within(row)}\u0000${row[field]}`;
    if (exact.has(id)) return [];
    exact.add(id);
    const bare = loose(row[field]);
    if (bare === "") return [];
    const key = `${within(row)}\u0000${bare}`;
    const first = firsts.get(key);
    if (first === undefined) {
      firsts.set(key, row);
      return [];
    }
    return [
      rowIssue(row, field, "warning", {
        code: "ids-alike",
        message: `line ${first.line} spells it "${first[field]}"; the two count as different`,
        mend: `use one spelling if they are one ${field}`,
      }),
    ];
  });
};
