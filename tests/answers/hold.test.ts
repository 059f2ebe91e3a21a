/** Kinds of evidence: hand arithmetic on a session's doses; identities between words, tables, figures and data. */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { hold, type HoldData } from "../../src/answers/hold.js";
import { expectPlain, whole } from "./last-yard.js";

const text = "4 x 20 s at 70%, rest 60 s, 3/week, 8 weeks, knee";
const held = async (protocol = text, options: Readonly<Record<string, unknown>> = {}) =>
  ask("hold", { protocol, ...options });
const assessmentOf = ({ data }: Readonly<{ data: HoldData }>) => {
  if (data.assessment === null) throw new Error("not judged");
  return data.assessment;
};

describe("a session", () => {
  test("its doses: four of 30 s with three rests of 60 s, three times a week for eight weeks", async () => {
    const answer = await held();
    expect(answer.data.doses).toEqual({
      holdsPerSession: 4,
      holdsPerWeek: 12,
      effortPercent: 70,
      tensionTimePerSetSeconds: 120,
      tensionTimePerSessionSeconds: 120,
      tensionTimePerWeekSeconds: 360,
      tensionTimeProgrammeSeconds: 2880,
      torqueTimePerSession: 8400,
      sessionLengthSeconds: 300,
      // 30 of every 90 s.
      dutyCycle: 1 / 3,
    });
    const value = new Map(
      answer.tables
        .find(({ id }) => id === "dose")!
        .rows.map((row) => [row["quantity"], row["value"]] as const),
    );
    expect(value.get("Tension time in a session")).toBe("2 min");
    expect(value.get("Tension time in the programme")).toBe("48 min");
    expect(value.get("Torque–time in a session")).toBe("8,400 %·s");
    expect(value.get("Length of a session")).toBe("5 min");
    expect(value.get("Holds in a week")).toBe("12");
  });

  test("the answer leads, and the end of every hold has its own digits in table, figure and data", async () => {
    const answer = await held();
    const assessment = assessmentOf(answer);
    expect(answer.headline).toBe(answer.data.answer);
    expect(answer.headline.toLowerCase().startsWith(`${assessment.grade}:`)).toBe(true);
    expect(answer.headline).toContain(
      `a typical person runs out in hold ${assessment.failsAt!.repetition}, ${assessment.failsAt!.secondsIntoHold.toFixed(1)} s into it`,
    );
    expect(answer.headline).toContain(
      `those who tire early run out in hold ${assessment.failsAtLow!.repetition}, ${assessment.failsAtLow!.secondsIntoHold.toFixed(1)} s`,
    );
    const { rows } = answer.tables.find(({ id }) => id === "remaining-capacity")!;
    // Holds end at 30, 120, 210 and 300 s.
    const ends = [30, 120, 210, 300].map((end) =>
      assessment.capacity.find(({ seconds }) => Math.abs(seconds - end) < 1e-6)!,
    );
    for (const { low, central, high } of ends) {
      expect(low).toBeLessThan(central);
      expect(central).toBeLessThan(high);
    }
    expect(rows.map((row) => [row["ends"], row["left"], row["band"], row["reserve"]])).toEqual(
      ends.map(({ seconds, low, central, high }) => [
        String(seconds),
        whole(central),
        `${whole(low)} to ${whole(high)}`,
        whole(central - 70),
      ]),
    );
    const figure = answer.figures.find(({ name }) => name === "remaining-capacity");
    expect(figure!.data).toMatchObject({ assessment: { capacity: assessment.capacity } });
    expect(answer.figures.map(({ data }) => data.id)).toEqual(["hold-strip", "remaining-capacity"]);
    expectPlain(answer, hold);
  });

  test("what would fit: comfortable and near the limit keep their columns", async () => {
    const answer = await held();
    const { comfortable, nearTheLimit } = answer.data.whatWouldFit!;
    const { rows } = answer.tables.find(({ id }) => id === "what-would-fit")!;
    const seconds = (fit: typeof comfortable.longestHoldSeconds): string =>
      fit.kind === "limit" ? `${Number(fit.value.toFixed(1))} s` : fit.kind;
    expect(rows[0]).toMatchObject({
      change: "Longest hold",
      written: "30 s",
      comfortable: seconds(comfortable.longestHoldSeconds),
      near: seconds(nearTheLimit.longestHoldSeconds),
    });
    expect(seconds(comfortable.longestHoldSeconds)).not.toBe(
      seconds(nearTheLimit.longestHoldSeconds),
    );
  });

  test("joint and rates reach the judgement", async () => {
    const bare = "4 x 20 s at 70%, rest 60 s";
    const reserve = async (options: Readonly<Record<string, unknown>>) =>
      assessmentOf(await held(bare, options)).smallestReservePercent.central;
    const usual = await reserve({});
    expect(await reserve({ joint: "ankle" })).not.toBe(usual);
    expect(await reserve({ joint: "knee", rates: "alternative" })).not.toBe(
      await reserve({ joint: "knee" }),
    );
  });

  test("a hold that lasts for ever is said in words and is no infinity in data", async () => {
    const light = await held("1 x 30 s at 3%, knee");
    expect(assessmentOf(light)).toMatchObject({
      oneHoldLastsForEver: true,
      oneHoldModelSeconds: null,
    });
    expect(assessmentOf(await held()).oneHoldLastsForEver).toBe(false);
    expectPlain(light, hold);
  });

  test("a maximal effort has no load to fail at, and nothing is searched for", async () => {
    const maximal = await held("3 x 5 s at 100%, rest 60 s, knee");
    expect(maximal.headline).toContain("a maximal effort has no load to fail at");
    expect(maximal.data.whatWouldFit).toBe(null);
    expectPlain(maximal, hold);
  });
});

test("without rests the doses stand, and what is missing is asked for", async () => {
  const answer = await held("4 x 30 s, 3/week");
  expect(answer.headline).toBe(
    "Whether it can be held cannot be said without rest between holds and intensity; for example 4 × 20 s at 70%, rest 60 s.",
  );
  expect(answer.data).toMatchObject({
    refusal: { code: "missing-field" },
    needs: ["restBetweenRepetitionsSeconds", "intensityPercent"],
    answer: null,
    assessment: null,
    doses: { tensionTimePerSessionSeconds: 120, sessionLengthSeconds: null },
  });
  expect(answer.figures).toEqual([]);
  expect(answer.cautions?.form).toBe("full");
  expectPlain(answer, hold);
});
