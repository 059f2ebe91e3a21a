import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import { equaliseProtocols } from "../../src/projection/equalise-protocols.js";
import { parsePrescription } from "../../src/protocol/written-form.js";

const of = (...texts: readonly string[]) => texts.map(parsePrescription);

describe("against hand arithmetic", () => {
  test("tension time by repetitions: 4 × 30 s = 120 s is twenty holds of 6 s", () => {
    const { protocols, target, unit } = equaliseProtocols(of("4 x 30 s at 70%", "8 x 6 s at 90%"), {
      quantity: "tension time",
    });
    expect([target, unit]).toEqual([120, "s"]);
    expect(protocols[1]!.after.sets * protocols[1]!.after.repetitions).toBe(20);
    expect(protocols[1]).toMatchObject({ valueBefore: 48, value: 120 });
    expect(protocols[0]!.after).toBe(protocols[0]!.before);
  });

  test("tension time by holds: 120 s over 4 × 5 holds is 6 s each", () => {
    const [, second] = equaliseProtocols(of("4 x 30 s at 70%", "4 x 5 x 2 s at 90%"), {
      quantity: "tension time",
      adjust: "holdSeconds",
    }).protocols;
    expect(second!.after).toMatchObject({ sets: 4, repetitions: 5, holdSeconds: 6 });
    expect(second!.written).toContain("6 s");
  });

  test("tension time by sets comes as near as whole sets allow", () => {
    // sets of 5 × 5 s are 25 s: five make 125 s, four 100 s; 120 s is nearer to five
    const [, second] = equaliseProtocols(of("4 x 30 s at 70%", "2 x 5 x 5 s at 90%"), {
      quantity: "tension time",
      adjust: "sets",
    }).protocols;
    expect(second).toMatchObject({ after: { sets: 5 }, valueBefore: 50, value: 125 });
  });

  test("session length by repetitions: rests count", () => {
    // 4 × 30 s with 3 rests of 60 s = 300 s; n holds of 10 s with n − 1 rests of 20 s = 30n − 20: n = 11 gives 310, 10.67 exact
    const [, second] = equaliseProtocols(
      of("4 x 30 s at 70%, rest 60 s", "3 x 10 s at 90%, rest 20 s"),
      { quantity: "session length" },
    ).protocols;
    expect(second!.after.sets * second!.after.repetitions).toBe(11);
    expect(second).toMatchObject({ valueBefore: 70, value: 310 });
  });

  test("session length by holds: 300 s less 2 rests of 20 s over 3 holds", () => {
    const [, second] = equaliseProtocols(
      of("4 x 30 s at 70%, rest 60 s", "3 x 10 s at 90%, rest 20 s"),
      { quantity: "session length", adjust: "holdSeconds" },
    ).protocols;
    expect(second!.after.holdSeconds).toBeCloseTo(260 / 3, 3);
    expect(second!.value).toBeCloseTo(300, 3);
  });

  test("torque–time: 4 × 30 s at 70% is 8,400 %MVC·s, ten holds at 84% are 10 s each", () => {
    const { protocols, target, unit } = equaliseProtocols(
      of("4 x 30 s at 70%", "10 x 5 s at 84%"),
      { quantity: "torque–time", adjust: "holdSeconds" },
    );
    expect(target).toBeCloseTo(8400, 9);
    expect(unit).toBe("%MVC·s");
    expect(protocols[1]!.after.holdSeconds).toBeCloseTo(10, 6);
  });
});

describe("what cannot be made equal", () => {
  const code = (work: () => unknown): string => {
    try {
      work();
    } catch (error) {
      if (error instanceof CallError) return error.code;
      throw error;
    }
    return "nothing was thrown";
  };
  test.each([
    ["missing-field", ["4 x 30 s at 70%", "3 x 10 s at 90%"], "session length"],
    ["missing-field", ["4 x 30 s", "3 x 10 s at 90%"], "torque–time"],
    ["no-protocols", [], "tension time"],
  ] as const)("%s", (expected, texts, quantity) => {
    expect(code(() => equaliseProtocols(of(...texts), { quantity }))).toBe(expected);
  });

  test("rests that alone are longer than the session", () => {
    expect(
      code(() =>
        equaliseProtocols(of("1 x 30 s at 70%, rest 60 s", "4 x 5 s at 90%, rest 60 s"), {
          quantity: "session length",
          adjust: "holdSeconds",
        }),
      ),
    ).toBe("cannot-equalise");
  });

  test("an unknown quantity", () => {
    expect(
      code(() => equaliseProtocols(of("4 x 30 s"), { quantity: "work" as "tension time" })),
    ).toBe("unknown-choice");
  });
});
