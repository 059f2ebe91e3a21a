/** Kinds of evidence: identities between the report's section and the analysis it is made of. */
import { describe, expect, test } from "vitest";
import { variableTable } from "../../src/dose/variable-table.js";
import { variablesSection } from "../../src/report/variables-section.js";
import { analysisOf } from "./demo-analysis.js";

const silent = (): void => undefined;
const analysis = analysisOf("demo-register.csv", { contrasts: ["change-within-arm"] });

describe("which variables matter", () => {
  const section = variablesSection(analysis, {}, silent)!;

  test("has a table for each family with something to tell, and all numbers beside the report", () => {
    expect(section.tables.map(({ id }) => id)).toEqual([
      "variables-strength",
      "variables-size",
      "variables-tendon",
    ]);
    const set = analysis.sets.find(({ contrast }) => contrast === "change-within-arm")!;
    expect(section.dataTables![0]!.rows).toHaveLength(variableTable(set).rows.length);
  });

  test("says the rules of its verdicts", () => {
    expect(section.sentences.join(" ")).toContain("never give more than “unclear”");
  });

  test("is left out without effects, and for raw units, whose amount nobody knows", () => {
    expect(variablesSection({ ...analysis, sets: [] }, {}, silent)).toBeUndefined();
    const raw = analysis.sets.map((set) => ({ ...set, scale: "raw-mean-difference" as const }));
    expect(variablesSection({ ...analysis, sets: raw }, {}, silent)).toBeUndefined();
  });
});
