import { describe, expect, test } from "vitest";
import { levelMeans } from "../../src/synthesis/level-means.js";
import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { expectRelative } from "../effects/agreement.js";

/** Studies of one to four effects that share people, levels dealt out to studies or to effects; no difference. */
const nullFile = (
  seed: number,
  options: Readonly<{ studies: number; levels: number; inside: boolean }>,
): readonly SynthesisEffect[] => {
  const stream = randomStream(seed);
  return Array.from({ length: options.studies }, (_, s) => {
    const [own, shared] = [0.2 * stream.normal(), stream.normal()];
    const level = s % options.levels;
    return Array.from({ length: 1 + stream.integer(4) }, (_unused, i): SynthesisEffect => {
      const variance = 0.01 + 0.05 * stream.uniform();
      // sampling errors correlate by 0.6, which the model is not told
      const error = Math.sqrt(0.6) * shared + Math.sqrt(0.4) * stream.normal();
      const place = options.inside ? stream.integer(options.levels) : level;
      return {
        effectId: `${s}-${i}`,
        study: `s${s}`,
        estimate: 0.3 + own + 0.1 * stream.normal() + Math.sqrt(variance) * error,
        variance,
        moderators: { level: `level ${place}` },
      };
    });
  }).flat();
};

// With 4000 files each: 5.5 % (two levels of four studies), 4.2 % (three levels of four, and of eight), 2.5 and 5.2 %
// (three levels inside ten, and inside 24 studies). The small-sample test errs on the side of too few alarms
// where denominators are few (Tipton and Pustejovsky 2015), so the lower bound is one per cent.
describe("false alarms of the test when the levels do not differ (known truth)", () => {
  test.each([
    ["two levels of four studies each", { studies: 8, levels: 2, inside: false }, 41],
    ["three levels inside ten studies", { studies: 10, levels: 3, inside: true }, 43],
  ] as const)("%s", (name, options, seed) => {
    const files = 300;
    let tested = 0;
    let alarms = 0;
    let held = 0;
    let means = 0;
    for (let file = 0; file < files; file++) {
      const answer = levelMeans(nullFile(1000 * seed + file, options), "level");
      for (const { mean } of answer.levels) {
        if (mean === null) continue;
        means += 1;
        if (mean.interval.low <= 0.3 && mean.interval.high >= 0.3) held += 1;
      }
      if (answer.difference === null) continue;
      tested += 1;
      if (answer.difference.p < 0.05) alarms += 1;
    }
    const share = alarms / tested;
    const said = `${name}: ${(100 * share).toFixed(1)}% of ${tested} tests; means hold the truth in ${((100 * held) / means).toFixed(1)}%`;
    // three Monte Carlo errors around what is promised
    const chance = 3 * Math.sqrt((0.05 * 0.95) / files);
    expect(tested).toBeGreaterThan(0.95 * files);
    expect(share, said).toBeLessThan(0.05 + chance);
    expect(share, said).toBeGreaterThan(0.01);
    expect(Math.abs(held / means - 0.95), said).toBeLessThan(chance);
  });
});

describe("what the studies can carry", () => {
  const row = (study: string, level: string | number, estimate: number, place = 0) => ({
    effectId: `${study}-${place}`,
    study,
    estimate,
    variance: 0.02 + 0.001 * place,
    moderators: { level },
  });
  const uneven = [
    ...[0.1, 0.22, 0.31, 0.15, 0.27].map((estimate, i) => row(`a${i}`, "long", estimate, i)),
    ...[0.42, 0.57, 0.38].map((estimate, i) => row(`b${i}`, "short", estimate, i)),
    row("c", "middle", 0.9),
    row("c", "middle", 0.8, 1),
  ];
  const codes = (answer: ReturnType<typeof levelMeans>) =>
    answer.story.notes.map(({ code }) => code);

  test("a level of one study has no mean and stays out of the test; three studies are too few to claim", () => {
    const answer = levelMeans(uneven, "level");
    expect(
      answer.levels.map(({ level, effects, studies, tooFewToClaim, mean, predictionInterval }) => [
        ...[level, effects, studies, tooFewToClaim],
        ...[mean === null, predictionInterval === null],
      ]),
    ).toEqual([
      ["long", 5, 5, false, false, false],
      ["middle", 2, 1, true, true, true],
      ["short", 3, 3, true, false, false],
    ]);
    expect(answer.compared).toEqual(["long", "short"]);
    expect(answer.difference!.numeratorDegreesOfFreedom).toBe(1);
    expect(answer.tooFewToClaim).toBe(true);
    const words = answer.story.notes.map(({ message }) => message).join("\n");
    expect(words).toMatch(
      /too few studies to claim a difference: middle \(1 study\), short \(3 studies\); at least 4/,
    );
    expect(words).toMatch(/no mean and no part in the comparison: middle \(1 study\)/);
    expect(answer.story.model).toMatch(/^means by level from one multilevel model with random/);
    expect([answer.effects, answer.studies]).toEqual([10, 9]);
  });

  test("four studies a level are enough, and nothing is said of too few", () => {
    const answer = levelMeans([...uneven.slice(0, 8), row("b3", "short", 0.5, 3)], "level");
    expect(answer.tooFewToClaim).toBe(false);
    expect(codes(answer)).not.toContain("too-few-studies-to-claim");
    expect(answer.story.intervalMethod).toMatch(/cluster-robust standard errors/);
  });

  test("levels of one study each: no mean, no test, and the reason", () => {
    const answer = levelMeans(
      ["x", "y", "z"].flatMap((study, i) => [row(study, study, i), row(study, study, i + 0.1, 1)]),
      "level",
    );
    expect(answer.levels.every(({ mean }) => mean === null)).toBe(true);
    expect([answer.difference, answer.compared]).toEqual([null, []]);
    expect(codes(answer)).toContain("difference-not-tested");
  });

  test("numbers are categories, in their own order; what has no value is set aside and said", () => {
    const rows = uneven.map((one, i) => ({ ...one, moderators: { level: i < 5 ? 10 : 4 } }));
    const lost = { ...row("d", "", 5), moderators: {} };
    const answer = levelMeans([...rows, lost], "level");
    expect(answer.levels.map(({ level }) => level)).toEqual(["4", "10"]);
    expect(codes(answer)).toContain("moderator-missing");
    expect(answer.effects).toBe(10);
  });

  test("identity: the order of rows changes nothing", () => {
    const [one, other] = [levelMeans(uneven, "level"), levelMeans([...uneven].reverse(), "level")];
    one.levels.forEach(({ mean }, i) => {
      if (mean === null) return;
      expectRelative(mean.estimate, other.levels[i]!.mean!.estimate, 1e-9);
      expectRelative(mean.standardError, other.levels[i]!.mean!.standardError, 1e-9);
    });
    expectRelative(one.difference!.p, other.difference!.p, 1e-8);
  });

  test("the model's own errors where they are asked for, under their name", () => {
    const answer = levelMeans(uneven, "level", { robust: "none" });
    expect(answer.levels[0]!.mean!.degreesOfFreedom).toBe(7);
    expect(answer.levels[1]!.mean).toBeNull();
    expect(answer.story.intervalMethod).toMatch(/^as asked for: Student t/);
    const normal = levelMeans(uneven, "level", { interval: "normal" });
    expect(normal.difference!.kind).toBe("chi-squared");
  });

  test("one level alone is refused", () => {
    expect(() => levelMeans(uneven.slice(0, 5), "level")).toThrow(/differs between effects/);
    expect(() => levelMeans(uneven, "weeks")).toThrow(/moderators the effects carry \(level\)/);
  });
});
