import { describe, expect, test } from "vitest";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import type { EffectsOptions } from "../../src/effects/effects-options.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { expectRelative } from "./agreement.js";
import { bothTimes, rowOf } from "./outcome-row.js";

/** A trial whose trained arm and control print a correlation each, as far as they do. */
const trial = (number: number, trained?: number, control?: number): readonly OutcomeRow[] => {
  const arm = (line: number, id: string, fields: Partial<OutcomeRow>, printed?: number) =>
    rowOf({
      line,
      study: `Invented ${number}`,
      arm: id,
      ...fields,
      ...(printed !== undefined && { prePostCorrelation: printed }),
    });
  return [
    arm(10 * number, "trained", bothTimes([150, 30], [180, 34], 13), trained),
    arm(
      10 * number + 1,
      "control",
      { armKind: "no exercise", ...bothTimes([150, 30], [151, 30], 13) },
      control,
    ),
  ];
};
const printed = [trial(1, 0.91, 0.98), trial(2, 0.9, 0.985), trial(3, 0.92, 0.975)];
const asking = trial(4);
/** The average on Fisher's z scale of studies that weigh the same. */
const pooled = (...values: readonly number[]) =>
  Math.tanh(values.reduce((sum, value) => sum + Math.atanh(value), 0) / values.length);

const within = (rows: readonly OutcomeRow[], kind: "isometric" | "no exercise", more = {}) => {
  const options: EffectsOptions = { armKinds: [kind], ...more };
  const set = effectsFromRows(rows, options);
  const effect = set.effects.find((one) => one.study === "Invented 4");
  expect(effect).toBeDefined();
  return { effect: effect!, assumptions: set.assumptions };
};

describe("a borrowed pre–post correlation", () => {
  test("comes from the row's own kind of arm where each kind has three lending studies", () => {
    const rows = [...printed.flat(), ...asking];
    const trained = within(rows, "isometric");
    expectRelative(trained.effect.prePostCorrelation!, pooled(0.91, 0.9, 0.92), 1e-12);
    expect(trained.effect.prePostCorrelation).toBeCloseTo(0.91, 2);
    const control = within(rows, "no exercise");
    expectRelative(control.effect.prePostCorrelation!, pooled(0.98, 0.985, 0.975), 1e-12);
    expect(control.effect.prePostCorrelation).toBeCloseTo(0.98, 2);
  });

  test("and the assumption's line names the kind, one line for each", () => {
    const rows = [...printed.flat(), ...asking];
    const { assumptions } = effectsFromRows(rows, { contrast: "against-control" });
    const lines = assumptions.map(({ name, value, source, effects }) => [
      name,
      value.toFixed(2),
      /studies of the file, ([^,]+),/.exec(source)?.[1],
      effects,
    ]);
    expect(lines).toEqual([
      [
        "pre–post correlation of strength outcomes, control arms",
        "0.98",
        "their control arms only",
        1,
      ],
      [
        "pre–post correlation of strength outcomes, trained arms",
        "0.91",
        "their trained arms only",
        1,
      ],
    ]);
  });

  test("mixed, the trained arm's variance comes out far too small; apart it does not", () => {
    const rows = [...printed.flat(), ...asking];
    const apart = within(rows, "isometric").effect;
    const mixed = within(rows, "isometric", { studiesNeededToBorrowApart: 4 }).effect;
    expect(mixed.prePostCorrelation).toBeGreaterThan(0.95);
    expect(apart.variance / mixed.variance).toBeGreaterThan(1.8);
  });

  // One kind lends from two studies only, so the two are taken together, each study averaged first.
  test("comes from both kinds together where one of them has fewer than three, and says so", () => {
    const rows = [...printed.slice(0, 2).flat(), ...trial(3, 0.92), ...asking];
    const { effect, assumptions } = within(rows, "isometric");
    // Two arms of ten and ten (people less three) in the first two studies, one in the third.
    const z = [pooled(0.91, 0.98), pooled(0.9, 0.985), 0.92].map(Math.atanh);
    const average = (20 * z[0]! + 20 * z[1]! + 10 * z[2]!) / 50;
    expectRelative(effect.prePostCorrelation!, Math.tanh(average), 1e-12);
    expect(assumptions[0]?.name).toBe("pre–post correlation of strength outcomes");
    expect(assumptions[0]?.source).toContain("trained and control arms together");
  });

  test("never counts the row's own cohort among the three", () => {
    const rows = [
      ...printed.flat(),
      rowOf({ ...asking[0]!, line: 90, arm: "second", cohort: "Invented 1" }),
    ];
    const set = effectsFromRows(rows);
    const second = set.effects.find(({ arm }) => arm === "second");
    // Two other studies lend, both kinds together: (0.9, 0.985) and (0.92, 0.975).
    expectRelative(second!.prePostCorrelation!, pooled(0.9, 0.985, 0.92, 0.975), 1e-12);
  });

  test("an untrained side borrows as a control does", () => {
    const side = { ...asking[0]!, testSide: "untrained" as const };
    const { effect } = within([...printed.flat(), side], "isometric", { testSides: ["untrained"] });
    expectRelative(effect.prePostCorrelation!, pooled(0.98, 0.985, 0.975), 1e-12);
  });

  const lender = (number: number, value: number, nEnd: number, more: Partial<OutcomeRow> = {}) =>
    rowOf({
      line: 10 * number,
      study: `Invented ${number}`,
      ...bothTimes([150, 30], [180, 34], nEnd),
      prePostCorrelation: value,
      ...more,
    });

  test("weighs studies by their people less three", () => {
    const { effect } = within([lender(1, 0.9, 13), lender(2, 0.6, 33), asking[0]!], "isometric");
    const z = (10 * Math.atanh(0.9) + 30 * Math.atanh(0.6)) / 40;
    expectRelative(effect.prePostCorrelation!, Math.tanh(z), 1e-12);
  });

  test("hears a study that prints many outcomes of the same people once", () => {
    const many = Array.from({ length: 9 }, (_, i) =>
      lender(1, 0.9, 13, { line: 100 + i, outcome: `torque ${i}` }),
    );
    const { effect } = within([...many, lender(2, 0.6, 33), asking[0]!], "isometric");
    const z = (10 * Math.atanh(0.9) + 30 * Math.atanh(0.6)) / 40;
    expectRelative(effect.prePostCorrelation!, Math.tanh(z), 1e-12);
  });

  test("is none where only three people or a correlation of 1 would lend it", () => {
    const rows = [lender(1, 0.9, 3), lender(2, 1, 30), asking[0]!];
    expect(within(rows, "isometric").effect.correlationSource).toBe("documented default");
  });
});
