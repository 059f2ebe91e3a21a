import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { readTable } from "../../src/csv/read-table.js";
import { readRecords } from "../../src/records/read-records.js";
import { mustHold, type Bench } from "./bench.js";
import { fromChild } from "./child.js";
import { longRegister } from "./long-register.js";
import { shortestInTurns } from "./timing.js";

const rowsWanted = 100_000;

type Held = Readonly<{
  table: number;
  tableAndRecords: number;
  residentPeakGrowth: number;
  rows: number;
}>;

const heldBy = (bytes: Uint8Array): Held => {
  const folder = mkdtempSync(join(tmpdir(), "bench-"));
  try {
    const path = join(folder, "register.csv");
    writeFileSync(path, bytes);
    return fromChild("reading-memory", [path]) as Held;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

/** Reading and checking a long file against the parser alone, and the memory it then holds. */
export const reading: Bench = {
  name: "reading",
  title: `Reading ${rowsWanted.toLocaleString("en-GB")} rows in every column of the codebook`,
  run: async (progress) => {
    progress("making the file");
    const bytes = longRegister(rowsWanted);
    const parsed: readonly (readonly string[])[] = parse(bytes);
    const records = readRecords(readTable(bytes));
    mustHold("both read every row", parsed.length === rowsWanted + 1);
    mustHold("every row has a fate", records.fates.length === rowsWanted);
    mustHold("most rows can be used", records.rows.length > 0.9 * rowsWanted);
    progress("timing");
    const [alone = 0, table = 0, whole = 0] = shortestInTurns(
      [() => parse(bytes), () => readTable(bytes), () => readRecords(readTable(bytes))],
      3,
    );
    progress("measuring memory");
    const held = heldBy(bytes);
    mustHold("the other process read the same", held.rows === rowsWanted);
    const megabytes = bytes.length / 1e6;
    return Promise.resolve([
      { what: "file", value: megabytes, unit: "megabytes" },
      { what: "csv-parse alone", value: alone, unit: "seconds" },
      {
        what: "table and records / csv-parse alone",
        value: whole / alone,
        unit: "times",
        goal: { atMost: 3 },
      },
      { what: "of which the table / csv-parse alone", value: table / alone, unit: "times" },
      {
        what: "heap held by table and records / file",
        value: held.tableAndRecords / bytes.length,
        unit: "times",
        goal: { atMost: 6 },
        how: "heapUsed after forced collection in a process of its own, less the same before reading",
      },
      {
        what: "heap held by the table alone / file",
        value: held.table / bytes.length,
        unit: "times",
      },
      {
        what: "peak of resident memory / file",
        value: held.residentPeakGrowth / bytes.length,
        unit: "times",
        how: "growth of the process's largest resident size, garbage not yet collected included",
      },
    ]);
  },
};
