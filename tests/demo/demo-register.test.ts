import { describe, expect, it } from "vitest";
import { demoRegister, demoRegisterDefaults } from "../../src/demo/demo-register.js";
import { CallError } from "../../src/errors.js";
import { columnOf, fieldNames } from "../../src/records/codebook.js";

const register = demoRegister();
const { rows, rowTruths } = register;
const armsOf = (study: string) => [
  ...new Set(rows.filter((row) => row.study === study).map((row) => row.arm)),
];
const has = (test: (row: Readonly<Record<string, string>>) => boolean) => rows.some(test);

describe("invented register", () => {
  it("has about thirty papers and a hundred arms, and a truth beside every row", () => {
    expect(new Set(rows.map((row) => row.study)).size).toBe(31);
    const arms = new Set(rows.map((row) => `${row.study}|${row.arm}`)).size;
    expect(arms).toBeGreaterThanOrEqual(90);
    expect(arms).toBeLessThanOrEqual(110);
    expect(rowTruths.length).toBe(rows.length);
    rows.forEach((row, index) => {
      expect(rowTruths[index]).toMatchObject({
        study: row.study,
        arm: row.arm,
        family: row.outcome_family,
        weeks: Number(row.week_measured),
      });
    });
  });

  it("says on every row that it is invented", () => {
    for (const row of rows) {
      expect(row.study).toMatch(/^Invented \d\d$/);
      expect(row.citation).toBe("Invented for demonstration");
      expect(row.notes).toMatch(/^Invented: no such trial/);
    }
  });

  it("fills only columns of the codebook", () => {
    const known = new Set(fieldNames.map(columnOf));
    for (const row of rows)
      for (const column of Object.keys(row)) expect(known, column).toContain(column);
  });

  it("is the same for the same seed and another for another seed", () => {
    expect(demoRegister({ ...demoRegisterDefaults })).toEqual(register);
    expect(demoRegister({ seed: 2 }).rows).not.toEqual(rows);
  });

  it("keeps its first papers when it grows", () => {
    const long = demoRegister({ studies: 45 });
    expect(long.rows.slice(0, rows.length)).toEqual(rows);
    expect(new Set(long.rows.map((row) => row.study)).size).toBe(45);
  });

  it("holds the faults of real files", () => {
    const forms = new Set(rows.map((row) => row.statistic));
    expect(forms.size).toBe(10);
    expect(has((row) => row.spread_kind === "standard error")).toBe(true);
    expect(has((row) => row.pre_spread === "not reported")).toBe(true);
    expect(has((row) => row.rest_between_sets_seconds === "not reported")).toBe(true);
    expect(has((row) => (row.intensity_percent_high ?? "") !== "")).toBe(true);
    expect(has((row) => row.angle_convention === "full extension is 180")).toBe(true);
    expect(has((row) => row.higher_is === "worse")).toBe(true);
    expect(has((row) => row.muscle_length === "" && row.arm_kind === "isometric")).toBe(true);
    const angles = new Set(
      rows.filter((row) => row.study === "Invented 04").map((row) => row.test_angle_degrees),
    );
    expect(angles.size).toBeGreaterThanOrEqual(6);
    const weeks = new Set(
      rows.filter((row) => row.study === "Invented 05").map((row) => row.week_measured),
    );
    expect(weeks).toEqual(new Set(["4", "8", "12"]));
    expect(armsOf("Invented 01").length).toBe(4);
  });

  it("has trials that hold tension time equal and change the hold", () => {
    const equal = ["Invented 02", "Invented 03", "Invented 16", "Invented 19", "Invented 26"];
    for (const study of equal) {
      const trained = rows.filter((row) => row.study === study && row.arm_kind === "isometric");
      const tension = trained.map(
        (row) => Number(row.hold_seconds) * Number(row.repetitions) * Number(row.sets),
      );
      expect(new Set(tension).size).toBe(1);
      expect(new Set(trained.map((row) => row.hold_seconds)).size).toBeGreaterThan(1);
    }
  });

  it("prints the same numbers in two papers on the same people", () => {
    for (const [first, second] of [
      ["Invented 09", "Invented 10"],
      ["Invented 21", "Invented 22"],
    ]) {
      const numbers = (study: string | undefined) =>
        rows
          .filter((row) => row.study === study && row.outcome_family === "strength")
          .map((row) => [row.arm, row.test_angle_degrees, row.pre_mean, row.post_mean]);
      expect(numbers(second)).toEqual(numbers(first));
    }
    const cohorts = (study: string) =>
      new Set(rows.filter((row) => row.study === study).map((row) => row.cohort));
    expect(cohorts("Invented 09")).toEqual(cohorts("Invented 10"));
    expect([...cohorts("Invented 21"), ...cohorts("Invented 22")]).toEqual(["", ""]);
  });

  it("gives the limbs of one person the same number of people", () => {
    const limbs = rows.filter((row) => row.study === "Invented 03");
    expect(limbs[0]?.design).toBe("within-person limbs");
    expect(new Set(limbs.map((row) => row.n_end)).size).toBe(1);
  });

  it.each([0, 2.5, 1000, Number.NaN])("refuses %s studies", (studies) => {
    expect(() => demoRegister({ studies })).toThrow(CallError);
  });
});
