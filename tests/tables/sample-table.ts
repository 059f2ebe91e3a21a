import type { Table } from "../../src/tables/table.js";

/** A small table with the texts that do harm in the wrong place. */
export const sampleTable: Table = {
  id: "sample",
  title: "Gains & losses <by arm>",
  columns: [
    { key: "study", label: "Study", align: "left" },
    { key: "gainPercent", label: "Gain", unit: "%", align: "right" },
    { key: "comment", label: "Comment", align: "left" },
  ],
  rows: [
    { study: "Elm 2011", gainPercent: "12.5", comment: "" },
    { study: "<script>alert('x')</script>", gainPercent: "\u22123.0", comment: "=1+1" },
    { study: "a|b*c_d`e", gainPercent: "1,234.5", comment: "two\nlines\u001b[31m red" },
  ],
  notes: ["One note | with <b>markup</b>"],
};
