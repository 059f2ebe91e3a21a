/** Kind of evidence: spellings of coaches, patients and papers, most written without a look at the reader. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { WrittenFormError } from "../../src/protocol/written-error.js";
import { readWritten, writePrescription } from "../../src/protocol/written-form.js";

/** Columns: written without a look at the reader, text, written form it is read as, what is assumed, what is offered where it is refused. */
const rows = readFileSync(new URL("spellings.tsv", import.meta.url), "utf8")
  .replace(/\n$/u, "")
  .split("\n")
  .slice(1)
  .map((line) => {
    const [blind = "", text = "", ...outcome] = line.split("\t");
    return { blind: blind === "yes", text, outcome };
  });

/** The written form, what was assumed, and what is offered in place of a text that is refused. */
const outcomeOf = (text: string): readonly string[] => {
  try {
    const { prescription, taken } = readWritten(text);
    return [writePrescription(prescription), taken.join("; "), ""];
  } catch (error) {
    if (!(error instanceof WrittenFormError)) throw error;
    return ["", "", error.meant ?? ""];
  }
};

describe("spellings", () => {
  test.each(rows.map(({ text, outcome }) => [text, outcome] as const))("%s", (text, outcome) => {
    expect(outcomeOf(text)).toEqual(outcome);
  });

  test("at least 150 are read, sixty of them blind, and every offer can be read", () => {
    const read = rows.filter(({ outcome }) => outcome[0] !== "");
    expect(read.length).toBeGreaterThanOrEqual(150);
    expect(read.filter(({ blind }) => blind).length).toBeGreaterThanOrEqual(60);
    for (const { outcome } of rows)
      if (outcome[2] !== undefined && outcome[2] !== "")
        expect(outcomeOf(outcome[2])[0]).toBe(outcome[2]);
  });
});
