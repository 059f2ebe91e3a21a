import type { EffectScale } from "../effects/effect.js";
import type { MultilevelResult } from "../synthesis/synthesis-results.js";
import { multilevelTable } from "../tables/multilevel-table.js";
import { formatInterval, formatNumber, pValueCell } from "../tables/number-format.js";
import { pooledTable, type PooledGroup } from "../tables/pooled-table.js";
import { tableToText } from "../tables/table-to-text.js";
import type { Table } from "../tables/table.js";
import { varianceTable } from "../tables/variance-table.js";

export type PooledTextOptions = Readonly<{
  /** Absent for ready effects, which stand on a scale only their maker knows. */
  scale: EffectScale | undefined;
  warnings: readonly string[];
  width: number;
}>;

const isMultilevel = (group: PooledGroup): group is PooledGroup & { result: MultilevelResult } =>
  "varianceByLevel" in group.result;

/** The table as of effects whose scale is the file's own: no unit, and no scale named. */
const onOwnScale = (table: Table): Table => ({
  ...table,
  title: table.title.replace(/:.*$/, ": on the file's own scale"),
  columns: table.columns.map((column) => {
    if (column.key !== "shown") return column;
    const { unit: _unit, ...rest } = column;
    return { ...rest, label: "Estimate" };
  }),
});

/** Pooled answers as text: the table of averages, then each model's coefficients and variance parts. */
export const pooledText = (
  groups: readonly PooledGroup[],
  { scale, warnings, width }: PooledTextOptions,
): string => {
  // The story of a model stands under its first table; the tables after it add only what is new.
  const told = new Set<string>();
  const shown = (table: Table): string => {
    const fresh = table.notes.filter((note) => !told.has(note));
    fresh.forEach((note) => told.add(note));
    const once = { ...table, notes: fresh };
    return tableToText(scale === undefined ? onOwnScale(once) : once, { width });
  };
  const standIn = scale ?? "raw-mean-difference";
  const parts = [...warnings.map((warning) => `Warning: ${warning}`)];
  parts.push(shown(pooledTable(groups, { scale: standIn })));
  for (const group of groups) {
    if (!isMultilevel(group) && group.result.coefficients.length <= 1) continue;
    if (groups.length > 1) parts.push(`— ${group.group} —`);
    if (isMultilevel(group)) {
      parts.push(shown(multilevelTable(group.result, { scale: standIn })));
      parts.push(tableToText(varianceTable(group.result), { width }));
    } else {
      parts.push(
        tableToText(
          {
            id: "coefficients",
            title: "Coefficients",
            columns: [
              { key: "term", label: "Term", align: "left" },
              { key: "estimate", label: "Estimate", align: "right" },
              { key: "interval", label: "Interval", align: "right" },
              { key: "p", label: "p", align: "right" },
            ],
            rows: group.result.coefficients.map(({ term, estimate, interval, p }) => ({
              term,
              estimate: formatNumber(estimate, { digits: 4 }),
              interval: formatInterval(interval, { digits: 4 }),
              p: pValueCell(p),
            })),
            notes: [],
          },
          { width },
        ),
      );
    }
  }
  return parts.join("\n\n");
};
