/** Prints, as JSON, the bytes of heap that the table and then the records of a file hold on to. */
import { readFileSync } from "node:fs";
import { readTable } from "../../../src/csv/read-table.js";
import { readRecords } from "../../../src/records/read-records.js";

const heap = (): number => {
  globalThis.gc?.();
  globalThis.gc?.();
  return process.memoryUsage().heapUsed;
};

const path = process.argv[2] ?? "";
const before = heap();
const residentBefore = process.resourceUsage().maxRSS;
const table = readTable(readFileSync(path));
const withTable = heap();
const records = readRecords(table);
const withBoth = heap();
process.stdout.write(
  JSON.stringify({
    table: withTable - before,
    tableAndRecords: withBoth - before,
    residentPeakGrowth: (process.resourceUsage().maxRSS - residentBefore) * 1024,
    // named last, so that neither can be collected before it was measured
    rows: records.fates.length,
    cells: table.rows.length,
  }),
);
