import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { pool } from "../../src/answers/pool.js";
import type { Coefficient, Inference } from "../../src/synthesis/synthesis-results.js";
import { evidenceOf, shippedEvidence } from "./evidence-under-test.js";
import { expectPlain, limits, percent } from "./last-yard.js";

const demo = shippedEvidence("demo-register.csv");

/** Rows of equal weight, so that the mean of a level is the plain mean of its rows. */
const lengths = evidenceOf(
  [
    "study,effect,variance,length,gear",
    "A,0.10,0.02,long,bar",
    "B,0.22,0.02,long,bar",
    "C,0.30,0.02,long,belt",
    "D,0.46,0.02,long,belt",
    "E,0.50,0.02,short,bar",
    "F,0.75,0.02,short,belt",
    "G,0.91,0.02,short,bar",
  ].join("\n"),
);

type Means = Readonly<{
  group: string;
  moderator: string;
  tooFewToClaim: boolean;
  levels: readonly Readonly<{ level: string; studies: number; mean: Coefficient }>[];
  difference: Readonly<{ statistic: number; p: number; denominatorDegreesOfFreedom: number }>;
}>;
const meansIn = ({ data }: Readonly<{ data: object }>): readonly Means[] =>
  (data as { levelMeans: readonly Means[] }).levelMeans;

describe("means of levels", () => {
  test.each([{ by: "length" }, { moderators: ["length"] }])(
    "come with %j, and with what keeps a difference from being claimed",
    async (options) => {
      const answer = await ask("pool", options, lengths);
      expectPlain(answer, pool);
      const [means] = meansIn(answer);
      expect(means!.moderator).toBe("length");
      // By hand: (0.10 + 0.22 + 0.30 + 0.46) / 4 and (0.50 + 0.75 + 0.91) / 3.
      const [long, short] = means!.levels;
      expect(long!.mean.estimate).toBeCloseTo(0.27, 10);
      expect(short!.mean.estimate).toBeCloseTo(0.72, 10);
      const said = answer.sentences.at(-1)!;
      expect(said).toMatch(/^All effects by length: long 0\.270 \(95% interval .*; 4 studies\); /);
      expect(said).toContain("; short 0.72 (95% interval ");
      expect(said).toContain(` = ${means!.difference.statistic.toFixed(2)}, p = `);
      expect(said).toContain(
        "Too few studies to claim a difference: short (3); at least 4 studies are needed in each.",
      );
      const table = answer.tables.find(({ id }) => id.startsWith("means-length"))!;
      expect(table.columns.find(({ key }) => key === "shown")!.label).toBe("Estimate");
      expect(
        table.rows.map(({ level, studies, shown, remark }) => [level, studies, shown, remark]),
      ).toEqual([
        ["long", "4", "0.270", ""],
        ["short", "3", "0.72", "too few studies to claim a difference"],
      ]);
    },
  );

  test("of a file in the codebook's columns: sentence, table and data carry the same digits", async () => {
    const answer = await ask("pool", { outcome: "strength", by: "muscle_length" }, demo);
    const [means, ...others] = meansIn(answer);
    expect(others).toEqual([]);
    const said = answer.sentences.find((one) => one.startsWith("Strength by muscle length: "))!;
    const table = answer.tables.find(({ id }) => id.startsWith("means-muscle-length"))!;
    expect(means!.levels.map(({ level }) => level)).toEqual(["long", "middle", "short"]);
    expect(new Set(means!.levels.map(({ mean }) => percent(mean.estimate))).size).toBeGreaterThan(
      1,
    );
    means!.levels.forEach(({ level, studies, mean }, place) => {
      const shown = [percent(mean.estimate), limits(mean.interval)];
      expect(said).toContain(
        `${level} ${shown[0]!}% (95% interval ${shown[1]!}%; ${studies} studies)`,
      );
      expect([table.rows[place]!["shown"], table.rows[place]!["shownInterval"]]).toEqual(shown);
    });
    expect(said).not.toContain("Too few");
    // A range of a further study is wider than the interval of its mean.
    for (const row of table.rows)
      expect(Number(row["predictionLow"])).toBeLessThan(Number(row["intervalLow"]));
  });

  test("two moderators each have their means; the level compared with is named and may be chosen", async () => {
    const both = await ask("pool", { moderators: ["length", "gear"] }, lengths);
    expect(meansIn(both).map(({ moderator }) => moderator)).toEqual(["length", "gear"]);
    const terms = async (references: Readonly<Record<string, string>>) =>
      (
        (await ask("pool", { moderators: ["length"], references }, lengths)).data as never as {
          coefficients: readonly Coefficient[];
        }
      ).coefficients.map(({ term, estimate }) => [term, Number(estimate.toFixed(6))]);
    expect(await terms({})).toEqual([
      ["intercept", 0.27],
      ["length: short", 0.45],
    ]);
    expect(await terms({ length: "short" })).toEqual([
      ["intercept", 0.72],
      ["length: long", -0.45],
    ]);
  });

  test("numbers that a model takes as numbers have no levels, and one value has nothing to compare", async () => {
    const numbers = await ask("pool", { outcome: "strength", moderators: ["weeks"] }, demo);
    expect(numbers.data).not.toHaveProperty("levelMeans");
    const one = await ask("pool", { by: "length", where: "length=long" }, lengths);
    expect(one.sentences.at(-1)).toBe(
      "All effects by length: no means, as all its effects with a value there have the same.",
    );
    expect(meansIn(one)[0]).toMatchObject({ refusal: { code: "one-level" } });
  });
});

describe("names that scripts lean on", () => {
  type Group = Inference & Readonly<Record<string, unknown>> & Readonly<{ modelBased: Inference }>;
  const asked = async (): Promise<Readonly<{ top: Group; group: Group; usual: Group }>> => {
    const options = { outcome: "strength", moderators: ["weeks"] };
    const { data } = await ask("pool", options, demo);
    const modelled = await ask("pool", { ...options, interval: "student-t" }, demo);
    return {
      top: data as never,
      group: data.groups[0] as never,
      usual: modelled.data as never,
    };
  };

  test("each stands for the headline with a number of its own, and for the model under modelBased", async () => {
    const { top, group, usual } = await asked();
    const names = [
      ...["estimate", "standardError", "interval", "predictionInterval", "degreesOfFreedom", "p"],
      ...["coefficients", "modelBased", "betweenVariance", "q", "iSquaredPercent", "effects"],
      ...["studies", "warnings", "varianceByLevel", "robust"],
    ] as const;
    for (const name of names.filter((one) => one !== "warnings"))
      expect(top[name], name).toEqual(group[name]);
    expect(top["warnings"]).toEqual(expect.arrayContaining(group["warnings"] as string[]));
    const numbers = ({
      standardError,
      interval,
      predictionInterval,
      degreesOfFreedom,
      p,
    }: Inference) =>
      [standardError, interval.low, interval.high, degreesOfFreedom, p].concat(
        predictionInterval!.low,
        predictionInterval!.high,
      );
    const all = [
      ...numbers(group),
      ...numbers(group.modelBased),
      ...["estimate", "betweenVariance", "q", "iSquaredPercent", "effects", "studies"].map(
        (name) => group[name] as number,
      ),
    ];
    expect(all.every((value) => Number.isFinite(value))).toBe(true);
    expect(new Set(all).size).toBe(all.length);
    // What is asked for as the model's own is what stands under modelBased otherwise.
    expect(numbers(usual)).toEqual(numbers(group.modelBased));
    expect(usual.coefficients).toEqual(group.modelBased.coefficients);
    // The list under `robust` is the headline's coefficients.
    expect(group["robust"]).toEqual(group.coefficients);
    expect(group.coefficients).not.toEqual(group.modelBased.coefficients);
    expect(Object.keys(group["varianceByLevel"] as object)).toEqual(["study", "arm", "effect_id"]);
  });

  test("an average is a list of one coefficient, the headline's and the model's", async () => {
    const { data } = await ask("pool", { outcome: "strength" }, demo);
    const { estimate, standardError, coefficients, modelBased } = data as never as Group;
    expect(coefficients).toMatchObject([{ term: "intercept", estimate, standardError }]);
    expect(modelBased.coefficients).toMatchObject([
      { term: "intercept", estimate, standardError: modelBased.standardError },
    ]);
    expect(modelBased.standardError).not.toBe(standardError);
  });
});
