import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { effectScales, type Contrast, type EffectScale } from "../../src/effects/effect.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { ask } from "../../src/answers/ask.js";
import { effectWorking, readRowsOf } from "../../src/answers/working/effect-working.js";
import { readRecords } from "../../src/records/read-records.js";
import { evidenceOf, shippedEvidence } from "./evidence-under-test.js";

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
  const demo = shippedEvidence("demo-register.csv");

  test("weights sum to one, products to the average, lines to both intervals of the answer", async () => {
    const { data } = await ask("made", { outcome: "strength", confidence: 0.9 }, demo);
    const pooled = await ask("pool", { outcome: "strength", confidence: 0.9 }, demo);
    const { estimate, interval, predictionInterval } = pooled.data.groups[0] as never as {
      estimate: number;
      interval: { low: number; high: number };
      predictionInterval: { low: number; high: number };
    };
    expect(data.answer?.sentence).toBe(pooled.headline);
    const working = data.answer?.working;
    const column = (key: string): number =>
      working!.weights.rows.reduce((sum, row) => sum + numberOf(row[key] ?? ""), 0);
    // Each of the cells is rounded to two or five decimals.
    expect(column("weight")).toBeCloseTo(100, 0);
    expect(column("product")).toBeCloseTo(estimate, 3);
    const lines = new Map(working!.steps.map(({ formula, result: end }) => [formula, end]));
    const both = ({ low, high }: { low: number; high: number }): string =>
      [low, high].map((end) => String(Number(end.toPrecision(6)))).join(" to ");
    const plain = (text: string | undefined): string => (text ?? "").replaceAll("−", "-");
    expect(plain(lines.get("interval = average ± t·standard error"))).toBe(both(interval));
    expect(plain(lines.get("a further study = average ± t·√(standard error² + all spread)"))).toBe(
      both(predictionInterval),
    );
  });

  test("every average and effect of the file can be chosen, and the effect is the file's", async () => {
    const first = await ask("made", {}, demo);
    const id = first.data.effects[5]!.id;
    const { data, tables } = await ask("made", { effect: id, outcome: "tendon" }, demo);
    expect(data.answers.map(({ name }) => name)).toContain("tendon");
    expect(data.answer?.name).toBe("tendon");
    const chosen = data.effects[3]!.id;
    const { data: one } = await ask("made", { effect: chosen, outcome: "tendon" }, demo);
    expect(one.effect?.id).toBe(chosen);
    expect(one.rowsUsed.every((line) => one.effect?.place.includes(String(line)))).toBe(true);
    expect(tables.map(({ id: name }) => name)).toContain("as-printed");
  });

  test("one study alone has no working of an average, and its effect is told", async () => {
    const text = demo.table.rows
      .filter(({ cells }) => cells[0] === demo.table.rows[0]?.cells[0])
      .map(({ cells }) => cells.map((cell) => `"${cell}"`).join(","));
    const one = evidenceOf([demo.table.header.join(","), ...text].join("\n"));
    const { data } = await ask("made", {}, one);
    expect(data.answer?.sentence).toMatch(/no average, as .* one study/);
    expect(data.answer?.working).toBeUndefined();
    expect(data.effect?.printed.rows.length).toBeGreaterThan(3);
  });
});
