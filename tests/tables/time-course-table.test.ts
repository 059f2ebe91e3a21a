/** Kinds of evidence: identities between the table and the answer it shows. */
import { describe, expect, test } from "vitest";
import { timeCourse } from "../../src/dose/time-course.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { timeCourseTable } from "../../src/tables/time-course-table.js";
import { simulatedSet } from "../dose/simulated-set.js";

describe("time", () => {
  const answer = (studies: number) =>
    timeCourse(
      simulatedSet(
        Array.from({ length: studies }, (_, number) => ({
          study: `S${number}`,
          arms: [{ arm: "a", weeks: [2, 4, 8, 10] }],
        })),
        randomStream(22),
      ),
    );

  test("gain and share week by week, weeks beyond the data marked, courses weighed", () => {
    const told = answer(8);
    const table = timeCourseTable(told, "strength", "log-ratio-of-means");
    expect(table.rows.map(({ week }) => week)).toEqual([
      "2",
      "4",
      "6",
      "8",
      "12 (beyond the data)",
    ]);
    expect(table.rows[1]!.gain).toMatch(
      new RegExp(`^${(100 * Math.expm1(told.gains[1]!.estimate)).toFixed(1)}% \\(`),
    );
    expect(table.rows[1]!.share).toMatch(
      new RegExp(`^${Math.round(100 * told.shares[1]!.share)}% \\(`),
    );
    expect(table.rows.at(-1)!.share).toBe("");
    expect(table.notes[0]).toMatch(
      /^63% of the final gain is reached after \d+\.\d weeks \(95% interval \d/,
    );
    expect(table.notes.some((note) => note.startsWith("Courses by their weights"))).toBe(true);
  });

  test("a refusal is the first note", () => {
    const table = timeCourseTable(answer(2), "strength", "log-ratio-of-means");
    expect(table.rows).toEqual([]);
    expect(table.notes[0]).toBe(
      "How fast the gain comes cannot be told: 2 studies measured an arm more than once during training; at least 3 are needed.",
    );
  });
});
