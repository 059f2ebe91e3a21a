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
  test("its doses: four of 20 s with three rests of 60 s, three times a week for eight weeks", async () => {
    const answer = await held();
    expect(answer.data.doses).toEqual({
      holdsPerSession: 4,
      holdsPerWeek: 12,
      effortPercent: 70,
      tensionTimePerSetSeconds: 80,
      tensionTimePerSessionSeconds: 80,
      tensionTimePerWeekSeconds: 240,
      tensionTimeProgrammeSeconds: 1920,
      torqueTimePerSession: 5600,
      sessionLengthSeconds: 260,
      // 20 of every 80 s.
      dutyCycle: 1 / 4,
    });
    const value = new Map(
      answer.tables
        .find(({ id }) => id === "dose")!
        .rows.map((row) => [row["quantity"], row["value"]] as const),
    );
    expect(value.get("Tension time in a session")).toBe("80 s");
    expect(value.get("Tension time in the programme")).toBe("32 min");
    expect(value.get("Torque–time in a session")).toBe("5,600 %·s");
    expect(value.get("Length of a session")).toBe("4 min 20 s");
    expect(value.get("Holds in a week")).toBe("12");
  });

  test("the answer leads, and the end of every hold has its own digits in table, figure and data", async () => {
    const answer = await held();
    const assessment = assessmentOf(answer);
    expect(answer.headline).toBe(answer.data.answer);
    expect(answer.headline.toLowerCase().startsWith(`${assessment.grade}:`)).toBe(true);
    expect(answer.headline).toContain(
      `a typical person finishes with ${whole(assessment.smallestReservePercent.central)} points`,
    );
    expect(answer.headline).toContain(
      `those who tire early, holding a load, run out in hold ${assessment.failsAtLow!.repetition}, ${assessment.failsAtLow!.secondsIntoHold.toFixed(1)} s`,
    );
    const { rows } = answer.tables.find(({ id }) => id === "remaining-capacity")!;
    // Holds end at 20, 100, 180 and 260 s.
    const ends = [20, 100, 180, 260].map((end) =>
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

  test("what would fit: to spare and hard keep their columns", async () => {
    const answer = await held();
    const { toSpare, hard } = answer.data.whatWouldFit!;
    const { rows } = answer.tables.find(({ id }) => id === "what-would-fit")!;
    const seconds = (fit: typeof toSpare.longestHoldSeconds): string =>
      fit.kind === "limit" ? `${Number(fit.value.toFixed(1))} s` : fit.kind;
    expect(rows[0]).toMatchObject({
      change: "Longest hold",
      written: "20 s",
      spare: seconds(toSpare.longestHoldSeconds),
      hard: seconds(hard.longestHoldSeconds),
    });
    expect(seconds(toSpare.longestHoldSeconds)).not.toBe(seconds(hard.longestHoldSeconds));
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

  test("scripts read grade, first failure, what is to spare, joint and action", async () => {
    const kept = (await held(`${text}, pushing`)).data;
    const { low, central, high } = kept.assessment!.smallestReservePercent;
    expect(kept).toMatchObject({
      grade: "hard",
      ungraded: null,
      firstFailure: null,
      sparePercentPoints: { low, middle: central, high },
      expectedForcePercent: null,
      joint: "knee",
      action: "pushing",
    });
    const failed = (await held("2 x (4 x 30 s) at 70%, rest 60 s, 90 s between sets, knee")).data;
    expect(failed).toMatchObject({
      grade: "most will not finish",
      firstFailure: { set: 1, hold: 3 },
      action: "not said",
    });
    expect(failed.firstFailure!.second).toBe(failed.assessment!.failsAt!.secondsIntoHold);
    const maximal = (await held("3 x 5 s at 96%, rest 60 s, elbow")).data;
    expect(maximal).toMatchObject({
      grade: null,
      ungraded: "maximal",
      firstFailure: null,
      sparePercentPoints: null,
      joint: "elbow",
    });
    const left = maximal.expectedForcePercent!;
    expect(left.low < left.middle && left.middle < left.high && left.high < 100).toBe(true);
    expect((await held("200 x 20 s at 5%, rest 10 s, knee")).data).toMatchObject({
      grade: null,
      ungraded: "over an hour",
      sparePercentPoints: null,
      expectedForcePercent: null,
      whatWouldFit: null,
    });
  });

  test("the answer says which sources it leans on, and what an action not said does", async () => {
    const [plain, pushed] = [await held(), await held(`${text}, pushing`)];
    expect(plain.sentences[1]).toBe(
      "Leans on endurance times of the knee (Frey Law & Avin 2010); recovery at rest as in Looft 2018; holding or pushing, as the action is not said, by Schaefer & Bittmann 2017.",
    );
    expect(pushed.sentences[1]).not.toContain("Schaefer");
    expect(plain.notes.map(({ code }) => code)).toContain("action-unknown");
  });

  test("a maximal effort has no load to fail at, and nothing is searched for", async () => {
    const maximal = await held("3 x 5 s at 100%, rest 60 s, knee");
    expect(maximal.headline).toMatch(
      /^Maximal, so no grade: .* expected to be \d+% of MVC \(\d+ to \d+%\)\.$/,
    );
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

describe("many sessions at once", () => {
  const file = [
    "# Tuesday",
    "threes: 4 x (10 x 3 s) at 75%, rest 2 s, 120 s between sets, pushing",
    "4 x 20 s at 70%, rest 60 s, knee",
    "",
    "bent: 4 x 30 bananas",
    "no rest: 4 x 30 s at 50%",
    "hip: 4 x 90 s at 75%, rest 15 s, hip",
    "top: 3 x 5 s, maximal, rest 60 s",
  ].join("\r\n");
  const many = (options: Readonly<Record<string, unknown>> = {}) =>
    ask("hold", { protocols: file, ...options });

  test("every line's fate is told, and one bad line costs no other", async () => {
    const answer = await many();
    const { rows } = answer.tables[0]!;
    expect(rows.map(({ line, name, action }) => [line, name, action])).toEqual([
      ["2", "threes", "pushing"],
      ["3", "4 x 20 s at 70%, rest 60 s, knee", "not said"],
      ["5", "bent", ""],
      ["6", "no rest", ""],
      ["7", "hip", "not said"],
      ["8", "top", "not said"],
    ]);
    const sessions = answer.data.sessions!;
    expect(sessions.map(({ grade }) => grade)).toEqual([
      "hard",
      "hard",
      null,
      null,
      "not possible as written",
      null,
    ]);
    expect(sessions[2]!.problem).toMatch(/^cannot be read: .*bananas/);
    expect(sessions[3]!.problem).toContain("without rest between holds");
    expect(sessions[5]!.ungraded).toBe("maximal");
    expect(answer.headline).toBe(
      "6 sessions: hard 2, not possible as written 1, maximal: no grade 1, cannot be judged 2.",
    );
    expect(answer.data.refusal).toBeNull();
    expectPlain(answer, hold);
  });

  test("a line alone is judged as it is by itself; a joint asked for reaches the lines that name none", async () => {
    const { grade, sparePercentPoints, firstFailure } = (
      await held("4 x (10 x 3 s) at 75%, rest 2 s, 120 s between sets, pushing, knee")
    ).data;
    const [threes, , , , hip] = (await many({ joint: "knee" })).data.sessions!;
    expect(threes).toMatchObject({ grade, sparePercentPoints, firstFailure, joint: "knee" });
    expect(hip!.problem).toBe("names the hip, and the knee is asked about");
  });

  test("a file without one session that can be judged is refused; neither or both is a call that cannot be", async () => {
    const none = await ask("hold", { protocols: "bananas" });
    expect(none.data.refusal?.code).toBe("missing-field");
    expect((await ask("hold", { protocols: "# nothing" })).headline).toContain("write one a line");
    await expect(ask("hold", {})).rejects.toThrow(/one session in quotation marks/);
    await expect(ask("hold", { protocol: text, protocols: file })).rejects.toThrow(/both/);
  });
});
