import type { FieldCompleteness } from "../records/record-set.js";
import { formatCount, formatPercent } from "./number-format.js";
import type { Column, Table } from "./table.js";

const columns = [
  { key: "column", label: "Column", align: "left" },
  { key: "coded", label: "Coded", align: "right" },
  { key: "notReported", label: "Not reported", align: "right" },
  { key: "blank", label: "Blank", align: "right" },
  { key: "unusable", label: "Unusable", align: "right" },
  { key: "share", label: "Coded share", align: "right" },
] as const satisfies readonly Column[];

/**
 * How completely each field is coded: cells coded, looked for and not reported,
 * blank, and unreadable.
 */
export const completenessTable = (fields: readonly FieldCompleteness[]): Table => ({
  id: "completeness",
  title: "How completely each field is coded",
  columns,
  csvColumns: columns.slice(0, 5),
  rows: fields.map(({ column, coded, notReported, blank, unusable }) => {
    const rows = coded + notReported + blank + unusable;
    return {
      column,
      coded: formatCount(coded),
      notReported: formatCount(notReported),
      blank: formatCount(blank),
      unusable: formatCount(unusable),
      share: rows === 0 ? "" : formatPercent((100 * coded) / rows, { digits: 0 }),
    };
  }),
  notes: [
    'Blank means not coded yet; "not reported" means looked for and not in the source. The two are counted apart.',
  ],
});
