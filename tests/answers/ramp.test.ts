/** Kind of evidence: identities between what is said, tabled, drawn, printed and handed on. */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { ramp } from "../../src/answers/ramp.js";
import { expectPlain, whole } from "./last-yard.js";

const text = "4 x 20 s at 70%, rest 60 s, 3/week, long, knee";
const planned = async (options: Readonly<Record<string, unknown>> = {}) =>
  ask("ramp", { protocol: text, from: "deconditioned", weeks: 12, ...options });

describe("a plan", () => {
  test("every week is the same in table, figure, sheet and data", async () => {
    const answer = await planned();
    const weeks = answer.data.weeks!;
    expect(weeks).toHaveLength(12);
    const { rows } = answer.tables.find(({ id }) => id === "ramp")!;
    expect(rows.map(({ week, session, grade }) => [week, session, grade])).toEqual(
      weeks.map(({ week, written, grade }) => [String(week), written, grade]),
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
    expect(rows.map(({ tension }) => Number(tension))).toEqual(
      weeks.map(({ tensionTimeSeconds }) => tensionTimeSeconds),
    );
    expect(answer.figures).toMatchObject([{ name: "ramp", data: { id: "ramp", weeks } }]);
    const [sheet] = answer.sheets;
    expect(sheet!.name).toBe("sheet.html");
    expect(sheet!.html.match(/<tr><th scope="row">/g)).toHaveLength(12);
    expectPlain(answer, ramp);
  });

  test("the headline names both ends, the fewest weeks and those that are hard", async () => {
    const { headline, data } = await planned();
    const weeks = data.weeks!;
    const hard = weeks.filter(({ grade }) => grade === "hard").map(({ week }) => week);
    expect(headline).toContain(`From ${weeks[0]!.written} to ${weeks.at(-1)!.written} in 12 weeks`);
    expect(headline).toContain(`(${data.shortestWeeks} at least)`);
    expect(data.shortestWeeks).toBeLessThan(12);
    expect(headline).toContain(hard.length === 0 ? "no week is hard" : `${hard.join(", ")}.`);
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

describe("no plan, in words", () => {
  test.each([
    [{ weeks: 2 }, "too-few-weeks", /^No plan: one change a week.*What would fit: /],
    [
      { protocol: "4 x 30 s at 75%, rest 15 s, knee", from: "trained" },
      "beyond-the-model",
      /^No plan: the target.*What would fit: /,
    ],
    [
      { protocol: "20 x 6 s at 70%" },
      "missing-field",
      /^No plan: no week can be checked without rest between holds; for example /,
    ],
  ] as const)("%j", async (options, code, headline) => {
    const answer = await planned(options);
    expect(answer.headline).toMatch(headline);
    expect(answer.data.refusal?.code).toBe(code);
    expect(answer.data.weeks).toBe(undefined);
    expect([answer.figures, answer.sheets]).toEqual([[], []]);
    expect(answer.cautions?.form).toBe("full");
    expectPlain(answer, ramp);
  });

  test("what would fit stands in the refusal's table, one thing a row", async () => {
    const answer = await planned({ weeks: 2 });
    const { wouldFit } = answer.data.refusal as unknown as { wouldFit: readonly string[] };
    expect(
      answer.tables
        .find(({ id }) => id === "ramp-refused")!
        .rows.map(({ fits }) => fits!.toLowerCase()),
    ).toEqual(wouldFit.map((words) => words.toLowerCase()));
  });
});
