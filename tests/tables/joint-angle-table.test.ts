/** Kinds of evidence: identities between the table and the answer it shows. */
import { describe, expect, test } from "vitest";
import { jointAngle } from "../../src/dose/joint-angle.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { jointAngleTable } from "../../src/tables/joint-angle-table.js";
import { simulatedSet } from "../dose/simulated-set.js";

describe("joint angle", () => {
  const set = (studies: number) =>
    simulatedSet(
      Array.from({ length: studies }, (_, number) => ({
        study: `S${number}`,
        arms: [
          {
            arm: "short",
            muscleLength: "short" as const,
            trainingAngle: 40,
            testAngles: [40, 55, 70, 90],
            weeks: [8],
          },
          {
            arm: "long",
            muscleLength: "long" as const,
            trainingAngle: 90,
            testAngles: [90],
            weeks: [8],
          },
        ],
      })),
      randomStream(21),
    );

  test("width, level, shares and average of the answer, and a length at one distance in a note", () => {
    const answer = jointAngle(set(7));
    const table = jointAngleTable(answer, "strength", "log-ratio-of-means");
    const [short] = answer.lengths;
    if (short!.halfWidth.kind === "refusal") throw new Error("a width");
    expect(table.rows).toHaveLength(1);
    expect(table.rows[0]!.width).toMatch(
      new RegExp(`^${Math.round(short!.halfWidth.degrees)}° \\(`),
    );
    expect(table.rows[0]!["left 10"]).toMatch(
      new RegExp(`^${Math.round(100 * short!.left[0]!.share)}% \\(`),
    );
    expect(table.rows[0]!.evidence).toBe("7, 84");
    expect(table.notes).toContain("Long length: 7 studies, all tested at one distance only.");
    expect(table.notes[0]).toContain("not told, no width after training at long length");
  });

  test("a refusal stands in the cell, its reason in a note", () => {
    const table = jointAngleTable(jointAngle(set(1)), "strength", "log-ratio-of-means");
    expect(table.rows[0]).toMatchObject({ width: "not told", level: "not told" });
    expect(table.notes.join(" ")).toContain("Width after short length: not told, 1 study with");
  });
});
