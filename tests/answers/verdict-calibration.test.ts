/**
 * Against known truth over invented files; the numbers found stand in the test's output.
 *
 * A few files, so that a rule that favours by chance shows; the table of 400 files each of 8, 12 and 20 studies is asked
 * with HOLDBOOK_NULL_FILES=400. What is found of the demonstration's own truth, question by question, on a hundred
 * registers with HOLDBOOK_POWER_REGISTERS=100.
 */
import { expect, test } from "vitest";
import { verdictNames } from "../../src/dose/verdict.js";
import { nullTruth, simulatedRows } from "./verdict-simulations.js";

const say = (text: string): void => {
  process.stdout.write(`verdicts, invented files: ${text}\n`);
};

test(
  "files without any true difference: something is favoured in at most one in twenty",
  { timeout: 120_000 },
  async () => {
    const files = 24;
    let [favoured, questions, unadjusted] = [0, 0, 0];
    for (let seed = 1; seed <= files; seed++) {
      const rows = await simulatedRows({ seed: 20_000 + seed, studies: 20, truth: nullTruth });
      if (rows.some(({ verdict }) => verdict.verdict === "favoured")) favoured++;
      if (rows.some(({ within }) => within !== undefined && within.p < 0.05)) unadjusted++;
      questions += rows.filter(({ within }) => within !== undefined).length;
    }
    say(
      `${files} files of 20 studies, ${(questions / files).toFixed(0)} questions each: favoured in ${favoured}, p under 0.05 in ${unadjusted}`,
    );
    // Four or more of 24 happen once in 33 times at one in twenty (binomial, by hand); p by itself is under 0.05 in
    // about half of the files, so that a table that forgot how much it asks would fail.
    expect(favoured).toBeLessThan(4);
    expect(unadjusted).toBeGreaterThan(3);
    expect(questions / files).toBeGreaterThan(15);
  },
);

const full = Number(process.env.HOLDBOOK_NULL_FILES ?? 0);

test.runIf(full > 0).each([8, 12, 20])(
  "no true difference, %i studies",
  { timeout: 36_000_000 },
  async (studies) => {
    let [favoured, worthTesting, unadjusted] = [0, 0, 0];
    for (let seed = 1; seed <= full; seed++) {
      const rows = await simulatedRows({ seed: 30_000 + seed, studies, truth: nullTruth });
      const has = (word: string): boolean => rows.some(({ verdict }) => verdict.verdict === word);
      if (has("favoured")) favoured++;
      if (has("worth testing")) worthTesting++;
      if (rows.some(({ within }) => within !== undefined && within.p < 0.05)) unadjusted++;
    }
    const share = (count: number): string => {
      const part = count / full;
      return `${(100 * part).toFixed(1)} ± ${(100 * Math.sqrt((part * (1 - part)) / full)).toFixed(1)}%`;
    };
    say(
      `${full} files of ${studies} studies: favoured ${share(favoured)}, worth testing ${share(worthTesting)}, some p under 0.05 ${share(unadjusted)}`,
    );
    // Two Monte Carlo errors are allowed for, so that only what is wrong fails.
    expect(favoured / full).toBeLessThan(0.05 + 2 * Math.sqrt((0.05 * 0.95) / full));
  },
);

const powerRegisters = Number(process.env.HOLDBOOK_POWER_REGISTERS ?? 0);

test.runIf(powerRegisters > 0)(
  "what is found of the demonstration's truth, by question",
  { timeout: 36_000_000 },
  async () => {
    const found = new Map<string, Map<string, number>>();
    const add = (question: string, what: string): void => {
      const own = found.get(question) ?? new Map<string, number>();
      found.set(question, own.set(what, (own.get(what) ?? 0) + 1));
    };
    for (let seed = 1; seed <= powerRegisters; seed++)
      for (const { family, axis, verdict, within } of await simulatedRows({
        seed: 40_000 + seed,
      })) {
        const question = `${family}, ${axis.label}`;
        add(question, verdict.verdict);
        if (verdict.side !== undefined) add(question, `${verdict.verdict}: ${verdict.side}`);
        if (within !== undefined && within.p < 0.05) add(question, "p alone under 0.05");
      }
    for (const [question, counts] of found) {
      const told = [...counts].map(([what, count]) => `${what} ${count}`).join(", ");
      say(`${question}, of ${powerRegisters}: ${told}`);
      const verdicts = verdictNames.map((name) => counts.get(name) ?? 0);
      expect(verdicts.reduce((sum, count) => sum + count, 0)).toBeLessThanOrEqual(powerRegisters);
    }
    // Longer holds, more effort and muscles trained long do more in that truth: never the other way round.
    for (const [question, counts] of found)
      if (/strength|size/u.test(question) && /intensity|muscle length/iu.test(question))
        expect(counts.get("favoured: less") ?? 0, question).toBeLessThan(0.05 * powerRegisters + 1);
  },
);

test("the truth behind such files has no variable in it", async () => {
  const { trueTrainingGain, demoReferenceDose } = await import("../../src/demo/true-change.js");
  const gain = (dose: object, weeks = 8): number =>
    trueTrainingGain(nullTruth, "size", { ...demoReferenceDose, ...dose }, { weeks });
  for (const other of [
    { effortPercent: 20 },
    { holdSeconds: 40 },
    { tensionTimeSeconds: 20 },
    { sessionsPerWeek: 1 },
    { muscleLength: "long" },
    { fastIntent: true },
  ])
    expect(gain(other)).toBeCloseTo(gain({}), 9);
  expect(gain({}, 4)).toBeCloseTo(gain({}), 9);
  expect(gain({})).toBeCloseTo(0.11, 9);
});
