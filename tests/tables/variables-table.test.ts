/** Kinds of evidence: identities between the table and the answer it is made of, and wording of the verdicts. */
import { describe, expect, test } from "vitest";
import { variableTable } from "../../src/dose/variable-table.js";
import { tableToText } from "../../src/tables/table-to-text.js";
import {
  shownAmount,
  variablesDataTable,
  variablesRules,
  variablesSentences,
  variablesTable,
  verdictWords,
} from "../../src/tables/variables-table.js";
import { handMadeSet, sessionOf, type WrittenEffect } from "../dose/hand-made-set.js";

/** Eight studies, each with a shorter and a longer hold; ten more seconds of hold bring about 10 log points more. */
const written = Array.from({ length: 8 }, (_, study): readonly WrittenEffect[] =>
  [5, 15 + 5 * (study % 3)].map((seconds, place) => ({
    study: `S${study}`,
    arm: `arm ${place}`,
    estimate: 0.1 + 0.01 * seconds + 0.004 * Math.cos(3 * study + place),
    variance: 0.0004,
    row: { ...sessionOf(4, 6, seconds, 70), muscleLength: place === study % 2 ? "short" : "long" },
  })),
).flat();

const table = variableTable(handMadeSet(written));
const shown = variablesTable(table, "strength");
const rowOf = (name: string) => table.rows.find(({ axis }) => axis.name === name)!;
const cellsOf = (start: string) => shown.rows.find(({ variable }) => variable!.startsWith(start))!;

describe("one family's table", () => {
  test("shows the change over the span in percent, as the answer has it", () => {
    const { within } = rowOf("holdSeconds");
    const percent = (value: number): string => (100 * Math.expm1(value)).toFixed(1);
    expect(cellsOf("Hold length").within).toBe(
      `${percent(within!.estimate)}% (${percent(within!.interval.low)} to ${percent(within!.interval.high)})`,
    );
    expect(cellsOf("Hold length")).toMatchObject({
      variable: "Hold length (with it tension time in a session, torque–time in a session)",
      compared: "5 to 25 s",
      evidence: "8 of 8",
      people: "160",
      verdict: "more is favoured",
    });
  });

  test("says long length for more where the variable is muscle length", () => {
    expect(cellsOf("Muscle length").compared).toBe("long length against short length");
    const long = {
      ...rowOf("muscleLength"),
      verdict: { verdict: "favoured", side: "more", reason: "" },
    } as const;
    expect(verdictWords(long)).toBe("long length is favoured");
    expect(verdictWords({ ...long, verdict: { ...long.verdict, side: "less" } })).toBe(
      "short length is favoured",
    );
  });

  test("puts what is not studied into a note with the reason", () => {
    const note = shown.notes.find((one) => one.startsWith("Not studied"))!;
    expect(note).toContain("all arms train at 70% of MVC");
    expect(note).not.toContain("no slope");
    expect(shown.rows.some(({ variable }) => variable!.startsWith("Intensity"))).toBe(false);
  });

  test("marks intervals that rest on too little", () => {
    const few = variablesTable(variableTable(handMadeSet(written.slice(0, 6))), "strength");
    expect(few.rows.some(({ within }) => within!.endsWith("†"))).toBe(true);
    expect(few.notes.some((note) => note.startsWith("†"))).toBe(true);
    expect(shown.notes.some((note) => note.startsWith("†"))).toBe(false);
  });

  test("has fewer columns where the line is narrow", () => {
    expect(shown.narrowColumns!.length).toBeLessThan(shown.columns.length);
    const [narrow, wide] = [50, 200].map((width) => tableToText(shown, { width }));
    expect(wide).toMatch(/Variable +Compared +Studies/);
    expect(wide).toContain("Spread left");
    expect(narrow).not.toMatch(/Spread left\n/);
    expect(narrow).toMatch(/p; among/);
    for (const line of narrow!.split("\n")) expect(line.length).toBeLessThanOrEqual(50);
  });
});

test("verdicts in words, with the amount of the family", () => {
  const row = rowOf("holdSeconds");
  const words = (verdict: (typeof row)["verdict"]["verdict"], side: "more" | "less" = "less") =>
    verdictWords({ ...row, verdict: { verdict, side, reason: "cannot be separated from sets" } });
  expect(words("favoured")).toBe("less is favoured");
  expect(words("worth testing")).toBe("worth testing: less");
  expect(words("a difference, smaller than counts", "more")).toBe(
    "a difference, smaller than counts: more",
  );
  expect(words("no difference that counts")).toBe("no difference that counts");
  expect(words("cannot be separated")).toBe("cannot be separated from sets");
  expect(words("cannot be told")).toBe("cannot be told");
  expect(shownAmount(0.2, "standardised-mean-difference")).toBe("0.2 pooled standard deviations");
});

test("the data table has every row and every digit, and blanks where there is no answer", () => {
  const data = variablesDataTable(table);
  expect(data.rows).toHaveLength(table.rows.length);
  const hold = data.rows.find(({ variable }) => variable === "holdSeconds")!;
  expect(Number(hold.withinEstimate)).toBe(rowOf("holdSeconds").within!.estimate);
  expect(Number(hold.withinHigh)).toBe(rowOf("holdSeconds").within!.interval.high);
  const effort = data.rows.find(({ variable }) => variable === "intensityPercent")!;
  expect(effort.withinEstimate).toBe("");
  expect(effort.missingWithin).toContain("all arms train at 70% of MVC");
});

test("the sentence names what is favoured, and the rules say how many questions were asked", () => {
  const [sentence] = variablesSentences(table);
  // The digits are those of the table.
  const [change, limits] = cellsOf("Hold length").within!.split(/ \(|\)/);
  expect(sentence!.told).toMatch(/^Strength: more hold length \(with it [^)]*\) is favoured \(/);
  expect(sentence!.told).toContain(
    `(${change} (95% interval ${limits}%) from 5 to 25 s; p < 0.001, among all ${table.questions} questions p < 0.001)`,
  );
  expect(variablesRules(table).at(-1)).toContain(`${table.questions} within-study questions`);
  const nothing = variableTable(handMadeSet(written.slice(0, 1)));
  expect(variablesSentences(nothing)).toEqual([
    { told: "Strength: no variable can be compared.", rest: "" },
  ]);
});
