/** A share of `npm run fuzz`, the same seeds every time, and files that are no tables at all. */
import { deflateRawSync } from "node:zlib";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { openEvidence } from "../../src/answers/evidence.js";
import { readTable } from "../../src/csv/read-table.js";
import { notebookFigure } from "../../src/notebook/show-figure.js";
import { estimatesFigure } from "../../src/figures/estimates-figure.js";
import { drawFigure } from "../../src/host/draw-figure.js";
import { runHere } from "../command/run-here.js";
import { testFolder } from "../command/test-folder.js";
import { tableText } from "../records/record-table.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { damagedFile, hostile } from "./damaged-file.js";
import { counted, type Kind } from "./fuzz.js";

test.each([
  ["damaged files", 60],
  ["written protocols", 300],
  ["command lines", 100],
] as const satisfies readonly (readonly [Kind, number])[])(
  "%s: each ends well or is refused in a sentence",
  async (kind, cases) => {
    const { counts, wrong } = await counted(kind, cases);
    expect(wrong).toEqual([]);
    for (const ending of ["ended well", "refused"] as const)
      expect(counts[ending]).toBeGreaterThan(0);
  },
);

// Spreads and holds of a hundred-millionth; a mean that lost its point, among few studies; a header without cells.
test.each([1963, 2343, 2823, 5458, 7166])(
  "damaged file %i, which once went wrong, ends well",
  async (seed) => {
    const { wrong } = await counted("damaged files", 1, seed);
    expect(wrong).toEqual([]);
  },
);

test("a line with a prior that does not settle is said, and costs the average nothing", async () => {
  const evidence = openEvidence({
    name: "damaged.csv",
    fingerprint: "0".repeat(64),
    table: readTable(damagedFile(randomStream(5458))),
  });
  const answer = await ask("pool", { outcome: "size" }, evidence);
  expect(answer.headline).toMatch(/^Size, before to after: 2\.6% \(95% interval/);
  expect(answer.sentences.join(" ")).toMatch(
    /With a stated prior: not told, as .* does not settle/,
  );
});

const bytesOf = (...parts: readonly (string | readonly number[])[]): Uint8Array =>
  Uint8Array.from(
    Buffer.concat(
      parts.map((part) => (typeof part === "string" ? Buffer.from(part) : Buffer.from(part))),
    ),
  );

/** A spreadsheet's own form: a ZIP archive whose first entry is [Content_Types].xml. */
const workbook = (): Uint8Array => {
  const name = Buffer.from("[Content_Types].xml");
  const packed = deflateRawSync(Buffer.from('<Types xmlns="http://schemas.openxmlformats.org/"/>'));
  const header = Buffer.alloc(30);
  header.writeUInt32LE(0x04034b50, 0);
  header.writeUInt16LE(20, 4);
  header.writeUInt16LE(8, 8);
  header.writeUInt32LE(packed.length, 18);
  header.writeUInt16LE(name.length, 26);
  return Uint8Array.from(
    Buffer.concat([header, name, packed, Buffer.from("PK\u0001\u0002"), Buffer.alloc(42)]),
  );
};

test.each([
  ["workbook", workbook(), /spreadsheet/],
  ["paper", bytesOf("%PDF-1.7\n%", [0xe2, 0xe3, 0xcf, 0xd3], "\n1 0 obj\n<<>>\nendobj\n"), /PDF/],
  [
    "picture",
    bytesOf([0x89], "PNG\r\n", [0x1a], "\n", [0, 0, 0, 13], "IHDR", [0, 0, 1, 0]),
    /picture/,
  ],
  [
    "log-in",
    bytesOf(
      "<!DOCTYPE html>\n<html><head><title>Sign in</title></head><body><form></form></body></html>\n",
    ),
    /web page/,
  ],
] as const)(
  "a %s named .csv is told for what it is, in one sentence",
  async (name, bytes, said) => {
    const path = join(testFolder, `${name}.csv`);
    writeFileSync(path, bytes);
    for (const command of ["check", "pool", "report"]) {
      const { exitCode, out, err } = await runHere(command, path);
      expect([exitCode, out]).toEqual([1, ""]);
      expect(err).toMatch(said);
      expect(err.trim().split("\n")).toHaveLength(1);
    }
  },
);

test("a table of 5,000 columns is read and pooled in under five seconds", async () => {
  const [header = "", ...rows] = tableText([
    { study: "Ash 2019" },
    { study: "Birch 2020", preMean: "183" },
  ])
    .trim()
    .split("\n");
  const names = Array.from({ length: 5000 }, (_, index) => `own ${index}`);
  const wide = [[header, ...names], ...rows.map((row) => [row, ...names.map((_, i) => String(i))])];
  const began = performance.now();
  const evidence = openEvidence({
    name: "wide.csv",
    fingerprint: "0".repeat(64),
    table: readTable(new TextEncoder().encode(wide.map((row) => row.join(",")).join("\n"))),
  });
  const { data } = await ask("effects", {}, evidence);
  expect(data.effects.map(({ study }) => study)).toEqual(["Ash 2019", "Birch 2020"]);
  expect(performance.now() - began).toBeLessThan(5000);
});

test.each(hostile)("a notebook's figure holds %j as text alone", async (study) => {
  const figure = estimatesFigure({
    id: "small",
    title: "Small",
    scale: "log-ratio-of-means",
    effects: [
      { study, label: study, estimate: 0.1, low: 0, high: 0.2 },
      { study: "Birch", label: "", estimate: 0.2, low: 0.1, high: 0.3 },
    ],
  });
  const { svg } = await drawFigure(figure);
  const html = notebookFigure({ ...figure, caption: study, description: study }, svg);
  // The caption stands inside the drawing, so the cell holds a picture and nothing else.
  expect(html.match(/<[a-z/]+/g)).toEqual(["<img"]);
  const image = Buffer.from(/base64,([^"]*)"/.exec(html)?.[1] ?? "", "base64").toString();
  expect(image).not.toMatch(/<script|<foreignObject| on\w+=/i);
});
