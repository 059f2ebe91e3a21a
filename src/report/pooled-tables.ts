import { pooledTable } from "../tables/pooled-table.js";
import type { Table } from "../tables/table.js";
import type { Analysis } from "./analysis.js";
import { shownResult } from "./pooled-answer.js";

/** Pooled answers by outcome family and contrast, one table a scale. */
export const pooledTables = (analysis: Analysis): readonly Table[] => {
  const groups = analysis.answers.flatMap(({ label, set, answer }) => {
    const result = shownResult(answer);
    return result === undefined ? [] : [{ scale: set.scale, group: label, result }];
  });
  const scales = [...new Set(groups.map(({ scale }) => scale))];
  return scales.map((scale) =>
    pooledTable(
      groups.filter((group) => group.scale === scale),
      { scale, groupLabel: "Outcome and contrast" },
    ),
  );
};
