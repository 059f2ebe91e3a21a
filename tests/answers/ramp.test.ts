/** Kind of evidence: identities between what is said, tabled, drawn, printed and handed on. */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { ramp } from "../../src/answers/ramp.js";
import { expectPlain, whole } from "./last-yard.js";

const text = "4 x 20 s at 70%, rest 60 s, 3/week, long, knee";
const planned = async (options: Readonly<Record<string, unknown>> = {}) =>
  ask("ramp", { protocol: text, from: "deconditioned", weeks: 40, ...options });

describe("a plan", () => {
  test("every week is the same in table, figure, sheet and data", async () => {
    const answer = await planned();
    const weeks = answer.data.weeks!;
    expect(weeks).toHaveLength(40);
    const { rows } = answer.tables.find(({ id }) => id === "ramp")!;
    expect(rows.map(({ week, session, long, grade }) => [week, session, long, grade])).toEqual(
      weeks.map(({ week, written, long, grade }) => [
        String(week),
        written,
        long?.written ?? "",
        grade,
      ]),
    );
    // To spare: a typical person, and in brackets who tires early first.
    for (const { smallestReservePercent: spare } of weeks) {
      expect(spare.low).toBeLessThan(spare.central);
      expect(spare.central).toBeLessThan(spare.high);
    }
    expect(rows.map(({ reserve }) => reserve)).toEqual(
      weeks.map(
        ({ smallestReservePercent: { low, central, high } }) =>
          `${whole(central)} (${whole(low)} to ${whole(high)})`,
      ),
    );
    expect(rows.map(({ work }) => Number(work!.replace(",", "")))).toEqual(
      weeks.map(({ torqueTimePerWeek }) => Math.round(torqueTimePerWeek)),
    );
    expect(answer.figures).toMatchObject([{ name: "ramp", data: { id: "ramp", weeks } }]);
    const [sheet] = answer.sheets;
    expect(sheet!.name).toBe("sheet.html");
    expect(sheet!.html.match(/<th scope="rowgroup"/g)).toHaveLength(40);
    expectPlain(answer, ramp);
  });

  test("the headline names both ends, the fewest weeks and those that are hard", async () => {
    const { headline, data } = await planned();
    const weeks = data.weeks!;
    const hard = weeks.filter(({ grade }) => grade === "hard").map(({ week }) => week);
    // What the start shares with the end is said once, with the end.
    expect(weeks[0]!.written).toBe("2 × 10 s at 40%, rest 60 s, 3/week, middle, knee");
    expect(headline).toContain(
      `From 2 × 10 s at 40%, middle to ${weeks.at(-1)!.written} in 40 weeks`,
    );
    expect(headline).toContain(`(${data.shortestWeeks} at least)`);
    expect(data.shortestWeeks).toBeLessThan(40);
    expect(hard).toEqual([30, 31, 32, 33, 34, 35, 36, 37, 38, 39, 40]);
    expect(headline).toContain("hard by the model in weeks 30 to 40.");
  });

  test("where the person is, the weeks and the joint reach the plan", async () => {
    const first = async (options: Readonly<Record<string, unknown>>) =>
      (await planned(options)).data.weeks![0]!;
    const usual = await first({});
    expect((await first({ from: "trained" })).written).not.toBe(usual.written);
    const jointless = "4 x 20 s at 70%, rest 60 s, 3/week, long";
    expect(
      (await first({ protocol: jointless, joint: "ankle" })).smallestReservePercent.central,
    ).not.toBe(usual.smallestReservePercent.central);
  });
});

describe("what does not fit, in words", () => {
  test("too few weeks: the plan ends at what fits and says how many weeks the target needs", async () => {
    const { headline, data } = await planned({ weeks: 6 });
    expect(data.arrives).toBe(false);
    expect(headline).toMatch(
      /^4 × 20 s at 70%.*long, knee needs \d+ weeks by these rules\. In 6 weeks the plan comes from .*, in turns with .*long/,
    );
    expect(headline).toContain(`needs ${data.shortestWeeks} weeks by these rules`);
    expect((await planned({ weeks: data.shortestWeeks! })).data.arrives).toBe(true);
  });

  test("a target most will not finish gives way to the nearest that they do", async () => {
    const { headline, data } = await planned({
      protocol: "4 x 30 s at 75%, rest 15 s, knee",
      from: "trained",
    });
    expect(headline).toMatch(
      /^Most will not finish 4 × 30 s at 75%, rest 15 s, knee \(.*run out.*\), so the plan works up to the nearest/,
    );
    expect(data.refusal).toBeNull();
  });

  test("what cannot be checked is asked for", async () => {
    const answer = await planned({ protocol: "20 x 6 s at 70%" });
    expect(answer.headline).toMatch(
      /^No plan: no week can be checked without rest between holds; for example /,
    );
    expect(answer.data.refusal?.code).toBe("missing-field");
    expect(answer.data.weeks).toBe(undefined);
    expect([answer.figures, answer.sheets]).toEqual([[], []]);
    expect(answer.cautions?.form).toBe("full");
    expectPlain(answer, ramp);
    expect((await planned({ from: "2 x 10 s" })).headline).toContain("an intensity of the start");
  });
});

describe("a client's own start and limits", () => {
  test("a start is a word or a session; a word that is neither is asked about", async () => {
    const { data } = await planned({ from: "2 x 10 s at 30%, middle" });
    expect(data.weeks![0]!.written).toBe("2 × 10 s at 30%, rest 60 s, 3/week, middle, knee");
    await expect(planned({ from: "traind" })).rejects.toThrow(/did you mean trained\?/);
  });

  test("the greatest angle, its step, the pain to go on at and effort reach plan and sheet", async () => {
    const answer = await planned({
      protocol: "4 x 20 s at 70%, rest 60 s, 3/week, long, knee 100°",
      weeks: 60,
      greatestAngle: 80,
      angleStep: 20,
      holdBackAt: 2,
      byEffort: true,
    });
    const angles = answer.data.weeks!.flatMap(
      ({ long }) => long?.prescription.trainingAngleDegrees ?? [],
    );
    expect([...new Set(angles)]).toEqual([80]);
    expect(answer.data.notes!.map(({ code }) => code)).toContain("angle-limited");
    expect(answer.sheets[0]!.html).toContain("Up to 2: go on");
    expect(answer.sheets[0]!.html).not.toContain("% of your best");
  });
});
