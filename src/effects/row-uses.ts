import type { OutcomeRow } from "../records/outcome-row.js";
import type { Effect, RowUse } from "./effect.js";

/**
 * What became of every row, in the order of the rows: one entry each, so that they add up.
 *
 * @param rows  all rows
 * @param effects  the effects made
 * @param refusals  why a row gave no effect of its own
 * @param candidates  rows that had what the contrast compares
 * @returns one use per row
 * @source none: bookkeeping
 */
export const rowUses = (
  rows: readonly OutcomeRow[],
  effects: readonly Effect[],
  refusals: ReadonlyMap<OutcomeRow, string>,
  candidates: ReadonlySet<OutcomeRow>,
): readonly RowUse[] => {
  const routes = new Map<OutcomeRow, string>();
  const served = new Map<OutcomeRow, Set<string>>();
  for (const { row, comparatorRow, route } of effects) {
    if (!routes.has(row)) routes.set(row, route);
    if (comparatorRow === undefined) continue;
    served.set(comparatorRow, (served.get(comparatorRow) ?? new Set<string>()).add(effectArm(row)));
  }
  return rows.map((row): RowUse => {
    const { line } = row;
    const route = routes.get(row);
    if (route !== undefined) return { line, use: "effect", reason: route };
    const arms = served.get(row);
    if (arms !== undefined) {
      return { line, use: "comparator", reason: `comparator of ${[...arms].sort().join(", ")}` };
    }
    return {
      line,
      use: "set aside",
      reason: refusals.get(row) ?? "it gives no effect",
      ...(candidates.has(row) ? { lacksNumbers: true } : {}),
    };
  });
};

const effectArm = (row: OutcomeRow): string => `arm "${row.arm}"`;
