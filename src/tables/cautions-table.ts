/** A block of cautions as a table, for documents that are made of tables; no entry can be left out. */
import type { CautionEntry, CautionsBlock } from "../projection/cautions.js";
import type { Table } from "./table.js";

const reason = ({ because }: CautionEntry): string =>
  because === undefined ? "" : ` Here: ${because}.`;

const origin = ({ source, sourceKind, doi }: CautionEntry): string =>
  sourceKind === "common practice"
    ? source
    : `${sourceKind}: ${source}${doi === undefined ? "" : `, doi ${doi}`}`;

/** The stop signs first, then a row for each caution with its source. */
export const cautionsTable = (block: CautionsBlock, id = "protocol-cautions"): Table => {
  const { stopSigns } = block;
  const entries: readonly CautionEntry[] = [
    {
      ...stopSigns,
      text:
        stopSigns.form === "short"
          ? stopSigns.text
          : `Signs: ${stopSigns.signs.join("; ")}. ${stopSigns.text}`,
    },
    ...block.entries,
  ];
  return {
    id,
    title: block.title,
    columns: [
      { key: "title", label: "Caution", align: "left" },
      { key: "text", label: "What to know", align: "left" },
      { key: "source", label: "Source", align: "left" },
    ],
    rows: entries.map((entry) => ({
      title: entry.title,
      text: `${entry.text}${reason(entry)}`,
      source: origin(entry),
    })),
    notes: [],
  };
};
