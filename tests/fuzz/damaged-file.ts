/** Files of a few real and invented studies, damaged by a seed in the ways files are damaged. */
import { readTable } from "../../src/csv/read-table.js";
import type { RandomStream } from "../../src/numeric/random-stream.js";
import { readProject } from "../house/source-tree.js";

const sources = ["data/demo-register.csv", "tests/first-wave/published-outcomes.csv"].map(
  (path) => {
    const { header, rows } = readTable(readProject(path));
    const study = header.indexOf("study");
    const studies = new Map<string, string[][]>();
    for (const { cells } of rows) {
      const name = cells[study] ?? "";
      studies.set(name, [...(studies.get(name) ?? []), [...cells]]);
    }
    return { header, studies: [...studies.values()] };
  },
);

/** Text that does harm where it is not held at the door. */
export const hostile = [
  "\u001b[31mred\u001b[0m\u0007",
  "\u202e0021 htimS",
  "<script>alert(1)</script>",
  "=cmd|' /C calc'!A0",
  "](javascript:alert(1))",
  "W".repeat(3000),
  "word ".repeat(400),
  "a\nb\r\nc\td",
  "\0",
  "__proto__",
  "constructor",
  "%s ${x} {{x}}",
  "😀".repeat(300),
  "e\u0301".repeat(500),
] as const;

const values = [
  ...["", " ", "0", "-0", "-1", "1", "0.5", "48000", "1e9", "1e150", "1e300", "1e-300", "-1e300"],
  ...["5e-324", "1,234", "1.234.567", "1e999", "n.s.", "p < .05", "12 (3)", "13.4 ± 9.7", "70%"],
  ...["men", "not reported", "2019-01-01", "½", "١٢", "0x10", ".", "-", "++1", "1 2"],
] as const;

type Cells = string[][];
const pick = <One>(random: RandomStream, items: readonly One[]): One =>
  items[random.integer(items.length)]!;

/** One change of the table's cells; the header is its first row. */
const changes: readonly ((cells: Cells, random: RandomStream) => void)[] = [
  ...Array.from({ length: 4 }, () => (cells: Cells, random: RandomStream) => {
    pick(random, cells)[random.integer(cells[0]!.length)] = pick(random, values);
  }),
  // a number times a power of ten, in one cell or down a column
  ...Array.from({ length: 4 }, () => (cells: Cells, random: RandomStream) => {
    const filled = cells[0]!.flatMap((_, column) =>
      cells.slice(1).some((row) => /^-?[\d.]+$/.test(row[column] ?? "")) ? [column] : [],
    );
    if (filled.length === 0) return;
    const column = pick(random, filled);
    const factor = 10 ** (random.integer(25) - 12) * (random.integer(4) === 0 ? -1 : 1);
    const rows = random.integer(3) === 0 ? cells.slice(1) : [pick(random, cells)];
    for (const row of rows)
      if (/^-?[\d.]+$/.test(row[column] ?? "")) row[column] = String(Number(row[column]) * factor);
  }),
  (cells, random) => {
    pick(random, cells)[random.integer(cells[0]!.length)] = pick(random, hostile);
  },
  (cells, random) => {
    const column = random.integer(cells[0]!.length);
    const value = pick(random, values);
    for (const row of cells.slice(1)) row[column] = value;
  },
  (cells, random) => {
    const [one, other] = [pick(random, cells), pick(random, cells)];
    // A header that lost all its cells has none to give.
    if (one.length === 0 || other.length === 0) return;
    const [a, b] = [random.integer(one.length), random.integer(other.length)];
    [one[a], other[b]] = [other[b] ?? "", one[a] ?? ""];
  },
  (cells, random) => {
    const column = random.integer(cells[0]!.length);
    for (const row of cells) row.splice(column, 1);
  },
  (cells, random) => void cells.splice(1, random.integer(Math.max(1, cells.length - 1))),
  (cells, random) => void cells.push([...pick(random, cells)]),
  (cells, random) => void pick(random, cells).splice(random.integer(5)),
];

/** One change of the text; bytes that are no text come of the encoding. */
const textChanges: readonly ((text: string, random: RandomStream) => string)[] = [
  (text, random) => text.slice(0, random.integer(text.length)),
  (text, random) => {
    const at = random.integer(text.length);
    return `${text.slice(0, at)}${pick(random, ['"', "\0", ",", ";", "\n", "\ufeff", "\r"])}${text.slice(at)}`;
  },
  (text) => text.replaceAll(",", ";"),
  (text) => text.replaceAll("\n", "\r"),
  (text) => text.replaceAll(/(\d)\.(\d)/g, "$1,$2"),
];

const quoted = (cell: string): string =>
  /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;

/** A damaged file of at most some sixty rows. */
export const damagedFile = (random: RandomStream): Uint8Array => {
  const { header, studies } = pick(random, sources);
  const chosen = random.shuffle(studies).slice(0, 2 + random.integer(7));
  const cells = [header, ...chosen.flat().slice(0, 60)].map((row) => [...row]);
  for (let left = 1 + random.integer(5); left > 0; left -= 1) {
    if (cells[0]!.length === 0) break;
    pick(random, changes)(cells, random);
  }
  const text = cells.map((row) => row.map(quoted).join(",")).join("\n");
  const damaged = random.integer(5) === 0 ? pick(random, textChanges)(text, random) : text;
  const kind = random.integer(40);
  if (kind === 0) return Uint8Array.from(Buffer.from(damaged, "utf16le"));
  return Uint8Array.from(Buffer.from(damaged, kind === 1 ? "latin1" : "utf8"));
};
