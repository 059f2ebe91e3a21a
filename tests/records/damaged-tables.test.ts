import { expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { readRecords } from "../../src/records/read-records.js";
import { tableText } from "./record-table.js";

const good = tableText([
  {},
  { arm: "short holds", holdSeconds: "1", preMean: "180,5", notes: "two\nlines, quoted" },
  { arm: "control", armKind: "no exercise", intensityPercent: "", notes: "Noorkõiv said “3–10”" },
  { study: "Pell 2020", statistic: "t value", tValue: "2.4", preSpread: "", postSpread: "" },
  { study: "Quill 2021", pValue: "0.03", direction: "increase", ageMeanYears: "not reported" },
]);
const bytes = new TextEncoder().encode(good);

/** Park and Miller's multiplicative generator: the same damage on every machine. */
const stream = (seed: number) => {
  let state = seed;
  return (below: number): number => {
    state = (state * 48_271) % 2_147_483_647;
    return state % below;
  };
};

const strange = [
  "03-Oct",
  "2024-10-03",
  "#REF!",
  "1,234",
  "1.2.3",
  "∞",
  "NaN",
  "\u0000",
  "\u202e",
  "💪",
  "−5",
  "9–14",
  "=HYPERLINK(1)",
  "<script>",
  "1e400",
  "12 RM",
  "85%",
  '"',
  '""',
  "'",
  "\ufeff",
  "__proto__",
  "constructor",
];

type Damage = (source: Uint8Array, pick: (below: number) => number) => Uint8Array;
const ofText =
  (damage: (text: string, pick: (below: number) => number) => string): Damage =>
  (source, pick) =>
    new TextEncoder().encode(damage(new TextDecoder().decode(source), pick));

const inCells = (text: string, change: (cells: string[]) => void): string =>
  text
    .split("\n")
    .map((line) => {
      const cells = line.split(",");
      change(cells);
      return cells.join(",");
    })
    .join("\n");

const damages: readonly Damage[] = [
  // a byte of any value put in, taken out or changed
  (source, pick) => {
    const at = pick(source.length);
    return new Uint8Array([...source.slice(0, at), pick(256), ...source.slice(at)]);
  },
  (source, pick) => {
    const at = pick(source.length);
    return new Uint8Array([...source.slice(0, at), ...source.slice(at + 1)]);
  },
  (source, pick) => {
    const copy = source.slice();
    copy[pick(copy.length)] = pick(256);
    return copy;
  },
  // cut short
  (source, pick) => source.slice(0, pick(source.length)),
  // wrong encodings
  (source) => new Uint8Array([0xff, 0xfe, ...[...source].flatMap((byte) => [byte, 0])]),
  (source) => source.map((byte) => (byte >= 0x80 ? 0xe9 : byte)),
  // delimiters
  ofText((text, pick) => {
    const commas = [...text.matchAll(/,/g)].map(({ index }) => index);
    const at = commas[pick(commas.length)] ?? 0;
    return text.slice(0, at) + text.slice(at + 1);
  }),
  ofText((text) => text.replaceAll(",", ";")),
  ofText((text, pick) => text.replaceAll("\n", pick(2) === 0 ? "\r\n" : "\r")),
  // quotes
  ofText((text, pick) => {
    const at = pick(text.length);
    return `${text.slice(0, at)}"${text.slice(at)}`;
  }),
  ofText((text) => text.replace('"', "")),
  // strange cells
  ofText((text, pick) => {
    const row = 1 + pick(5);
    let line = 0;
    return inCells(text, (cells) => {
      if (line++ === row) cells[pick(cells.length)] = strange[pick(strange.length)] ?? "";
    });
  }),
  // swapped cells, columns and rows
  ofText((text, pick) => {
    let line = 0;
    const row = pick(6);
    return inCells(text, (cells) => {
      if (line++ !== row) return;
      const [i, j] = [pick(cells.length), pick(cells.length)];
      [cells[i], cells[j]] = [cells[j] ?? "", cells[i] ?? ""];
    });
  }),
  ofText((text, pick) => {
    const lines = text.split("\n");
    const [i, j] = [pick(lines.length), pick(lines.length)];
    [lines[i], lines[j]] = [lines[j] ?? "", lines[i] ?? ""];
    return lines.join("\n");
  }),
  ofText((text) => text + text),
];

test("a thousand damaged files: each is answered, with counts that add up and problems that are located", () => {
  const pick = stream(20_260);
  const tally = { usable: 0, withRefusedRows: 0, unreadable: 0 };
  for (let i = 0; i < 1000; i++) {
    let damaged = bytes;
    for (let times = 1 + pick(3); times > 0; times--) {
      const damage = damages[pick(damages.length)];
      if (damage !== undefined && damaged.length > 0)
        damaged = new Uint8Array(damage(damaged, pick));
    }
    const where = `file ${i}: ${JSON.stringify(new TextDecoder().decode(damaged)).slice(0, 400)}`;
    const table = readTable(damaged);
    const records = readRecords(table);
    const lines = new TextDecoder().decode(damaged).split(/\r\n|\n|\r/).length;
    expect(records.fates.length, where).toBe(table.rows.length);
    const used = records.fates.filter(({ fate }) => fate.startsWith("used")).length;
    expect(records.rows.length, where).toBe(used);
    for (const { coded, notReported, blank, unusable } of records.completeness) {
      expect(coded + notReported + blank + unusable, where).toBe(records.rowsInFile);
    }
    for (const issue of records.issues) {
      expect(issue.line, where).toBeGreaterThanOrEqual(0);
      // In a file that claims to be UTF-16 a line break may be made of other bytes.
      if (table.encoding === "utf-8") expect(issue.line, where).toBeLessThanOrEqual(lines);
      expect(issue.message === "" || issue.mend === "", where).toBe(false);
    }
    for (const fate of records.fates) {
      if (fate.fate !== "refused") continue;
      const told = records.issues.some(
        ({ line, severity }) =>
          severity === "error" && (line === fate.line || line <= (table.headerLine ?? 1)),
      );
      expect(told, where).toBe(true);
    }
    for (const row of records.rows) {
      for (const value of Object.values(row)) {
        if (typeof value === "number") expect(Number.isFinite(value), where).toBe(true);
        expect(value, where).not.toBe(undefined);
      }
    }
    if (records.usable) tally.usable += 1;
    if (records.fates.some(({ fate }) => fate === "refused")) tally.withRefusedRows += 1;
    if (records.rowsInFile === 0) tally.unreadable += 1;
    if (!records.usable) {
      const told = records.issues.some(({ severity }) => severity === "error");
      expect(told || records.rows.length === 0, where).toBe(true);
    }
  }
  // The damage is neither too slight to matter nor so great that nothing is left to read.
  expect(tally.usable).toBeGreaterThan(50);
  expect(tally.withRefusedRows).toBeGreaterThan(300);
  expect(tally.unreadable).toBeLessThan(200);
});

test("the undamaged file is read without an error", () => {
  const records = readRecords(readTable(bytes));
  expect(records.issues.filter(({ severity }) => severity === "error")).toEqual([]);
  expect(records.rows).toHaveLength(5);
});
