/** Kinds of evidence: identities between the report's section and the analysis it is made of. */
import { describe, expect, test } from "vitest";
import { specialQuestionsSection } from "../../src/report/special-questions-section.js";
import { analysisOf } from "./demo-analysis.js";

const silent = (): void => undefined;
const analysis = analysisOf("demo-register.csv", { contrasts: ["change-within-arm"] });

describe("equal tension, joint angle, time", () => {
  const section = specialQuestionsSection(analysis, {}, silent)!;

  test("has a figure for each answer and its table; figures and tables have names of their own", () => {
    const ids = section.figures.map(({ id }) => id);
    expect(ids).toContain("joint-angle-strength");
    expect(ids).toContain("time-course-strength");
    expect(ids).toContain("equal-tension-hold-length-size");
    expect(new Set(ids).size).toBe(ids.length);
    const tables = [...section.tables, ...section.dataTables!].map(({ id }) => id);
    expect(tables).toContain("equal-tension-pairs");
    expect(new Set(tables).size).toBe(tables.length);
  });

  test("is left out where nothing can be asked", () => {
    const nothing = analysis.sets.map((set) => ({ ...set, effects: [], blocks: [] }));
    expect(specialQuestionsSection({ ...analysis, sets: nothing }, {}, silent)).toBeUndefined();
  });
});
