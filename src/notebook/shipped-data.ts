import { readFileSync } from "node:fs";
import { openEvidence, type Evidence } from "../answers/evidence.js";
import { readTable } from "../csv/read-table.js";

export type ShippedFile =
  "demo-register.csv" | "published-outcomes.csv" | "ready-effects-example.csv";

const opened = new Map<ShippedFile, Evidence>();

/** A table that ships with the library, opened for questions; read once. */
export const shippedFile = (name: ShippedFile): Evidence => {
  const known = opened.get(name);
  if (known !== undefined) return known;
  const bytes = new Uint8Array(readFileSync(new URL(`../../data/${name}`, import.meta.url)));
  const file = openEvidence({ name, fingerprint: "", table: readTable(bytes) });
  opened.set(name, file);
  return file;
};

/** A log ratio as the percentage people read. */
export const percent = (logRatio: number): number => 100 * Math.expm1(logRatio);
