/** Kinds of evidence: identities between what is said, tabled, drawn and handed on; hand arithmetic on percents. */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { project, type ProjectData } from "../../src/answers/project.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { codebookText, evidenceOf, outcomeRow } from "./evidence-under-test.js";
import { expectPlain, fiveTrials, limits, longHolds, percent } from "./last-yard.js";

const sizeOf = async (options: Readonly<Record<string, unknown>> = {}) =>
  ask("project", { protocol: longHolds, goal: "size", ...options }, fiveTrials);
const rangesOf = ({ data }: Readonly<{ data: ProjectData }>) => {
  if (data.answer === null) throw new Error("nothing projected");
  return data.answer.ranges;
};

describe("what is projected", () => {
  test("three ranges with nine numbers of their own: in words, table, course, figure and data", async () => {
    const answer = await sizeOf();
    const { average, newGroup, person } = rangesOf(answer);
    const numbers = [average, newGroup, person].flatMap((range) => [
      percent(range.low),
      percent(range.high),
    ]);
    expect(new Set([...numbers, percent(average.estimate)]).size).toBe(7);
    expect(answer.headline).toContain(
      `such studies average ${percent(average.estimate)}% (95% range ${limits(average)}%), a new group is expected within ${limits(newGroup)}%, a single person within ${limits(person)}%;`,
    );
    const table = answer.tables.find(({ id }) => id === "projection-size");
    expect(table!.rows.map(({ range, middle, limits: cell }) => [range, middle, cell])).toEqual([
      ["The average over such studies", percent(average.estimate), limits(average)],
      ["A new group", percent(newGroup.estimate), limits(newGroup)],
      ["A single person", percent(person.estimate), limits(person)],
    ]);
    const course = answer.tables.find(({ id }) => id === "projection-size-course");
    const cell = (range: typeof average) => `${percent(range.estimate)} (${limits(range)})`;
    expect(course!.rows.at(-1)).toMatchObject({
      weeks: "12",
      average: cell(average),
      newGroup: cell(newGroup),
      person: cell(person),
    });
    const figure = answer.figures.find(({ name }) => name === "projection");
    expect(figure!.data).toMatchObject({ projection: { ranges: rangesOf(answer) } });
    for (const { estimate, low, percent: shown } of [average, newGroup, person]) {
      expect(shown.estimate).toBeCloseTo(100 * (Math.exp(estimate) - 1), 9);
      expect(shown.low).toBeCloseTo(100 * (Math.exp(low) - 1), 9);
    }
    // Each range holds the one before it.
    expect([person.low, newGroup.low, average.low, average.estimate]).toEqual(
      [person.low, newGroup.low, average.low, average.estimate].sort((a, b) => a - b),
    );
    expectPlain(answer, project);
  });

  test("chances are of the range they stand beside, and of more than what is worth having", async () => {
    const answer = await sizeOf({ worthwhile: 4 });
    const table = answer.tables.find(({ id }) => id === "projection-size");
    const shown = (probability: number): string =>
      probability > 0.995 ? "over 99%" : `${Math.round(100 * probability)}%`;
    const { average, newGroup, person } = rangesOf(answer);
    const ranges = [average, newGroup, person];
    expect(table!.rows.map(({ gain, worthwhile }) => [gain, worthwhile])).toEqual(
      ranges.map(({ probabilityOfGain, probabilityWorthwhile }) => [
        shown(probabilityOfGain),
        shown(probabilityWorthwhile!),
      ]),
    );
    expect(
      new Set(ranges.map(({ probabilityWorthwhile }) => shown(probabilityWorthwhile!))).size,
    ).toBe(3);
    for (const { probabilityOfGain, probabilityWorthwhile } of ranges)
      expect(probabilityWorthwhile!).toBeLessThan(probabilityOfGain);
  });

  test("the trials left out in turn and the model's own check: in words, figure and data", async () => {
    const answer = await sizeOf();
    const { leftOut, check } = answer.data.basis!;
    expect(leftOut.trials).toHaveLength(5);
    const words = answer.sentences.join(" ");
    expect(words).toContain(
      `Left out in turn, ${leftOut.trials.filter(({ inside }) => inside).length} of 5 trials fell inside their range; 4.8 expected.`,
    );
    expect(words).toContain(`(p ${check.p.toFixed(2)})`);
    const figure = answer.figures.find(({ name }) => name === "left-out");
    const [drawn] = drawnFigures(structuredClone(figure!));
    expect(drawn!.data.map(({ study, found }) => [study, found])).toEqual(
      [...leftOut.trials]
        .sort((a, b) => b.estimate - a.estimate)
        .map(({ study, found }) => [study, found]),
    );
    // what a trial found is the mean of its arms
    for (const { arms, found } of leftOut.trials)
      expect(found).toBeCloseTo(arms.reduce((sum, arm) => sum + arm.found, 0) / arms.length, 12);
  });

  test("the session is said, drawn and judged; cautions and soreness come along in data too", async () => {
    const answer = await sizeOf();
    expect(answer.sentences[0]).toMatch(/^4 × 30 s at 60%.* Can it be held\? /);
    expect(answer.figures.find(({ name }) => name === "sessions")?.data).toMatchObject({
      id: "hold-strip",
      sessions: [{ summary: "2 min of tension, 6 min 30 s long" }],
    });
    expect(answer.cautions?.form).toBe("full");
    expect(answer.data.cautions).toEqual(answer.cautions);
    expect(answer.tables.find(({ id }) => id === "soreness")!.rows).toHaveLength(
      answer.data.soreness.length,
    );
  });

  test("confidence, one correlation, conditions and priors reach the numbers and are named", async () => {
    const usual = rangesOf(await sizeOf());
    const narrow = await sizeOf({ confidence: 0.8 });
    expect(rangesOf(narrow).average.low).toBeGreaterThan(usual.average.low);
    expect(narrow.headline).toContain("(80% range ");
    expect(narrow.data.confidence).toBe(0.8);
    for (const options of [
      { correlation: 0.5 },
      { where: "study!=Invented 03" },
      { contrast: "against-control" },
      { prior: ["study-scale=0.3"] },
      { trainingStatus: "resistance-trained" },
    ]) {
      const answer = await sizeOf(options);
      expect(rangesOf(answer).average.estimate, JSON.stringify(options)).not.toBe(
        usual.average.estimate,
      );
      expect(answer.data.question.options).toMatchObject(
        "prior" in options ? { prior: { studyScale: 0.3 } } : options,
      );
    }
    const asked = await sizeOf({ prior: { studyScale: 0.3, slopeDeviation: "flat" } });
    expect(asked.headline).toMatch(
      /, with the priors asked for: study-scale 0\.3, slope-deviation flat\.$/,
    );
    // What an answer says it was asked can be asked again.
    expect(await ask("project", asked.data.question.options, fiveTrials)).toEqual(asked);
  });

  test("a moved slider learns nothing anew from the file", async () => {
    const told: string[] = [];
    const moved = async (options: Readonly<Record<string, unknown>>) =>
      ask(
        "project",
        { goal: "size", where: "weeks>=9", protocol: longHolds, ...options },
        fiveTrials,
        (line) => told.push(line),
      );
    await moved({});
    await moved({ protocol: "4 x 30 s at 65%, rest 90 s, 3/week, 12 weeks, long, knee" });
    await moved({ confidence: 0.5, worthwhile: 3, joint: "knee", name: "mine" });
    await ask(
      "compare",
      { protocol: [longHolds, longHolds], goal: "size", where: "weeks>=9" },
      fiveTrials,
      (line) => told.push(line),
    );
    expect(told.filter((line) => line.startsWith("learning"))).toHaveLength(1);
    await moved({ correlation: 0.6 });
    expect(told.filter((line) => line.startsWith("learning"))).toHaveLength(2);
  });

  test("a name leads the words and ends the names of files", async () => {
    const answer = await sizeOf({ name: "Long holds" });
    expect(answer.headline).toMatch(/^Long holds: Size after 12 weeks/);
    expect(answer.tables.map(({ id }) => id)).toContain("projection-size-long-holds");
    expect(answer.figures.map(({ data }) => data.id)).toEqual([
      "hold-strip-long-holds",
      "projection-size-long-holds",
      // the trials themselves are the same for every protocol, so the report draws them once
      "left-out-size",
    ]);
  });
});

describe("which tests stand in the answer", () => {
  const trained = (study: number, more: Readonly<Record<string, string | number>> = {}) =>
    outcomeRow(`Study ${study}`, 110 + 2 * study, {
      training_angle_degrees: "60",
      angle_convention: "full extension is 0",
      test_angle_degrees: 60,
      ...more,
    });
  const few = [1, 2, 3, 4].map((study) => trained(study));
  const strength = async (
    rows: readonly Readonly<Record<string, string | number>>[],
    options: Readonly<Record<string, unknown>> = {},
  ) =>
    ask(
      "project",
      { protocol: "4 x 20 s at 70%, rest 60 s", ...options },
      evidenceOf(codebookText(rows)),
    );

  test("other ways of testing, other angles and earlier weeks change no number, and are said", async () => {
    const usual = await strength(few);
    const wider = await strength([
      ...few,
      trained(1, { test_mode: "lifting", post_mean: 160, outcome: "one-repetition maximum" }),
      trained(2, { test_angle_degrees: 66, post_mean: 105 }),
      trained(3, { week_measured: 4, post_mean: 103 }),
    ]);
    expect(rangesOf(wider)).toEqual(rangesOf(usual));
    expect(wider.sentences).toContain(
      "4 of 6 effects of strength stand in this answer: tests within 5° of an angle trained at, and of these the last in training.",
    );
    expect(wider.sentences).toContain(
      "Not used, as a projection is about isometric tests: strength, tested by lifting (1 effect).",
    );
    expect(usual.sentences.join(" ")).not.toContain("stand in this answer");
    expect(wider.data.rowsUsed).toEqual([2, 3, 4, 5]);
  });

  test("an isometric test whose name speaks of lifting is isometric, as it is coded", async () => {
    const named = await strength([
      ...few,
      trained(5, { outcome: "isometric strength at the lift-off angle" }),
    ]);
    expect(named.data.rowsUsed).toHaveLength(5);
  });

  test("an arm without a near test is left out and named", async () => {
    const { sentences, data } = await strength([...few, trained(5, { test_angle_degrees: 80 })]);
    expect(sentences).toContain(
      "Left out of the headline, as no test lies within 5° of an angle trained at: Study 5, trained (nearest 20°).",
    );
    expect(data.rowsUsed).toEqual([2, 3, 4, 5]);
  });

  test("strength elsewhere rests on the last test at every angle", async () => {
    const { sentences, data } = await strength(
      [
        ...few,
        ...[1, 2, 3, 4].flatMap((study) => [
          trained(study, { test_angle_degrees: 90, post_mean: 104 + study }),
          trained(study, { test_angle_degrees: 90, post_mean: 101, week_measured: 4 }),
        ]),
      ],
      { goal: "elsewhere" },
    );
    expect(data.rowsUsed).toEqual([2, 3, 4, 5, 6, 8, 10, 12]);
    expect(sentences).toContain(
      "8 of 12 isometric tests of strength stand in this answer: the last in training at each angle.",
    );
  });
});

describe("what cannot be answered is answered in words", () => {
  test.each([
    [
      { goal: "rapid force" },
      "no-effects",
      /^Nothing is projected for rapid force: the file has no effect for the goal "rapid force"/,
    ],
    [
      { protocol: "1 x 1 s at 10%, 7/week, 60 weeks, short, neck" },
      "no-evidence-near",
      /^Nothing is projected for size: no arm of the file lies within 4 steps of this protocol; the nearest is /,
    ],
    [
      { protocol: "4 x 30 s, rest 60 s" },
      "missing-field",
      /^Nothing is projected for size: "4 × 30 s, rest 60 s" does not say intensity; give the intensity/,
    ],
    [
      { scale: "raw mean difference" },
      "other-scale",
      /^Nothing is projected for size: gains are projected in percent, on the scale log-ratio-of-means, and raw-mean-difference was asked for\.$/,
    ],
    [
      { where: "study=Invented 03" },
      "few-studies",
      /^Nothing is projected for size: the goal "size" has usable effects of 1 study/,
    ],
  ] as const)("%j", async (options, code, headline) => {
    const answer = await sizeOf(options);
    expect(answer.headline).toMatch(headline);
    expect(answer.data.refusal).toMatchObject({ kind: "refusal", code });
    expect(answer.data.answer).toBe(null);
    expect(answer.cautions?.form).toBe("full");
    expectPlain(answer, project);
  });

  test("the nearest arm of a refusal stands in its table and in data", async () => {
    const answer = await sizeOf({ protocol: "1 x 1 s at 10%, 7/week, 60 weeks, short, neck" });
    const { nearest } = answer.data.refusal as unknown as {
      nearest: { citation: string; distance: number };
    };
    const [row] = answer.tables.find(({ id }) => id === "nearest-size")!.rows;
    expect(row!["citation"]).toBe(nearest.citation);
    expect(row!["distance"]).toBe(nearest.distance.toFixed(1));
  });
});
