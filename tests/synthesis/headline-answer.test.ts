import { describe, expect, test } from "vitest";
import { studentTQuantile } from "../../src/numeric/student-t.js";
import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import { headlineAnswer } from "../../src/synthesis/headline-answer.js";
import type { MultilevelOptions } from "../../src/synthesis/multilevel-options.js";
import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";

const effects: readonly SynthesisEffect[] = [
  ["a", 0.1, 0.01, "bent"],
  ["a", 0.3, 0.02, "bent"],
  ["b", 0.5, 0.01, "straight"],
  ["c", 0.2, 0.03, "straight"],
  ["c", 0.4, 0.02, "straight"],
  ["d", 0.05, 0.01, "bent"],
  ["e", 0.25, 0.02, "straight"],
  ["e", 0.35, 0.015, "bent"],
].map(([study, estimate, variance, posture], place) => ({
  effectId: String(place),
  study: String(study),
  estimate: Number(estimate),
  variance: Number(variance),
  moderators: { weeks: place, posture: String(posture) },
}));

const headline = (options: MultilevelOptions = {}, rows = effects) =>
  headlineAnswer(fitMultilevel(rows, options));
const codes = ({ story }: ReturnType<typeof headline>) => story.notes.map(({ code }) => code);

test("an average: the robust interval, a range widened to match, the model's own beside it", () => {
  const model = fitMultilevel(effects);
  const shown = headline();
  const robust = model.robust!.average!;
  expect(shown.estimate).toBe(model.estimate);
  expect(shown.interval).toEqual(robust.interval);
  expect(shown.degreesOfFreedom).toBe(robust.degreesOfFreedom);
  expect(shown.coefficients).toEqual([]);
  // identity: estimate ± t √(SE² + Σθ), with the robust error and its degrees of freedom
  const spread = Object.values(model.varianceByLevel).reduce((sum, part) => sum + part, 0);
  const reach =
    studentTQuantile(0.975, robust.degreesOfFreedom) *
    Math.sqrt(robust.standardError ** 2 + spread);
  expect(shown.predictionInterval!.high).toBeCloseTo(model.estimate + reach, 12);
  expect(shown.predictionInterval!.low).toBeCloseTo(model.estimate - reach, 12);
  expect(shown.story.intervalMethod).toMatch(/cluster-robust standard errors.*bias-reduced/);
  const { standardError, interval, predictionInterval, degreesOfFreedom, p } = model;
  expect(shown.modelBased).toEqual({
    ...{ standardError, interval, predictionInterval, degreesOfFreedom, p },
    ...{ coefficients: [], omnibus: null, termTests: [] },
  });
  expect(shown.modelBased.interval).not.toEqual(shown.interval);
});

test("with moderators: average, coefficients and joint tests are the robust ones", () => {
  const options = { moderators: ["weeks", "posture"] };
  const model = fitMultilevel(effects, options);
  const shown = headline(options);
  const robust = model.robust!;
  expect(shown.coefficients).toEqual(robust.coefficients);
  expect(shown.coefficients.map(({ term }) => term)).toEqual([
    "intercept",
    "weeks",
    "posture: straight",
  ]);
  expect(shown.omnibus).toEqual(robust.omnibus);
  expect(shown.termTests).toEqual(robust.termTests);
  expect(shown.standardError).toBe(robust.average!.standardError);
  expect(shown.p).toBe(robust.average!.p);
  expect(shown.modelBased.coefficients).toEqual(model.coefficients);
  expect(shown.modelBased.omnibus).toEqual(model.omnibus);
  expect(shown.modelBased.termTests).toEqual(model.termTests);
  shown.coefficients.forEach(({ standardError, degreesOfFreedom }, j) => {
    expect(standardError).not.toBe(model.coefficients[j]!.standardError);
    expect(degreesOfFreedom).not.toBe(model.coefficients[j]!.degreesOfFreedom);
  });
});

test("identity: the weights times the effects make the estimate, with moderators too", () => {
  for (const moderators of [[], ["weeks"], ["weeks", "posture"]]) {
    const { weightsPercent, estimate } = headline({ moderators });
    expect(weightsPercent.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(100, 9);
    const made = effects.reduce((sum, row, i) => sum + row.estimate * weightsPercent[i]!, 0) / 100;
    expect(made).toBeCloseTo(estimate, 12);
  }
});

describe("what was asked for stands in front, and is said", () => {
  test.each([
    [{ robust: "none" }, /^as asked for: Student t with effects − coefficients/],
    [{ interval: "student-t" }, /^as asked for: Student t with effects − coefficients/],
    [{ interval: "normal" }, /^as asked for: normal/],
  ] as const)("%j: the model's own", (options, words) => {
    const shown = headline({ ...options, moderators: ["weeks"] });
    const { standardError, interval, predictionInterval, coefficients, omnibus } = shown.modelBased;
    expect(shown.standardError).toBe(standardError);
    expect(shown.interval).toEqual(interval);
    expect(shown.predictionInterval).toEqual(predictionInterval);
    expect(shown.coefficients).toEqual(coefficients);
    expect(shown.omnibus).toEqual(omnibus);
    expect(shown.story.intervalMethod).toMatch(words);
  });

  test("the simple correction", () => {
    const shown = headline({ robust: "simple" });
    expect(shown.degreesOfFreedom).toBe(4);
    expect(shown.interval).toEqual(shown.robust!.average!.interval);
    expect(shown.story.intervalMethod).toMatch(/^as asked for: .*simple correction/);
  });

  test("one degree of freedom fewer for the range of a further study, everywhere", () => {
    const [usual, fewer] = [headline(), headline({ predictionDegreesOfFreedom: "one-fewer" })];
    const spread = Object.values(usual.varianceByLevel).reduce((sum, part) => sum + part, 0);
    for (const [shown, wide] of [
      [fewer, usual],
      [fewer.modelBased, usual.modelBased],
    ] as const) {
      const half = (shown.predictionInterval!.high - shown.predictionInterval!.low) / 2;
      const t = studentTQuantile(0.975, shown.degreesOfFreedom - 1);
      expect(half).toBeCloseTo(t * Math.sqrt(shown.standardError ** 2 + spread), 10);
      expect(shown.interval).toEqual(wide.interval);
    }
    expect(fewer.story.assumptions.join()).toMatch(/one degree of freedom fewer .* as asked for/);
    expect(usual.story.assumptions.join()).not.toMatch(/asked for/);
  });
});

describe("what rests on one study has no robust error", () => {
  const levelOf = (study: string) =>
    study === "a" ? "alone" : study === "b" || study === "c" ? "bent" : "straight";
  const rows = effects.map((row) => ({ ...row, moderators: { posture: levelOf(row.study) } }));
  const options = { moderators: ["posture"], references: { posture: "bent" } };

  test.each(["simple", "bias-reduced-satterthwaite"] as const)("%s", (robust) => {
    const shown = headline({ ...options, robust }, rows);
    expect(shown.coefficients.map(({ term }) => term)).toEqual(["intercept", "posture: straight"]);
    for (const { interval, p } of shown.coefficients) {
      expect(interval.high).toBeGreaterThan(interval.low);
      expect(p).toBeGreaterThan(0);
    }
    expect([shown.omnibus, shown.termTests]).toEqual([null, []]);
    const note = shown.story.notes.find(({ code }) => code === "rests-on-one-study")!;
    expect(note.message).toMatch(/^posture: alone, average rest on a alone: one study cannot show/);
    expect(note.study).toBe("a");
    // the estimate mixes in the level of one study, so its interval is the model's, and that is said
    expect(shown.interval).toEqual(shown.modelBased.interval);
    expect(shown.story.intervalMethod).toMatch(/rests in part on one study alone/);
  });

  test("as the reference level it takes everything compared with it along", () => {
    for (const robust of ["simple", "bias-reduced-satterthwaite"] as const) {
      const shown = headline({ ...options, references: { posture: "alone" }, robust }, rows);
      expect(shown.robust).toBeNull();
      expect(codes(shown)).toEqual(expect.arrayContaining(["rests-on-one-study"]));
      expect(shown.coefficients).toEqual(shown.modelBased.coefficients);
      expect(shown.story.intervalMethod).toMatch(/too few studies carry cluster-robust/);
    }
  });

  test("a slope that one study alone can show, and so the intercept, rest on it", () => {
    const flat = effects.map((row) => ({
      ...row,
      moderators: { weeks: row.study === "c" ? Number(row.effectId) : 6 },
    }));
    const shown = headline({ moderators: ["weeks"] }, flat);
    expect(shown.robust).toBeNull();
    const note = shown.story.notes.find(({ code }) => code === "rests-on-one-study")!;
    expect(note.message).toMatch(/^intercept, weeks, average rest on c alone/);
  });

  test("studies that agree to the last digit give no interval without width", () => {
    const alike = effects.map((row) => ({ ...row, estimate: 0.3 }));
    for (const robust of ["simple", "bias-reduced-satterthwaite"] as const) {
      const shown = headline({ robust }, alike);
      expect(shown.robust).toBeNull();
      expect(shown.interval.high - shown.interval.low).toBeGreaterThan(0.1);
      expect(codes(shown)).toContain("robust-unavailable");
    }
  });

  test("one study: no robust errors, and the words say so", () => {
    const shown = headline(
      {},
      effects.map((row) => ({ ...row, study: "only" })),
    );
    expect(shown.robust).toBeNull();
    expect(shown.story.intervalMethod).toMatch(/too few studies carry cluster-robust/);
    expect(shown.interval).toEqual(shown.modelBased.interval);
  });
});
