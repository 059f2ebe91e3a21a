/** Kinds of evidence: hand arithmetic, and agreement with the endurance room asked on its own. */
import { describe, expect, test } from "vitest";
import { canBeHeld } from "../../src/endurance/can-be-held.js";
import { whatWouldFit } from "../../src/endurance/what-would-fit.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import {
  holdAnswer,
  holdCapacityTable,
  holdDoseTable,
  holdFitTable,
} from "../../src/tables/hold-table.js";

const read = parsePrescription;
const dose = (text: string): Readonly<Record<string, string | undefined>> =>
  Object.fromEntries(
    holdDoseTable(read(text)).rows.map(({ quantity, value }) => [quantity, value]),
  );

describe("doses", () => {
  test("4 × 20 s at 70%, rest 60 s, 3/week, 12 weeks, by hand", () => {
    const table = dose("4 x 20 s at 70%, rest 60 s, 3/week, 12 weeks");
    // 4 × 20 = 80 s; × 3 = 240; × 12 = 2880 s = 48 min. 80 × 70 = 5600; 80 + 3 × 60 = 260 s; 20/80; 80/260.
    expect(table["Tension time in a session"]).toBe("80 s");
    expect(table["Tension time in a week"]).toBe("4 min");
    expect(table["Tension time in the programme"]).toBe("48 min");
    expect(table["Torque–time in a session"]).toBe("5,600 %·s");
    expect(table["Length of a session"]).toBe("4 min 20 s");
    expect(table["Duty cycle within a set"]).toBe("25%");
    expect(table["Share of the session under tension"]).toBe("31%");
    expect(table["Holds in a week"]).toBe("12");
  });

  test("what is not given is not made up", () => {
    const table = dose("4 x 30 s");
    expect(table["Intensity"]).toBe("not known without an intensity in percent of MVC");
    expect(table["Length of a session"]).toBe("not known without every rest");
    expect(table["Tension time in a week"]).toBe("not known without sessions a week");
    // Only what is missing is named.
    expect(dose("4 x 30 s, 3/week")["Tension time in the programme"]).toBe(
      "not known without weeks",
    );
    expect(dose("4 x 20 s at 70%, 12 weeks")["Torque–time in the programme"]).toBe(
      "not known without sessions a week",
    );
  });
});

describe("what is left", () => {
  test("a row for each hold, at its end, with the band round the middle", () => {
    const p = read("4 x 30 s at 50%, rest 60 s, knee");
    const assessment = canBeHeld(p);
    const table = holdCapacityTable(assessment, sessionTimeline(p));
    expect(table.rows.map(({ ends }) => ends)).toEqual(["30", "120", "210", "300"]);
    for (const row of table.rows) {
      const point = assessment.capacity.find(({ seconds }) => seconds === Number(row["ends"]));
      expect(row["left"]).toBe(String(Math.round(point?.central ?? NaN)));
      expect(Number(row["low"])).toBeLessThanOrEqual(point?.central ?? NaN);
      expect(Number(row["high"])).toBeGreaterThanOrEqual(point?.central ?? NaN);
    }
  });

  test("many holds are cut in the middle, and the table says so", () => {
    const p = read("40 x 3 s at 40%, rest 7.3 s, elbow");
    const table = holdCapacityTable(canBeHeld(p), sessionTimeline(p));
    expect(table.rows.map(({ hold }) => hold)).toEqual(
      [
        ...Array.from({ length: 10 }, (_, i) => i + 1),
        ...Array.from({ length: 10 }, (_, i) => i + 31),
      ].map(String),
    );
    expect(table.notes.join(" ")).toContain("of 40 holds");
  });
});

describe("the answer", () => {
  test("names who runs out and where, or what there is to spare", () => {
    const hard = canBeHeld(read("4 x 20 s at 70%, rest 60 s, knee"));
    expect(holdAnswer(hard)).toMatch(
      /^Hard: a typical person finishes with \d+ points of MVC to spare; those who tire early, holding a load, run out in hold 1/,
    );
    const most = canBeHeld(read("4 x 30 s at 70%, rest 60 s, knee, pushing"));
    expect(holdAnswer(most)).toMatch(
      /^Most will not finish: a typical person runs out in hold 3, 28\.3 s into it; .*; those who tire late keep it to the end\.$/,
    );
    const beyond = canBeHeld(read("4 x 90 s at 75%, rest 15 s, knee"));
    expect(holdAnswer(beyond)).toMatch(
      /^Not possible as written: even those who tire late run out in hold 1/,
    );
    const easy = canBeHeld(read("2 x 5 s at 20%, rest 60 s, knee"));
    expect(holdAnswer(easy)).toContain("points of MVC to spare");
    expect(holdAnswer(canBeHeld(read("3 x 3 s, maximal, rest 60 s")))).toContain(
      "so no grade: by the weakest hold force is expected to be",
    );
  });

  test("what would fit stands beside what is, and matches the endurance room", () => {
    const p = read("4 x 20 s at 70%, rest 60 s, knee");
    const [easy, near] = (["to spare", "hard"] as const).map((keep) => whatWouldFit(p, { keep }));
    if (easy === undefined || near === undefined) throw new Error("no answer");
    const [hold] = holdFitTable(p, easy, near).rows;
    expect(hold?.["written"]).toBe("20 s");
    const value = easy.longestHoldSeconds.kind === "limit" ? easy.longestHoldSeconds.value : NaN;
    expect(hold?.["spare"]).toBe(`${value} s`);
    expect(holdFitTable(p, easy, near).rows.map(({ change }) => change)).toHaveLength(3);
  });
});
