/** A mistake of the program costs the answer it happens in, and the report says so. Kind of evidence: every question made to fail. */
import { afterEach, expect, test, vi } from "vitest";
import { pool } from "../../src/answers/pool.js";
import { questionList, type QuestionId } from "../../src/answers/question-list.js";
import { CallError, DataError } from "../../src/errors.js";
import { reportFiles } from "../../src/report/report-files.js";
import { reportHtml } from "../../src/report/report-html.js";
import { placedAnswers } from "../../src/report/report-part.js";
import { isUnanswered, reportOn } from "../../src/report/report-parts.js";
import { tableText } from "../records/record-table.js";
import { evidenceOfText } from "./demo-report.js";

const typed = tableText([
  { study: "Ash 2019" },
  { study: "Birch 2020", preMean: "183", postMean: "201" },
  { study: "Cedar 2021", preMean: "160", postMean: "190" },
]);
const protocols = [
  { name: "A", protocol: "4 x 20 s at 70%, rest 60 s, 3/week, 8 weeks" },
  { name: "B", protocol: "4 x 5 s at 70%, rest 60 s, 3/week, 8 weeks" },
];

afterEach(() => void vi.restoreAllMocks());

/** A question that fails when it is asked, all the others as they are. */
const breaking = (id: QuestionId, error: Error): void => {
  const entry = questionList[id] as { load: () => Promise<object> };
  const load = entry.load;
  vi.spyOn(entry, "load").mockImplementation(async () => ({
    ...(await load()),
    answer: () => {
      throw error;
    },
  }));
};

test.each([
  "check",
  "effects",
  "pool",
  "variables",
  "dose",
  "joint-angle",
  "time",
  "equal-tension",
  "hold",
  "project",
  "compare",
] as const)("%s fails, the report comes out and says so", async (id) => {
  const whole = await reportOn(evidenceOfText(typed), {}, { protocols });
  breaking(id, new TypeError("a sum of nothing"));
  const mistakes: string[] = [];
  const report = await reportOn(
    evidenceOfText(typed),
    {},
    { protocols },
    { mistake: (error) => `Sent as file ${mistakes.push(String(error))}.` },
  );
  expect(new Set(mistakes)).toEqual(new Set(["TypeError: a sum of nothing"]));
  const lost = placedAnswers(report).filter(isUnanswered);
  expect(lost.map(({ answer }) => answer.headline)).toContain(
    "Could not be answered. Sent as file 1.",
  );
  expect(placedAnswers(report).length).toBeGreaterThanOrEqual(id === "pool" ? 2 : 6);
  const html = reportHtml(report, new Map());
  expect(html).toContain("Could not be answered. Sent as file 1.");
  expect(html.replace(/<style[\s\S]*?<\/style>/u, "")).not.toMatch(/undefined|NaN|sum of nothing/);
  expect(reportFiles(report).map(({ name }) => name)).toContain("results.json");
  expect(placedAnswers(whole).some(isUnanswered)).toBe(false);
});

test("a question that fails once in a part keeps its place there, and the others of the part stay", async () => {
  const entry = questionList.pool as unknown as { load: () => Promise<typeof pool> };
  vi.spyOn(entry, "load").mockImplementation(() =>
    Promise.resolve({
      ...pool,
      answer: (...given: Parameters<typeof pool.answer>) => {
        if (given[1].outcome !== undefined) throw new RangeError("too deep");
        return pool.answer(...given);
      },
    }),
  );
  const report = await reportOn(evidenceOfText(typed));
  const closer = report.parts.find(({ id }) => id === "pooled");
  expect(closer?.answers.every(isUnanswered)).toBe(true);
  expect(closer?.answers.length).toBeGreaterThan(0);
  expect(closer?.answers[0]?.answer.headline).toBe(
    "Could not be answered. Holdbook met something it was not made for (RangeError).",
  );
  expect(report.parts.map(({ id }) => id)).not.toContain("unanswered");
});

test.each([
  [
    "rows that cannot be used",
    new DataError([
      {
        code: "ambiguous-number",
        severity: "error",
        line: 1,
        column: "",
        value: "",
        message: "no rows",
        mend: "add one",
      },
    ]),
  ],
  [
    "an option that cannot be read",
    new CallError({ code: "option-not-read", where: "--where", needs: "a column", got: "x" }),
  ],
])("%s are told to whoever asked, and no report is made", async (_, error) => {
  breaking("effects", error);
  await expect(reportOn(evidenceOfText(typed))).rejects.toBe(error);
});
