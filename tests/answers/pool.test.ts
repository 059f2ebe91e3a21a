import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { formatNumber } from "../../src/tables/number-format.js";
import { percentFromLogRatio } from "../../src/effects/percent-from-log-ratio.js";
import { codebookText, evidenceOf, outcomeRow, shippedEvidence } from "./evidence-under-test.js";

const demo = shippedEvidence("demo-register.csv");
const oneArm = () => evidenceOf(codebookText([outcomeRow("A", 110)]));
const percent = (value: number): string => formatNumber(percentFromLogRatio(value), { digits: 1 });

describe("one group", () => {
  test("headline, table, figure and data carry the same digits", async () => {
    const answer = await ask("pool", { outcome: "size" }, demo);
    const [group] = answer.data.groups;
    const { estimate, interval, predictionInterval } = group as never as {
      estimate: number;
      interval: { low: number; high: number };
      predictionInterval: { low: number; high: number };
    };
    const shown = [
      percent(estimate),
      `${percent(interval.low)} to ${percent(interval.high)}`,
      `${percent(predictionInterval.low)} to ${percent(predictionInterval.high)}`,
    ];
    expect(new Set(shown).size).toBe(3);
    expect(answer.headline).toContain(`${shown[0]}% (95% interval ${shown[1]}%;`);
    expect(answer.sentences[0]).toBe(`Range of a further study: ${shown[2]}%.`);
    const [row] = answer.tables[0]!.rows;
    expect([row!["shown"], row!["shownInterval"], row!["shownPrediction"]]).toEqual(shown);
    const [figure] = answer.figures;
    expect(figure).toMatchObject({
      name: "estimates",
      data: { pooled: { estimate, interval, predictionInterval } },
    });
    expect(answer.data).toMatchObject({ estimate, interval, predictionInterval });
  });

  test("the wider selection stands beside the headline with digits of its own", async () => {
    const answer = await ask("pool", { outcome: "size" }, demo);
    const [group] = answer.data.groups as never as {
      effects: number;
      estimate: number;
      wider: { selection: string; estimate: number; effects: number; studies: number }[];
    }[];
    const [wider] = group!.wider;
    expect(wider!.effects).toBeGreaterThan(group!.effects);
    expect(wider!.estimate).not.toBe(group!.estimate);
    expect(answer.sentences.join("\n")).toContain(
      `All angles and weeks: ${percent(wider!.estimate)}% (95% interval`,
    );
  });

  test("the range of a further study is wider than the interval, and the model's own stands apart", async () => {
    const { data } = await ask("pool", { outcome: "size" }, demo);
    const { interval, predictionInterval, modelBased, varianceByLevel, betweenVariance } =
      data as never as {
        interval: { low: number; high: number };
        predictionInterval: { low: number; high: number };
        betweenVariance: number;
        varianceByLevel: Record<string, number>;
        modelBased: { interval: { low: number; high: number }; standardError: number };
      };
    expect(predictionInterval.low).toBeLessThan(interval.low);
    expect(predictionInterval.high).toBeGreaterThan(interval.high);
    expect(modelBased.interval).not.toEqual(interval);
    // The heterogeneity of several levels is the sum of its parts.
    expect(betweenVariance).toBeCloseTo(
      Object.values(varianceByLevel).reduce((sum, part) => sum + part, 0),
      12,
    );
  });

  test("confidence, one correlation and conditions reach every number", async () => {
    const usual = await ask("pool", { outcome: "size" }, demo);
    for (const options of [
      { confidence: 0.9 },
      { correlation: 0.5 },
      { where: "weeks>=10" },
      { outcomeCorrelations: "none" },
      { logRatioOrder: "first-order" },
    ]) {
      const other = await ask("pool", { outcome: "size", ...options }, demo);
      const numbers = ({ data }: typeof usual) => JSON.stringify(data.groups[0]);
      expect(numbers(other), JSON.stringify(options)).not.toBe(numbers(usual));
      expect(other.data.question.options).toMatchObject(options);
    }
    const ninety = await ask("pool", { outcome: "size", confidence: 0.9 }, demo);
    expect(ninety.headline).toContain("90% interval");
  });

  test("a confidence of one standard error: said to its digits everywhere, and each effect reaches as far", async () => {
    // P(|Z| < 1) = erf(1/√2) = 0.68269 by the series 2/√π · Σ (−1)ⁿ z²ⁿ⁺¹ / (n! (2n + 1)) at z = 1/√2.
    const terms = Array.from({ length: 20 }, (_, n) => {
      const factorial = Array.from({ length: n }, (_one, k) => k + 1).reduce((x, k) => x * k, 1);
      return ((-1) ** n * Math.SQRT1_2 ** (2 * n + 1)) / (factorial * (2 * n + 1));
    });
    const confidence = (2 / Math.sqrt(Math.PI)) * terms.reduce((sum, term) => sum + term, 0);
    const { headline, sentences, tables, figures } = await ask(
      "pool",
      { outcome: "size", confidence },
      demo,
    );
    const words = "68.2689%";
    expect(headline).toContain(`(${words} interval `);
    expect(sentences.join(" ")).toContain(`(${words} interval `);
    for (const [id, headings] of [
      ["averages", [`${words} interval`, `${words} range of a further study`]],
      ["effects", [`${words} interval`]],
    ] as const) {
      const table = tables.find((one) => one.id.startsWith(id))!;
      expect(table.columns.map(({ label }) => label)).toEqual(
        expect.arrayContaining([...headings]),
      );
    }
    const { data } = await ask("effects", { where: "outcome_family=size" }, demo);
    const error = new Map(
      data.effects.map(({ estimate, variance }) => [estimate, Math.sqrt(variance)]),
    );
    const drawn = figures[0]!.data as unknown as {
      confidencePercent: number;
      effects: { estimate: number; low: number; high: number }[];
    };
    expect(drawn.confidencePercent).toBe(68.2689);
    expect(drawn.effects.length).toBeGreaterThan(10);
    for (const { estimate, low, high } of drawn.effects) {
      expect((high - estimate) / error.get(estimate)!).toBeCloseTo(1, 6);
      expect((estimate - low) / error.get(estimate)!).toBeCloseTo(1, 6);
    }
  });
});

describe("what is not averaged", () => {
  const trial = [
    outcomeRow("A", 111),
    outcomeRow("A", 116, { arm: "second" }),
    outcomeRow("B", 108, {
      outcome: "muscle volume",
      outcome_family: "size",
      test_mode: "",
      unit: "cm³",
    }),
    outcomeRow("C", 106, {
      outcome: "muscle volume",
      outcome_family: "size",
      test_mode: "",
      unit: "cm³",
    }),
  ];

  test("one study has no average: its sentence says so, and no number stands for it", async () => {
    const answer = await ask("pool", {}, evidenceOf(codebookText(trial)));
    const [strength, size] = answer.data.groups;
    expect(strength).toMatchObject({
      group: "strength",
      effects: 2,
      studies: 1,
      refusal: { kind: "refusal", code: "one-study" },
    });
    expect(strength).not.toHaveProperty("estimate");
    expect(answer.headline).toContain("all 2 effects are of one study, A");
    expect(answer.tables[0]!.rows.map(({ group }) => group)).toEqual(["size"]);
    expect(size).toHaveProperty("estimate");
    expect(answer.data.refusal).toBeNull();
  });

  test("kinds of outcome are never pooled together, and every effect stands in one of them", async () => {
    const { data } = await ask("pool", {}, demo);
    const { data: made } = await ask("effects", {}, demo);
    type Counted = { effects: number; family: string; wider: { effects: number }[] };
    const groups = data.groups as never as Counted[];
    const whole = ({ effects, wider }: Counted): number => wider[0]?.effects ?? effects;
    expect(groups.reduce((sum, group) => sum + whole(group), 0)).toBe(made.effects.length);
    for (const group of groups)
      expect(
        made.effects.filter(({ outcomeFamily }) => outcomeFamily === group.family),
      ).toHaveLength(whole(group));
    // Identity with the generator: the true gains of the rows lie around their average.
    const [strength] = data.groups as never as { interval: { low: number; high: number } }[];
    expect(strength!.interval.low).toBeGreaterThan(0.1);
    expect(strength!.interval.high).toBeLessThan(0.3);
  });

  test("two studies say that they are no general rule, and nothing of a further one", async () => {
    const answer = await ask(
      "pool",
      {},
      evidenceOf(codebookText([outcomeRow("A", 110), outcomeRow("B", 130)])),
    );
    expect(answer.sentences.slice(0, 2)).toEqual([
      "Too few studies to say what a further one would find.",
      "With 2 studies this describes those studies; it is no general rule.",
    ]);
  });

  test("a file without any average is a refusal in words", async () => {
    const answer = await ask("pool", { outcome: "strength" }, evidenceOf(codebookText(trial)));
    expect(answer.data.refusal).toMatchObject({ code: "one-study" });
    expect(answer.tables.filter(({ id }) => id.startsWith("averages"))).toEqual([]);
  });
});

describe("asked otherwise", () => {
  const ready = evidenceOf(
    [
      "study,effect_id,effect,variance",
      "A,1,0.30,0.02",
      "A,2,0.22,0.03",
      "B,3,0.10,0.04",
      "C,4,0.25,0.02",
      "D,5,0.41,0.02",
      "E,6,0.05,0.02",
    ].join("\n"),
  );

  test("a study named twice is pooled by study and effect; rows are independent only where asked, and it is said", async () => {
    const usual = await ask("pool", {}, ready);
    expect(usual.data).toHaveProperty("varianceByLevel");
    const independent = await ask("pool", { levels: "none" }, ready);
    expect(independent.data).not.toHaveProperty("varianceByLevel");
    expect(independent.headline).toContain("as asked for: rows taken as independent");
    expect(independent.headline).not.toBe(usual.headline);
  });

  test("another interval has its name in the headline, and leads", async () => {
    const usual = await ask("pool", {}, ready);
    const normal = await ask("pool", { interval: "normal" }, ready);
    expect(normal.headline).toContain("as asked for: interval normal");
    const interval = (answer: typeof usual) =>
      (answer.data as never as { interval: unknown }).interval;
    expect(interval(normal)).not.toEqual(interval(usual));
    expect((usual.data as never as { modelBased: object }).modelBased).toHaveProperty(
      "coefficients",
    );
  });
});

describe("asked otherwise, in words", () => {
  const rows = [
    "study,effect_id,effect,variance,length",
    "A,1,0.30,0.02,long",
    "A,2,0.22,0.03,long",
    "B,3,0.10,0.04,long",
    "C,4,0.25,0.02,long",
    "D,5,0.41,0.02,short",
    "D,6,0.05,0.02,short",
  ];
  const oneStudyLevel = evidenceOf(rows.join("\n"));

  test("another confidence is named in the headline; the usual one is not", async () => {
    const usual = await ask("pool", {}, oneStudyLevel);
    expect(usual.headline).not.toContain("asked for");
    const other = await ask("pool", { confidence: 0.9 }, oneStudyLevel);
    expect(other.headline).toMatch(/\(90% interval .* as asked for: confidence 90%\.$/);
  });

  test("a simple correction is refused for what rests on one study, and the headline says so", async () => {
    const answer = await ask("pool", { moderators: ["length"], robust: "simple" }, oneStudyLevel);
    expect(answer.headline).toContain("robust simple, which is refused as the estimate rests");
    const { interval, robust, modelBased } = answer.data as never as {
      interval: object;
      robust: { term: string }[];
      modelBased: { interval: object };
    };
    expect(interval).toEqual(modelBased.interval);
    expect(robust.map(({ term }) => term)).toEqual(["intercept"]);
  });

  test("robust errors are not promised of rows taken as independent", async () => {
    await expect(ask("pool", { levels: "none", robust: "simple" }, oneStudyLevel)).rejects.toThrow(
      /rows taken as independent requires .*--levels study/,
    );
  });

  test("a permutation test stands in sentence and data: every arrangement of four studies, by hand", async () => {
    const asked = { moderators: ["length"], permutations: 99, levels: "study" };
    const farOff = evidenceOf(rows.join("\n").replace("0.41", "0.95").replace("0.05,", "0.90,"));
    const answer = await ask("pool", asked, farOff);
    const [tested] = (answer.data as never as { permutationTests: { p: number; exact: boolean }[] })
      .permutationTests;
    // D lies furthest off, so of the 4! arrangements the 3! that leave "short" with it reach as far: 6 / 24.
    expect(tested).toMatchObject({ term: "length", exact: true, permutations: 24, p: 0.25 });
    expect(answer.sentences).toContain(
      "Permutation test of length: p = 0.250, from all 24 arrangements of its values among studies.",
    );
  });

  test("nothing to average where no row is left, whatever outcome is named", async () => {
    const answer = await ask("pool", { outcome: "size", contrast: "against-control" }, oneArm());
    expect(answer.headline).toBe(
      "No average: no row reaches this scale and contrast. 1 row: 1 × no no-exercise arm of other people in the study was measured in the same outcome, angle, site, side and week.",
    );
    expect(answer.data.refusal).toMatchObject({ code: "no-effects" });
  });
});

describe("options", () => {
  test("names and values are read in any spelling, and refused with what was meant", async () => {
    const usual = await ask("pool", { contrast: "against-control" }, demo);
    const spelled = await ask("pool", { CONTRAST: "Against control" }, demo).catch(
      (error: Error) => error.message,
    );
    expect(spelled).toMatchObject({ headline: usual.headline });
    await expect(ask("pool", { contrast: "against-contrl" }, demo)).rejects.toThrow(
      /--contrast requires one of .*did you mean against-control\?/,
    );
    await expect(ask("pool", { confidense: 0.9 }, demo)).rejects.toThrow(
      /did you mean confidence\?/,
    );
    await expect(ask("pool", { confidence: 95 }, demo)).rejects.toThrow(/did you mean 0\.95\?/);
  });
});

test("the doubts about the rows used travel with the average: baselines that differ, very few people", async () => {
  const control = { arm: "control", arm_kind: "no exercise" };
  const file = evidenceOf(
    codebookText([
      outcomeRow("A", 112),
      outcomeRow("A", 114, { ...control, pre_mean: 113 }),
      outcomeRow("B", 115, { n_end: 5 }),
      outcomeRow("B", 103, { ...control, n_end: 5 }),
      outcomeRow("C", 118, { n_end: 4 }),
      outcomeRow("C", 101, { ...control, n_end: 14 }),
    ]),
  );
  const { notes, data } = await ask("pool", { contrast: "against-control" }, file);
  const said = (code: string) => notes.filter((note) => note.code === code);
  expect(said("baselines-differ").map(({ message }) => message)).toEqual([
    expect.stringMatching(/^A: .*stood at 100 and arm "control" at 113, 0\.9 pooled standard/),
  ]);
  // Two effects, one line: the first in its own words.
  expect(said("few-people").map(({ message }) => message)).toEqual([
    expect.stringMatching(/^B: .*5 people hardly tell.*; the same doubt meets 1 more effect$/),
  ]);
  expect(data.doubts).toEqual(notes);
  // Nothing is said of rows that another question uses.
  const within = await ask("pool", { where: "study=A" }, file);
  expect(within.notes.map(({ code }) => code)).not.toContain("baselines-differ");
});

test("an average says that it is over all protocols and lengths, as a projection says its own weeks", async () => {
  const all = await ask("pool", {}, demo);
  expect(all.headline).toMatch(
    /^\d+ averages of \d+ kinds of outcome, over all protocols and lengths of training\. /,
  );
  const one = await ask("pool", { outcome: "size" }, demo);
  expect(one.sentences).toContain(
    "The average is over all protocols and lengths of training; what one protocol gives is another number.",
  );
  const protocol = "4 x 20 s at 70%, rest 60 s, 3/week, 9 weeks, knee";
  const projected = await ask("project", { protocol, goal: "size" }, demo);
  expect(projected.headline).toContain("Size after 9 weeks of this protocol, before to after: ");
});
