/** Where each printed value comes from is said beside it, in tests/published and in the data it belongs to. */
import { describe, expect, test } from "vitest";
import { writeTable } from "../../src/csv/write-table.js";
import { expectPrinted, expectRelative } from "../effects/agreement.js";
import { bcg1994 } from "../published/bcg-1994.js";
import { diong2022Effects } from "../published/diong-2022-effects.js";
import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";
import { nestedEffects } from "../synthesis/nested-effects.js";
import { jsonOf, runHere } from "./run-here.js";
import { fileOf } from "./test-folder.js";

type Range = Readonly<{ low: number; high: number }>;
type Coefficient = Readonly<{
  term: string;
  estimate: number;
  standardError: number;
  interval: Range;
  degreesOfFreedom: number;
  p: number;
}>;
type Answer = Readonly<{
  estimate: number;
  standardError: number;
  interval: Range;
  predictionInterval: Range | null;
  betweenVariance: number;
  q: number;
  iSquaredPercent: number;
  effects: number;
  studies: number;
  degreesOfFreedom: number | null;
  warnings: readonly string[];
  coefficients: readonly Coefficient[];
  varianceByLevel: Readonly<Record<string, number>>;
  robust: readonly Coefficient[];
  modelBased: Readonly<{ standardError: number; coefficients: readonly Coefficient[] }>;
}>;

const tableOf = (effects: readonly SynthesisEffect[], moderator?: string): string =>
  writeTable(
    ["study", "arm", "effect_id", "effect", "variance", ...(moderator ? [moderator] : [])],
    effects.map((effect) => [
      effect.study,
      effect.arm ?? "",
      effect.effectId,
      String(effect.estimate),
      String(effect.variance),
      ...(moderator ? [String(effect.moderators?.[moderator] ?? "")] : []),
    ]),
  );

const bcg = fileOf("bcg.csv", tableOf(bcg1994.logRiskRatios, "latitude"));
const nested = fileOf("nested.csv", tableOf(nestedEffects.effects));
const diong = fileOf("diong.csv", tableOf(diong2022Effects.effects, "limb"));
const small = [
  "study,arm,effect_id,effect,variance,weeks,measure",
  "A,x,1,0.3,0.02,8,iso",
  "A,y,2,0.2,0.03,6,dyn",
  "B,x,1,0.1,0.04,12,dyn",
  "B,z,3,0.4,0.05,8,iso",
  "C,q,4,0.25,0.02,10,iso",
  "C,r,5,0.5,0.03,4,dyn",
  "D,s,6,0.1,0.02,5,iso",
];
const smallFile = fileOf("small.csv", small.join("\n"));

const promised = [
  "estimate",
  "standardError",
  "interval",
  "predictionInterval",
  "betweenVariance",
  "q",
  "iSquaredPercent",
  "effects",
  "studies",
  "degreesOfFreedom",
  "warnings",
];

describe("published", () => {
  test("BCG trials, log risk ratios: every default of the door", async () => {
    const answer = await jsonOf<Answer>("pool", bcg);
    for (const key of promised) expect(answer).toHaveProperty(key);
    expectPrinted(answer.estimate, bcg1994.results.estimate);
    expectPrinted(
      answer.betweenVariance,
      bcg1994.results.betweenVariance["restricted-maximum-likelihood"],
    );
    expectPrinted(answer.q, bcg1994.results.q);
    expect([answer.effects, answer.studies, answer.degreesOfFreedom]).toEqual([13, 13, 12]);
    expect(answer.warnings).toEqual([]);
    expect(answer).not.toHaveProperty("varianceByLevel");
  });

  test("BCG trials: the model standard error, and other estimators by their names", async () => {
    const normal = await jsonOf<Answer>("pool", bcg, "--interval", "normal");
    expectPrinted(normal.standardError, bcg1994.results.standardError);
    expect(normal.degreesOfFreedom).toBe(null);
    const { betweenVariance, iSquaredDerSimonianLaird } = bcg1994.results;
    const moments = await jsonOf<Answer>("pool", bcg, "--heterogeneity", "dersimonian-laird");
    expectPrinted(moments.betweenVariance, betweenVariance["dersimonian-laird"]);
    expectPrinted(moments.iSquaredPercent, iSquaredDerSimonianLaird);
    const solved = await jsonOf<Answer>("pool", bcg, "--heterogeneity", "paule-mandel");
    expectPrinted(solved.betweenVariance, betweenVariance["paule-mandel"]);
  });

  test("two levels by --levels, in either order, as base R finds them", async () => {
    const { restricted, q } = nestedEffects.inBaseR;
    const answer = await jsonOf<Answer>("pool", nested, "--levels", "study,effect_id");
    for (const key of [...promised, "varianceByLevel", "robust"])
      expect(answer).toHaveProperty(key);
    expectPrinted(answer.estimate, restricted.estimate);
    // The model's own error stands with all that is model-based; the robust one leads.
    expectPrinted(answer.modelBased.standardError, restricted.standardError);
    expect(answer.standardError).toBe(answer.robust[0]?.standardError);
    expectPrinted(answer.varianceByLevel.study!, restricted.betweenStudies);
    expectPrinted(answer.varianceByLevel.effect_id!, restricted.withinStudies);
    expectPrinted(answer.q, q);
    for (const [only] of [answer.coefficients, answer.robust])
      expect([only?.term, only?.estimate]).toEqual(["intercept", answer.estimate]);
    expect([answer.effects, answer.studies]).toEqual([33, 9]);
    const { question: _asked, ...turned } = await jsonOf<Answer & { question: object }>(
      "pool",
      nested,
      "--levels",
      "effect_id,study",
    );
    expect(answer).toMatchObject(turned);
  });

  test("Diong 2022: pooled by moments, and the regression on limb to its printed digits", async () => {
    const { pooled, limb } = diong2022Effects.results;
    const moments = ["--heterogeneity", "dersimonian-laird", "--interval", "normal"];
    const average = await jsonOf<Answer>("pool", diong, ...moments);
    expectPrinted(average.estimate, pooled.estimate);
    expectPrinted(average.interval.low, pooled.interval[0]);
    expectPrinted(average.interval.high, pooled.interval[1]);
    expectPrinted(average.q, pooled.q);
    expectPrinted(average.betweenVariance, pooled.betweenVariance);
    const knapp = ["--moderators", "limb", "--interval", "hartung-knapp-unguarded"];
    const regression = await jsonOf<Answer>("pool", diong, ...knapp);
    const [intercept, slope] = regression.coefficients;
    expectPrinted(slope!.estimate, limb.slope);
    expectPrinted(slope!.standardError, limb.slopeStandardError);
    expectPrinted(slope!.interval.low, limb.slopeInterval[0]);
    expectPrinted(slope!.interval.high, limb.slopeInterval[1]);
    expectPrinted(intercept!.estimate, limb.intercept);
    expectPrinted(intercept!.interval.low, limb.interceptInterval[0]);
    expectPrinted(intercept!.interval.high, limb.interceptInterval[1]);
    expectPrinted(regression.betweenVariance, limb.betweenVariance);
  });
});

describe("identity", () => {
  test("options left out are the documented defaults", async () => {
    const spelled = [
      ["--heterogeneity", "restricted-maximum-likelihood"],
      ["--interval", "hartung-knapp"],
      ["--model", "random-effects"],
      ["--confidence", "0.95"],
    ].flat();
    const asked = await jsonOf<Answer>("pool", bcg, ...spelled);
    const usual = await jsonOf<Answer>("pool", bcg);
    for (const key of promised)
      expect([key, asked[key as never]]).toEqual([key, usual[key as never]]);
  });

  test("standard errors in place of variances, other column order and separator: the same answer", async () => {
    const rows = bcg1994.logRiskRatios.map(
      ({ study, estimate, variance }) => `${estimate};${Math.sqrt(variance)};${study}`,
    );
    const turned = fileOf("turned.csv", ["effect;standard_error;study", ...rows].join("\n"));
    const [ours, theirs] = [
      await jsonOf<Answer>("pool", turned),
      await jsonOf<Answer>("pool", bcg),
    ];
    for (const key of ["estimate", "standardError", "betweenVariance", "q"] as const)
      expectRelative(ours[key], theirs[key], 1e-9);
  });

  test("--where keeps rows, and --by splits them: as if the file held only those", async () => {
    const only = fileOf(
      "iso.csv",
      [small[0], ...small.filter((r) => r.endsWith("iso"))].join("\n"),
    );
    const alone = await jsonOf<Answer>("pool", only);
    const kept = await jsonOf<Answer>("pool", smallFile, "--where", "measure=iso");
    const { groups } = await jsonOf<{ groups: readonly (Answer & { group: string })[] }>(
      "pool",
      smallFile,
      "--by",
      "measure",
    );
    expect(groups.map(({ group }) => group)).toEqual(["iso", "dyn"]);
    for (const answer of [kept, groups[0]!]) {
      expect(answer.estimate).toBe(alone.estimate);
      expect(answer.interval).toEqual(alone.interval);
      expect(answer.effects).toBe(4);
    }
  });

  test("an interaction brings its parts, and may be asked for in one piece", async () => {
    const product = await jsonOf<Answer>("pool", smallFile, "--moderators", "weeks by measure");
    expect(product.coefficients.map(({ term }) => term)).toEqual([
      "intercept",
      "weeks",
      "measure: iso",
      "weeks × measure: iso",
    ]);
    const spelled = await jsonOf<Answer>(
      "pool",
      smallFile,
      "--moderators",
      "weeks,measure,weeks by measure",
    );
    expect(spelled.coefficients).toEqual(product.coefficients);
  });

  test("three levels with robust errors carry one part a level", async () => {
    const answer = await jsonOf<Answer>(
      "pool",
      smallFile,
      "--levels",
      "study,arm,effect_id",
      "--moderators",
      "weeks",
    );
    const parts = Object.values(answer.varianceByLevel);
    expectRelative(
      answer.betweenVariance,
      parts.reduce((sum, part) => sum + part, 0),
      1e-12,
    );
    expect(answer.coefficients.map(({ term }) => term)).toEqual(["intercept", "weeks"]);
    expect(answer.robust.map(({ term }) => term)).toEqual(["intercept", "weeks"]);
    for (const one of answer.robust)
      for (const key of ["estimate", "standardError", "interval", "degreesOfFreedom", "p"])
        expect(one).toHaveProperty(key);
  });

  test("an outcome column is a moderator of ready effects like any other", async () => {
    const file = fileOf("outcome.csv", small.join("\n").replace("measure", "outcome"));
    const terms = (await jsonOf<Answer>("pool", file, "--moderators", "outcome")).coefficients;
    expect(terms.map(({ term }) => term)).toEqual(["intercept", "outcome: iso"]);
  });
});

describe("warnings", () => {
  test("ids used in two studies are told; intercepts are shared only where a level has them", async () => {
    const plain = (await jsonOf<Answer>("pool", smallFile)).warnings.filter((w) =>
      /^arm id x/.test(w),
    );
    expect(plain).toHaveLength(1);
    expect(plain[0]).not.toMatch(/share one random intercept/);
    const levels = ["--levels", "study,arm"];
    const fitted = (await jsonOf<Answer>("pool", smallFile, ...levels)).warnings;
    const arms = fitted.filter((warning) => /^arm id x/.test(warning));
    expect(arms).toHaveLength(1);
    expect(arms[0]).toMatch(/share one random intercept/);
  });

  test("rows that cannot be used are left out and named", async () => {
    const file = fileOf("partly.csv", [...small, "E,t,7,NaN,0.02,5,iso"].join("\n"));
    const answer = await jsonOf<Answer>("pool", file);
    expect(answer.effects).toBe(7);
    expect(answer.warnings.join("\n")).toMatch(/1 of 8 rows .*line 9 \(effect: is not a number/);
  });
});

describe("refuses", () => {
  const refusals: readonly (readonly [string, number, RegExp, readonly string[]])[] = [
    [
      "an unknown column of --where",
      2,
      /--where requires columns of the file.*"dose"/,
      ["--where", "dose>1"],
    ],
    ["conditions that keep nothing", 2, /at least one row meets/, ["--where", "weeks>=100"]],
    ["an unknown column of --by", 2, /--by requires columns of the file/, ["--by", "dose"]],
    [
      "an unknown moderator",
      1,
      /column dose: .*use one of weeks, measure/,
      ["--moderators", "dose"],
    ],
    [
      "an unknown estimator",
      2,
      /--heterogeneity requires one of restricted-maximum-likelihood/,
      ["--heterogeneity", "best"],
    ],
    [
      "an unknown level",
      2,
      /--levels requires one of study, arm, effect-id, got "limb"/,
      ["--levels", "study,limb"],
    ],
    ["a percentage as confidence", 2, /did you mean 0\.95/, ["--confidence", "95"]],
    [
      "a word as confidence",
      2,
      /--confidence requires a share above 0 and below 1.*got "high"/,
      ["--confidence", "high"],
    ],
    ["a misspelt option", 2, /Did you mean --interval/, ["--intervall", "normal"]],
    [
      "a moment estimator with levels",
      2,
      /a model with levels requires .*--levels none/,
      ["--levels", "study,arm", "--heterogeneity", "paule-mandel"],
    ],
  ];
  test.each(refusals)("%s: exit %i", async (_name, exitCode, message, options) => {
    const ran = await runHere("pool", smallFile, ...options, "--json");
    expect(ran.exitCode).toBe(exitCode);
    expect(ran.err).toMatch(message);
    expect(ran.out).toBe("");
  });

  test("a table where no row can be used: each row's line, column, value and mend", async () => {
    const file = fileOf("bad.csv", "study,effect,variance\nA,NaN,0.1\nB,0.2,Infinity\nC,0.2,0\n");
    const ran = await runHere("pool", file, "--json");
    expect([ran.exitCode, ran.out]).toEqual([1, ""]);
    const lines = ran.err.trim().split("\n");
    expect(lines).toHaveLength(3);
    expect(lines[0]).toMatch(/^line 2, column effect: .*\(got "NaN"\); \S/);
    expect(lines[1]).toMatch(/^line 3, column variance: .*\(got "Infinity"\); \S/);
    expect(lines[2]).toMatch(/^line 4, column variance: .*\(got "0"\); \S/);
  });

  test("neither variance nor standard error", async () => {
    const ran = await runHere("pool", fileOf("bare.csv", "study,effect\nA,0.2\n"));
    expect(ran.exitCode).toBe(1);
    expect(ran.err).toMatch(/neither a variance nor a standard_error/);
  });
});
