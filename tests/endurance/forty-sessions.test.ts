/**
 * Kinds of evidence: forty sessions of five joints with their grades, kept so that a change of the model shows which verdicts
 * it turns; and the published curve by hand arithmetic, which no change may contradict.
 */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { canBeHeld } from "../../src/endurance/can-be-held.js";
import { parsePrescription } from "../../src/protocol/written-form.js";

const rows = readFileSync(new URL("forty-sessions.tsv", import.meta.url), "utf8")
  .trim()
  .split("\n")
  .slice(1)
  .map((line) => line.split("\t") as [string, string, string]);

const assessed = (session: string, joint: string) =>
  canBeHeld(parsePrescription(`${session}, ${joint}`), { samplesPerPart: 0 });

test("forty sessions, eight or so of each of five joints, and every grade among them", () => {
  expect(rows).toHaveLength(40);
  expect(new Set(rows.map(([, joint]) => joint)).size).toBe(5);
  expect(new Set(rows.map(([, , grade]) => grade))).toEqual(
    new Set([
      "to spare",
      "hard",
      "most will not finish",
      "not possible as written",
      "no grade: maximal",
      "no grade: over an hour",
    ]),
  );
});

test.each(rows)("%s, %s: %s", (session, joint, grade) => {
  const found = assessed(session, joint);
  expect(found.grade ?? `no grade: ${found.ungraded}`).toBe(grade);
});

/** Frey Law & Avin 2010: time = b0 × f^b1; a load that is held, 19 s of 41 s (Schaefer & Bittmann 2017). */
const curves: Readonly<Record<string, readonly [number, number]>> = {
  knee: [19.38, -1.88],
  elbow: [17.98, -2.21],
  shoulder: [14.86, -1.83],
  ankle: [34.71, -2.06],
  hand: [33.55, -1.61],
};

describe("a single hold fails a typical person where the published curve ends", () => {
  const single = rows.filter(
    ([session, , grade]) => session.startsWith("1 x ") && !grade.startsWith("no grade"),
  );
  test("there are thirteen of them", () => expect(single).toHaveLength(13));
  test.each(single)("%s, %s", (session, joint, grade) => {
    const [, seconds, percent] = /^1 x (\d+) s at ([\d.]+)%/.exec(session)!;
    const [b0, b1] = curves[joint]!;
    const lasts = b0 * (Number(percent) / 100) ** b1 * (session.endsWith("holding") ? 19 / 41 : 1);
    const fails = Number(seconds) > lasts;
    expect(["most will not finish", "not possible as written"].includes(grade)).toBe(fails);
    const { failsAt } = assessed(session, joint);
    if (fails) expect(Math.abs(failsAt!.secondsIntoHold / lasts - 1)).toBeLessThan(0.01);
    else expect(failsAt).toBeUndefined();
  });
});
