import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { openEvidence } from "../../src/answers/evidence.js";
import { readTable } from "../../src/csv/read-table.js";
import { tableText, type Cells } from "../records/record-table.js";

const evidenceOf = (...rows: readonly Cells[]) =>
  openEvidence({ name: "made.csv", fingerprint: "none", table: readTable(tableText(rows)) });

/** Three studies of like size and spread, each with its own gain. */
const sound: readonly Cells[] = [
  { study: "Ashdown 2019", preMean: "182.4", postMean: "201.7" },
  {
    study: "Pell 2020",
    preMean: "171.3",
    preSpread: "30.1",
    postMean: "195.8",
    postSpread: "32.2",
  },
  {
    study: "Quill 2021",
    preMean: "165.9",
    preSpread: "27.4",
    postMean: "214.6",
    postSpread: "34.4",
  },
];
/** The third study's spreads typed ten times too small: 2.7 and 3.4 for 27.4 and 34.4. */
const slipped: readonly Cells[] = [
  ...sound.slice(0, 2),
  { ...sound[2], preSpread: "2.7", postSpread: "3.4" },
];
const pooled = (rows: readonly Cells[], options = {}) =>
  ask("pool", { levels: "none", model: "common-effect", ...options }, evidenceOf(...rows));

test("a row in doubt that rules its average puts the headline in doubt, with the answer without it", async () => {
  const { headline, sentences, notes, data } = await pooled(slipped);
  const without = await pooled(sound.slice(0, 2));
  expect(headline).toMatch(/^Strength, before to after: in doubt, /);
  const [, weight] = /Line 4 \(Quill 2021\) has (\d+)% of the weight/.exec(headline) ?? [];
  // Weights are one over the variances, which ten times smaller spreads make a hundred times larger.
  expect(Number(weight)).toBeGreaterThan(95);
  expect(headline).toContain("its spread is in doubt (spread-out-of-scale)");
  const number = (text: string) =>
    /([\d.]+% \(95% interval [^;]*; 2 effects in 2 studies\))/.exec(text)?.[1];
  expect(number(headline.split("Without it: ")[1] ?? "")).toBe(number(without.headline));
  expect(sentences[0]).toBe(
    "1 of the 3 rows behind this is in doubt: spread-out-of-scale (line 4).",
  );
  expect(notes.map(({ code }) => code)).toContain("spread-out-of-scale");
  type Doubted = Readonly<{ estimate: number; inDoubt: { weightPercent: number } | null }>;
  const [[group], [sure]] = [data, without.data].map(
    ({ groups }) => groups as unknown as readonly Doubted[],
  ) as [readonly Doubted[], readonly Doubted[]];
  expect(group?.inDoubt).toMatchObject({
    line: 4,
    study: "Quill 2021",
    doubt: "spread-out-of-scale",
    without: { estimate: sure?.estimate, effects: 2 },
  });
  expect(Math.round(group?.inDoubt?.weightPercent ?? 0)).toBe(Number(weight));
  expect(sure?.inDoubt).toBeNull();
});

test("a row that does not rule is told beside the number, and the headline stands", async () => {
  const turned = [...sound.slice(0, 2), { ...sound[2], restBetweenSetsSeconds: "2" }];
  const { headline, sentences } = await pooled(turned);
  expect(headline).not.toContain("in doubt");
  expect(sentences[0]).toBe("1 of the 3 rows behind this is in doubt: rest-out-of-scale (line 4).");
});

test("a doubt that was confirmed, and a file without doubts, leave every answer as it is", async () => {
  const confirmed = slipped.map((row, i) =>
    i === 2 ? { ...row, confirmed: "spread-out-of-scale" } : row,
  );
  for (const rows of [confirmed, sound]) {
    const { headline, sentences } = await pooled(rows);
    expect(headline).not.toContain("in doubt");
    expect(sentences.join(" ")).not.toContain("in doubt");
  }
});

test("every answer that rests on the row says so, and only those that do", async () => {
  const evidence = evidenceOf(...slipped);
  for (const id of ["pool", "effects", "influence", "time"] as const) {
    const answer = await ask(id, {}, evidence);
    const told = answer.sentences.some((sentence) =>
      /^1 of the \d+ rows? behind this is in doubt/.test(sentence),
    );
    expect([id, told]).toEqual([id, answer.data.rowsUsed.includes(4)]);
  }
  const elsewhere = await ask("effects", { where: "study != Quill 2021" }, evidence);
  expect(elsewhere.sentences.join(" ")).not.toContain("in doubt");
});
