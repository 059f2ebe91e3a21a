/**
 * What is new since an older file: rows matched by what they are, every average as each file gives it, and the study that
 * did it. Kind of evidence: files edited here by hand, and each file's own answer.
 */
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { changedRows } from "../../src/answers/changed-rows.js";
import { changes } from "../../src/answers/changes.js";
import { readResults } from "../../src/answers/older-file.js";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { reportFiles } from "../../src/report/report-files.js";
import { reportOn } from "../../src/report/report-parts.js";
import { evidenceOf, firstWave, shippedEvidence, shippedText } from "./evidence-under-test.js";
import { expectPlain, limits, percent } from "./last-yard.js";

const starter = shippedEvidence(firstWave);
const library = shippedEvidence("published-outcomes.csv");

const edited = (
  text: string,
  change: (cells: Record<string, string>) => Record<string, string> | undefined,
): string => {
  const { header, rows } = readTable(text);
  return writeTable(
    header,
    rows.flatMap(({ cells }) => {
      const row = change(Object.fromEntries(header.map((name, at) => [name, cells[at] ?? ""])));
      return row === undefined ? [] : [header.map((name) => row[name] ?? "")];
    }),
  );
};

test("a file turned upside down, its columns in another order and its numbers written otherwise, is the same", () => {
  const { header, rows } = starter.table;
  const turned = {
    header: [...header].reverse(),
    rows: [...rows].reverse().map(({ cells }, line) => ({
      line: line + 2,
      cells: [...cells].reverse().map((cell) => (/^\d+$/.test(cell) ? `${cell}.0` : ` ${cell}`)),
    })),
  };
  expect(changedRows(starter.table, turned)).toEqual([]);
});

test("one row added, one taken out, one number edited and one arm renamed are told as that", () => {
  const text = shippedText(firstWave);
  let line = 1;
  const now = evidenceOf(
    `${edited(text, (row) => {
      line += 1;
      if (line === 7) return undefined;
      if (line === 16) return { ...row, change_percent_mean: "99" };
      if (line === 38) return { ...row, notes: "another note" };
      return row;
    }).trimEnd()}\n${edited(text, (row) =>
      row["study"] === "Sato 2022" ? { ...row, study: "Nova 2026" } : undefined,
    )
      .split("\n")
      .slice(1)
      .join("\n")}`,
  );
  const told = changedRows(starter.table, now.table);
  const old = starter.table.rows;
  expect(told.map(({ kind }) => kind).sort()).toEqual(["added", "edited", "edited", "removed"]);
  expect(told.find(({ kind }) => kind === "removed")).toMatchObject({
    lineBefore: 7,
    lineNow: null,
  });
  const number = told.find(({ cells }) => cells[0]?.column === "change_percent_mean")!;
  expect(number).toMatchObject({
    study: old[14]!.cells[0],
    // The row above it is gone, so it stands a line higher.
    lineBefore: 16,
    lineNow: 15,
    cells: [
      { before: old[14]!.cells[starter.table.header.indexOf("change_percent_mean")], now: "99" },
    ],
  });
  expect(told.find(({ study }) => study === "Nova 2026")).toMatchObject({ kind: "added" });
});

test("a file beside itself has nothing new", async () => {
  const answer = await ask("changes", { older: starter }, starter);
  expect(answer.headline).toMatch(
    /^Since published-outcomes\.csv \(fingerprint 0{8}\): no row was added, removed or edited; moved: 0 of \d+ averages, 0 of \d+ verdicts, 0 of \d+ ratings and 0 of 20 statements\.$/,
  );
  expect(answer.figures).toEqual([]);
  expect(
    answer.tables.filter(({ rows, id }) => rows.length > 0 && id !== "changed-figures"),
  ).toEqual([]);
});

test("between the starter file and the library, every conclusion is what each file gives, with its interval", async () => {
  const answer = await ask("changes", { older: starter }, library);
  expectPlain(answer, changes);
  expect(answer.data.question.options["older"]).toEqual({
    name: "published-outcomes.csv",
    fingerprint: "0".repeat(64),
  });
  const rows = answer.data.rows!;
  const of = (kind: string) => rows.filter((row) => row.kind === kind).length;
  // Rows that are in both, edited or not, and the others make up each file.
  const same = starter.table.rows.length - of("removed") - of("edited");
  expect(same + of("edited") + of("added")).toBe(library.table.rows.length);
  expect(rows.filter(({ kind }) => kind === "removed").map(({ study }) => study)).toEqual(
    Array.from({ length: 3 }, () => "Training intensity trial"),
  );
  const moved = answer.tables.find(({ id }) => id === "changed-averages")!.rows;
  expect(moved.length).toBeGreaterThan(3);
  for (const [evidence, column] of [
    [starter, "before"],
    [library, "now"],
  ] as const) {
    const { data } = await ask("pool", {}, evidence);
    for (const told of data.groups) {
      if (!("estimate" in told)) continue;
      const { group, estimate, interval, studies, scale } = told;
      const row = moved.find(({ about }) => about?.toLowerCase() === `${group}, before to after`);
      if (row === undefined || scale !== "log-ratio-of-means") continue;
      expect(row[column]).toBe(`${percent(estimate)}% (${limits(interval)}%; ${studies} studies)`);
    }
  }
  expect(answer.sentences.at(-1)).toContain("another look at the same question");

  // Ratings and statements stand as each file gives them, and those that changed name what did it.
  const table = (id: string) => answer.tables.find((one) => one.id === id)!.rows;
  const shownIn = (id: string, about: string, column: string) =>
    table(id)
      .find((row) => row["about"] === about)
      ?.[column]?.split(":")[0];
  const [rated, stands] = [new Set<string>(), new Set<string>()];
  for (const [evidence, column] of [
    [starter, "before"],
    [library, "now"],
  ] as const) {
    const { data } = await ask("statements", {}, evidence);
    for (const { statement, verdict } of data.statements) {
      const shown = shownIn("changed-statements", statement.slice(0, -1), column);
      if (shown !== undefined) expect(shown).toBe(verdict);
      if (shown !== undefined) stands.add(statement);
    }
    for (const { group, certainty } of (await ask("certainty", {}, evidence)).data.groups) {
      const shown = shownIn("changed-ratings", `Certainty of ${group}, before to after`, column);
      if (shown !== undefined) expect(shown).toBe(certainty ?? "no average to rate");
      if (shown !== undefined) rated.add(group);
    }
  }
  expect([rated.size, stands.size].every((size) => size > 3)).toBe(true);
  expect(
    table("changed-statements").find(({ about }) => about?.endsWith("muscles bigger"))!["by"],
  ).toMatch(/^Alway 1990 \(lines 75, 76, 77\) alone: undecided: 8\.6%/);
  expect(answer.data.notAlone).toEqual([]);
});

test("what did it is the study whose row was edited, named with its line, and alone it does all", async () => {
  let place = 1;
  let line = 0;
  const now = evidenceOf(
    edited(shippedText(firstWave), (row) => {
      place += 1;
      if (line > 0 || row["study"] !== "Tillin 2014" || !(Number(row["change_percent_spread"]) > 0))
        return row;
      line = place;
      return { ...row, change_percent_mean: String(1.5 * Number(row["change_percent_mean"])) };
    }),
    "now.csv",
  );
  const answer = await ask("changes", { older: starter }, now);
  expect(answer.data.rows).toMatchObject([{ kind: "edited", study: "Tillin 2014", lineNow: line }]);
  const moved = answer.data.changes.filter(({ isMoved, kind }) => isMoved && kind === "average");
  expect(moved.length).toBeGreaterThan(0);
  for (const { causes, now: side, before } of moved) {
    expect(causes).toMatchObject([{ study: "Tillin 2014", lines: [line], words: side!.words }]);
    expect(causes[0]!.shift).toBeCloseTo(side!.number!.estimate - before!.number!.estimate, 12);
  }
  const [figure] = answer.figures;
  expect(figure!.data).toMatchObject({ rows: [{ by: "Tillin 2014" }] });
});

test("the results of a report stand for the file they are of; what the program changed is told apart", async () => {
  const now = evidenceOf(
    edited(shippedText(firstWave), (row) => (row["study"] === "Arampatzis 2007" ? undefined : row)),
    "now.csv",
  );
  const report = await reportOn(starter, {});
  const text = reportFiles(report).find(({ name }) => name === "results.json")!.content;
  const older = readResults(text);
  const [fromFile, fromReport] = [
    await ask("changes", { older: starter }, now),
    await ask("changes", { older }, now),
  ];
  expect(fromReport.headline).toBe(fromFile.headline);
  const movedBy = ({ data }: typeof fromFile) =>
    data.changes.map(({ isMoved, causes }) => ({ isMoved, causes }));
  expect(movedBy(fromReport)).toEqual(movedBy(fromFile));
  const moved = fromFile.data.changes.filter(({ isMoved }) => isMoved);
  expect(moved.length).toBeGreaterThan(0);

  const { table: _rows, ...numbers } = older;
  const alone = await ask("changes", { older: numbers }, now);
  expect(alone.headline).toContain("its rows are not known");
  // The report was asked no statement, so without its rows none can be set beside.
  const printed = moved.filter(({ kind }) => kind !== "statement");
  expect(printed.map(({ kind }) => kind)).toContain("rating");
  expect(alone.data.changes.filter(({ isMoved }) => isMoved)).toHaveLength(printed.length);
  expect(alone.tables.map(({ id }) => id)).not.toContain("changed-rows");

  const strength = older.answers.find(
    ({ question }) => question.id === "pool" && question.options["outcome"] === undefined,
  )!;
  const other = structuredClone({ ...older, answers: [strength] });
  (other.answers[0]!["groups"] as { estimate: number }[])[0]!.estimate += 0.1;
  const program = await ask("changes", { older: other }, starter);
  expect(program.sentences.join(" ")).toContain("would be other ones from the same rows today");
  expect(
    program.tables.find(({ id }) => id === "changed-averages")!.rows.map(({ by }) => by),
  ).toContain("the program, not a row");
});
