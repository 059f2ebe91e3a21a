import { readFileSync } from "node:fs";
import { readTable } from "../csv/read-table.js";
import type { RecordSet } from "../records/record-set.js";
import { readRecords } from "../records/read-records.js";

export type ShippedFile =
  "demo-register.csv" | "published-outcomes.csv" | "ready-effects-example.csv";

/** The bytes of a table that ships with the library. */
export const shippedBytes = (name: ShippedFile): Uint8Array =>
  new Uint8Array(readFileSync(new URL(`../../data/${name}`, import.meta.url)));

const read = new Map<ShippedFile, RecordSet>();

/** A table that ships with the library, read and checked; read once. */
export const shippedRecords = (name: ShippedFile): RecordSet => {
  const known = read.get(name);
  if (known !== undefined) return known;
  const records = readRecords(readTable(shippedBytes(name)));
  read.set(name, records);
  return records;
};
