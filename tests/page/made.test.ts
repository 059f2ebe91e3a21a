import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { effectScales, type Contrast, type EffectScale } from "../../src/effects/effect.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { averageWorking } from "../../src/page/made/average-working.js";
import { effectWorking, readRowsOf } from "../../src/page/made/effect-working.js";
import { readRecords } from "../../src/records/read-records.js";
import { pooledAnswer, shownResult } from "../../src/report/pooled-answer.js";

const { rows } = readRecords(readTable(demoRegisterCsv()));
const read = readRowsOf(rows);
const setOf = (scale: EffectScale, contrast: Contrast) =>
  effectsFromRows(rows, { scale, contrast });

/** A number as the page writes it, read again. */
const numberOf = (text: string): number => Number(text.replace("−", "-"));

/** Six digits. */
const sameDigits = (shown: string, value: number): void =>
  expect(numberOf(shown)).toBeCloseTo(Number(value.toPrecision(6)), 12);

describe("an effect is worked out again to the number the library gives", () => {
  const workedScales = [
    "log-ratio-of-means",
    "raw-mean-difference",
    "standardised-mean-change-baseline-deviation",
    "standardised-mean-change-change-deviation",
  ] as const;

  test.each(workedScales)("%s, change within the arm", (scale) => {
    const { effects } = setOf(scale, "change-within-arm");
    let worked = 0;
    for (const effect of effects) {
      const working = effectWorking(effect, read);
      if (working === undefined) continue;
      worked += 1;
      const [arm] = working.arms;
      sameDigits(arm?.steps.at(-1)?.result ?? "", effect.variance);
    }
    expect(worked).toBeGreaterThan(0.9 * effects.length);
  });

  test("against a control: two arms, then their difference", () => {
    const { effects } = setOf("log-ratio-of-means", "against-control");
    const worked = effects.flatMap((effect) => {
      const working = effectWorking(effect, read);
      return working === undefined ? [] : [{ effect, working }];
    });
    expect(worked.length).toBeGreaterThan(0.9 * effects.length);
    for (const { effect, working } of worked) {
      expect(working.arms).toHaveLength(2);
      const turned = working.last.length === 3;
      sameDigits(working.last[0]?.result ?? "", turned ? -effect.estimate : effect.estimate);
      sameDigits(working.last[1]?.result ?? "", effect.variance);
    }
  });

  test("an effect that the numbers would not give is not shown", () => {
    const effect = setOf("log-ratio-of-means", "change-within-arm").effects[0]!;
    expect(effectWorking({ ...effect, estimate: effect.estimate + 1e-6 }, read)).toBeUndefined();
    expect(effectWorking({ ...effect, variance: 1.001 * effect.variance }, read)).toBeUndefined();
  });

  test("scales that are told in words have no lines", () => {
    const others = effectScales.filter((scale) => !workedScales.some((one) => one === scale));
    for (const scale of others)
      for (const effect of setOf(scale, "change-within-arm").effects.slice(0, 3))
        expect(effectWorking(effect, read)).toBeUndefined();
  });
});

describe("an average is made again from its effects", () => {
  test("weights sum to one, products to the average, lines to both intervals", () => {
    const set = setOf("log-ratio-of-means", "change-within-arm");
    const answer = pooledAnswer(set, { confidence: 0.95 });
    const result = shownResult(answer);
    const working = averageWorking(set, answer);
    expect(working).toBeDefined();
    const column = (key: string): number =>
      working!.weights.rows.reduce((sum, row) => sum + numberOf(row[key] ?? ""), 0);
    // Each of the 191 cells is rounded to two or five decimals.
    expect(column("weight")).toBeCloseTo(100, 0);
    expect(column("product")).toBeCloseTo(result?.estimate ?? NaN, 3);
    const lines = new Map(working!.steps.map(({ formula, result: end }) => [formula, end]));
    const both = (low: number, high: number): string =>
      [low, high].map((end) => String(Number(end.toPrecision(6)))).join(" to ");
    const plain = (text: string | undefined): string => (text ?? "").replaceAll("−", "-");
    expect(plain(lines.get("interval = average ± t·standard error"))).toBe(
      both(result!.interval.low, result!.interval.high),
    );
    expect(plain(lines.get("a new study = average ± t·√(standard error² + all spread)"))).toBe(
      both(result!.predictionInterval!.low, result!.predictionInterval!.high),
    );
  });

  test("one effect alone is no average", () => {
    const { effects, ...rest } = setOf("log-ratio-of-means", "change-within-arm");
    const one = { ...rest, effects: effects.slice(0, 1), blocks: [] };
    expect(averageWorking(one, pooledAnswer(one, { confidence: 0.95 }))).toBeUndefined();
  });
});
