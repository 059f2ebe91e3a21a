import { describe, expect, test } from "vitest";
import { runHere } from "./run-here.js";
import { fileOf } from "./test-folder.js";

// Twelve invented papers: a rise of some 20% under a good mood and of some 10% under a poor one.
const columns =
  "study,arm,arm_kind,outcome,outcome_family,test_mode,n_end,pre_mean,pre_spread,post_mean,post_spread,spread_kind,Coder mood,load (kg)";
const paper = (i: number): string => {
  const [mood, middle] = i % 2 === 0 ? ["good", 120] : ["poor", 110];
  const after = middle + [-1, 0, 1][i % 3]!;
  return `S${i},a,isometric,torque,strength,isometric,20,100,10,${after},11,standard deviation,${mood},${i}`;
};
const file = fileOf(
  "own.csv",
  [columns, ...Array.from({ length: 12 }, (_, i) => paper(i))].join("\n"),
);

type Pooled = Readonly<{
  effects: number;
  estimate: number;
  coefficients: readonly Readonly<{ term: string; estimate: number }>[];
}>;
const pool = async (...words: readonly string[]): Promise<Pooled> => {
  const { out, exitCode } = await runHere("pool", file, "--json", ...words);
  expect(exitCode).toBe(0);
  return JSON.parse(out) as Pooled;
};

describe("columns the codebook does not know", () => {
  test("filter", async () => {
    const good = await pool("--where", "coder mood=good, load>=4");
    expect(good.effects).toBe(4);
    expect(good.estimate).toBeCloseTo(Math.log(1.2), 2);
    expect((await pool("--where", "coder_mood=poor")).estimate).toBeCloseTo(Math.log(1.1), 2);
  });

  test("group and explain", async () => {
    const { out } = await runHere("pool", file, "--by", "coder_mood");
    expect(out).toContain("coder_mood good");
    expect(out).toContain("coder_mood poor");
    const { coefficients } = await pool("--moderators", "coder_mood");
    const poor = coefficients.find(({ term }) => term.includes("poor"));
    expect(poor?.estimate).toBeCloseTo(Math.log(1.1 / 1.2), 2);
  });

  test("are listed by check as kept, and a misspelt one is refused with the nearest", async () => {
    const { out } = await runHere("check", file);
    expect(out.replace(/\s+/g, " ")).toContain(
      "kept as your own: filter and group by them): Coder mood, load (kg)",
    );
    for (const words of [
      ["--where", "coder_mod=good"],
      ["--by", "coder_mod"],
      ["--moderators", "coder_mod"],
    ]) {
      const { err, exitCode } = await runHere("pool", file, ...words);
      expect(exitCode).not.toBe(0);
      expect(err).toContain("did you mean coder_mood?");
    }
  });
});
