import type { Assumption } from "../effects/effect.js";
import { formatCount, formatNumber, plainNumber } from "./number-format.js";
import type { Column, Table } from "./table.js";

const columns = [
  { key: "name", label: "Assumption", align: "left" },
  { key: "value", label: "Value", align: "right" },
  { key: "source", label: "Where it comes from", align: "left" },
  { key: "effects", label: "Effects resting on it", align: "right" },
] as const satisfies readonly Column[];

/** Every number assumed rather than read, where it comes from and how many effects rest on it. */
export const assumptionsTable = (assumptions: readonly Assumption[]): Table => ({
  id: "assumptions",
  title: "Numbers assumed rather than read",
  columns,
  csvColumns: columns.map((column) =>
    column.key === "value" ? { ...column, key: "exactValue" } : column,
  ),
  rows: assumptions.map((assumption) => ({
    name: assumption.name,
    value: formatNumber(assumption.value),
    exactValue: plainNumber(assumption.value),
    source: assumption.source,
    effects: formatCount(assumption.effects),
  })),
  notes:
    assumptions.length === 0
      ? ["Every number used stands in the file."]
      : ["Change these and run again: if the answer changes, it depends on that assumption."],
});
