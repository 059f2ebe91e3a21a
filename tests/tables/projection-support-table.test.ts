/** Kinds of evidence: hand-made results, and identities with the projection room. */
import { describe, expect, test } from "vitest";
import { doseDistance, supportLimits, supportSteps } from "../../src/projection/support.js";
import { projectProtocol } from "../../src/projection/project-protocol.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { projectionAnswer, projectionRefusalAnswer } from "../../src/tables/projection-table.js";
import {
  predictorsTable,
  priorsTable,
  projectionModelSentence,
} from "../../src/tables/projection-basis-table.js";
import { noteLines } from "../../src/tables/note-lines.js";
import {
  nearestTable,
  stepNote,
  supportSentences,
} from "../../src/tables/projection-support-table.js";
import { longHolds, projected, readySize } from "./sample-projection.js";

const ready = readySize();
const projection = projected(ready, longHolds);

describe("support", () => {
  test("the note on steps says the steps of the projection room", () => {
    expect(stepNote).toContain(`${supportSteps.effortPercent} points of intensity`);
    expect(supportSteps.weeks).toBe(4);
    expect(stepNote).toContain("four weeks");
    // One doubling of the hold at equal tension time is one step.
    expect(
      doseDistance(
        { holdSeconds: 5, tensionTimeSeconds: 60, effortPercent: 70 },
        { holdSeconds: 10, tensionTimeSeconds: 60, effortPercent: 70 },
      ),
    ).toBe(1);
    expect(supportSentences(projection)[1]).toContain("within two steps");
    expect(supportLimits.near).toBe(2);
  });

  test("extrapolation is called first and by its reasons", () => {
    const far = projected(ready, "4 x 30 s at 60%, rest 90 s, 3/week, 20 weeks, long, knee");
    expect(far.support.extrapolates).toBe(true);
    const [first] = supportSentences(far);
    expect(first).toMatch(/^EXTRAPOLATION: .*20 weeks/);
    expect(projectionAnswer(far, ready)).toContain("extrapolation");
  });

  test("one arm and one person are singular", () => {
    const support = { ...projection.support, nearArms: 1, nearStudies: 1, nearPeople: 1 };
    const [, words] = supportSentences({ ...projection, support });
    expect(words).toBe("1 arm of 1 study with 1 person lies within two steps of this protocol.");
  });

  test("the nearest arms come with citation, lines and distance", () => {
    const table = nearestTable(projection.support.nearest);
    expect(table.rows).toHaveLength(projection.support.nearest.length);
    projection.support.nearest.forEach((row, index) => {
      expect(table.rows[index]?.["citation"]).toContain(row.citation);
      expect(table.rows[index]?.["lines"]).toBe(row.lines.join(", "));
      expect(Number(table.rows[index]?.["exactDistance"])).toBe(row.distance);
    });
  });
});

describe("a refusal", () => {
  const far = projectProtocol(
    ready,
    parsePrescription("1 x 1 s at 10%, 7/week, 60 weeks, short, neck"),
  );

  test("names the nearest protocol that has support", () => {
    if (far.kind !== "refusal") throw new Error("not refused");
    const words = projectionRefusalAnswer(far);
    expect(words).toMatch(/^Nothing is projected for size: /);
    expect(words).toContain(far.nearest?.study ?? "?");
    expect(words.split(far.nearest?.study ?? "?")).toHaveLength(2);
  });

  test("says what would help, where something would", () => {
    if (far.kind !== "refusal") throw new Error("not refused");
    const { nearest: _nearest, ...bare } = far;
    expect(
      projectionRefusalAnswer({ ...bare, reason: "it does not say intensity", try: "give it" }),
    ).toBe("Nothing is projected for size: it does not say intensity; give it.");
  });

  test("adds the nearest where the reason does not name it", () => {
    if (far.kind !== "refusal") throw new Error("not refused");
    const words = projectionRefusalAnswer({ ...far, reason: "too far" });
    expect(words).toContain(`of ${far.nearest?.study ?? "?"}`);
  });
});

describe("what it rests on", () => {
  test("predictors left out stand with their reason and a warning that the answer does not move with them", () => {
    const table = predictorsTable(ready);
    for (const { label, reason } of ready.design.dropped)
      expect(table.rows).toContainEqual(
        expect.objectContaining({ label, studied: "left out", definition: reason }),
      );
    expect(ready.design.dropped.length).toBeGreaterThan(0);
    expect(table.notes.join(" ")).toContain("does not move");
    expect(table.rows).toHaveLength(ready.design.predictors.length + ready.design.dropped.length);
  });

  test("every prior is printed", () => {
    expect(priorsTable(ready).rows).toEqual(ready.priorWords);
  });

  test("the model says its amount of data, and doubts about the file are kept", () => {
    const sentence = projectionModelSentence(ready);
    for (const number of [ready.effects, ready.studies, ready.people])
      expect(sentence).toContain(String(number));
    expect(noteLines(ready.notes).join(" ")).toContain("5 studies");
  });
});
