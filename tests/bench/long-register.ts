import { readFileSync } from "node:fs";
import { join } from "node:path";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { benchRoot } from "./child.js";

/**
 * The demonstration register over and over, each time with other study names, to exactly so many rows:
 * every column of the codebook, and the faults of a real file in their real share.
 */
export const longRegister = (rowsWanted: number): Uint8Array => {
  const demo = readTable(readFileSync(join(benchRoot, "data/demo-register.csv")));
  const study = demo.header.indexOf("study");
  const rows = Array.from({ length: rowsWanted }, (_, index) => {
    const cells = demo.rows[index % demo.rows.length]?.cells ?? [];
    const round = Math.floor(index / demo.rows.length);
    return cells.map((cell, column) => (column === study ? `${cell} no. ${round}` : cell));
  });
  return new TextEncoder().encode(writeTable(demo.header, rows));
};
