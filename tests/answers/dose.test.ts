/** Kinds of evidence: identities between what is said, tabled, drawn and handed over. */
import { describe, expect, test } from "vitest";
import { answerSchema } from "../../src/answers/answer.js";
import { ask } from "../../src/answers/ask.js";
import { dose } from "../../src/answers/dose.js";
import { effectsOf } from "../../src/answers/evidence.js";
import { headlineGroups } from "../../src/answers/headline-selection.js";
import { evaluateCurve, type AveragedCurve } from "../../src/dose/averaged-curve.js";
import { axisWords, doseAxisNames } from "../../src/dose/dose-axes.js";
import { doseResponse, type DoseCurve } from "../../src/dose/dose-response.js";
import type { SeveralDoses } from "../../src/dose/several-doses.js";
import { shapeNames } from "../../src/dose/shapes/shape.js";
import { withinBetweenSlope, type SlopeAnswer } from "../../src/dose/within-between-slope.js";
import type { EffectSet } from "../../src/effects/effect.js";
import { percentFromLogRatio } from "../../src/effects/percent-from-log-ratio.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { formatNumber } from "../../src/tables/number-format.js";
import { codebookText, evidenceOf, outcomeRow, shippedEvidence } from "./evidence-under-test.js";

const demo = shippedEvidence("demo-register.csv");
const percent = (value: number): string => formatNumber(percentFromLogRatio(value), { digits: 1 });
const range = ({ low, high }: { low: number; high: number }): string =>
  `${percent(low)} to ${percent(high)}`;
const curveIn = ({ data }: { data: object }): DoseCurve => (data as { answer: DoseCurve }).answer;
type SlopeTold = Exclude<SlopeAnswer, { kind: "refusal" }>;
const asked = { on: "tension time", outcome: "size", draws: 300 } as const;

describe("one dose", () => {
  test("headline, table, figure and data carry the same digits, each number its own", async () => {
    const answer = await ask("dose", asked, demo);
    const curve = curveIn(answer);
    const { within, between, difference } = curve.slopes;
    if (within.kind === "refusal" || between.kind === "refusal" || difference.kind === "refusal")
      throw new Error("three slopes");
    const perStep = [within, between, difference].map(({ robust }) => ({
      change: percent(30 * robust.estimate),
      limits: range({ low: 30 * robust.interval.low, high: 30 * robust.interval.high }),
    }));
    expect(new Set(perStep.flatMap((one) => Object.values(one))).size).toBe(6);
    // Three degrees of freedom behind the curve: no interval of it leads.
    expect(curve.readOffs.whole.added.degreesOfFreedom).toBeLessThan(4);
    expect(answer.headline).toMatch(
      /^Size against tension time in a session, before to after: worth testing: more tension time in a session; the curve rests on 3\.\d degrees of freedom, too few for an interval to rely on\.$/,
    );
    const { headline } = await ask("dose", { on: "hold", outcome: "size", draws: 300 }, demo);
    const { whole, steps } = curveIn(
      await ask("dose", { on: "hold", outcome: "size", draws: 300 }, demo),
    ).readOffs;
    const said = ({ estimate, interval }: typeof whole.added, before = "", sign = "") =>
      `${percent(estimate)}% (${before}${range(interval)}${sign})`;
    expect(headline).toBe(
      `Size against hold length, before to after: cannot be separated from rest between holds (r 0.99 inside 7 studies). Read off the curve, 1 to 30 s: ${said(whole.added, "95% interval ", "%")}; 1 to 11 s: ${said(steps[0]!.added)}; 20 to 30 s: ${said(steps.at(-1)!.added)}.`,
    );
    expect(new Set([whole, steps[0]!, steps.at(-1)!].map(({ added }) => said(added))).size).toBe(3);
    const [slopes, readOffs, shapes] = answer.tables;
    expect(slopes!.rows.slice(0, 3).map(({ adds }) => adds)).toEqual(
      perStep.map(({ change, limits }) => `${change}% (${limits})`),
    );
    slopes!.rows.slice(0, 3).forEach(({ freedom, p }, index) => {
      const { degreesOfFreedom, p: exact } = [within, between, difference][index]!.robust;
      expect(Number(freedom)).toBeCloseTo(degreesOfFreedom, 0);
      expect(Number(p)).toBeCloseTo(exact, 3);
    });
    const [lowest] = curve.curve.filter(({ supported }) => supported);
    expect(readOffs!.rows.find(({ quantity }) => quantity === "Gain at 24 s")!.value).toBe(
      `${percent(lowest!.estimate)}% (${range(lowest!.interval)})`,
    );
    expect(shapes!.place).toBe("folded");
    const likeliest = [...curve.shapes]
      .flatMap((shape) => (shape.kind === "told" ? [shape] : []))
      .sort((a, b) => b.weight - a.weight)[0]!;
    expect(shapes!.rows[0]).toMatchObject({
      shape: likeliest.label,
      weight: `${Math.round(100 * likeliest.weight)}%`,
      weightExact: String(likeliest.weight),
      logLikelihood: String(likeliest.logLikelihood),
    });
    const [figure, map] = answer.figures;
    expect(figure).toMatchObject({ name: "dose-curve", data: { answer: curve } });
    expect([figure, map].map((one) => one!.data.id)).toEqual([
      "dose-size-tension-time-per-session-seconds",
      "doses-together-size-tension-time-per-session-seconds",
    ]);
    for (const one of answer.figures)
      expect(drawnFigures(structuredClone(one))[0]!.id).toBe(one.data.id);
  });

  test("plain JSON by its schema; the curve can be read at any dose from what crossed", async () => {
    const answer = await ask("dose", { ...asked, at: "60, 900" }, demo);
    expect(structuredClone(answer)).toEqual(answer);
    expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
    answerSchema(dose.data).parse(answer);
    const { averaged, at } = (
      structuredClone(answer.data) as never as {
        answer: {
          averaged: AveragedCurve;
          at: readonly { kind: string; dose: number; point?: { estimate: number } }[];
        };
      }
    ).answer;
    const read = evaluateCurve(averaged, 60);
    expect(at).toMatchObject([
      { kind: "told", dose: 60, point: { estimate: read.estimate } },
      { kind: "refusal", dose: 900 },
    ]);
    const values = answer.tables[1]!.rows.filter(({ quantity }) =>
      quantity!.endsWith("(asked for)"),
    );
    expect(values.map(({ value }) => value)).toEqual([
      `${percent(read.estimate)}% (${range(read.interval)})`,
      "not told: 900 s lies outside the doses compared, 24 s to 240 s; nothing is said there",
    ]);
  });

  test("all angles and weeks stand under the headline with digits of their own", async () => {
    const answer = await ask("dose", { on: "hold", outcome: "strength", draws: 300 }, demo);
    const [strength] = headlineGroups(effectsOf(demo, {}));
    const curve = doseResponse(strength!.headline, "holdSeconds", { draws: 100 }) as DoseCurve;
    const { estimate, interval } = curve.readOffs.whole.added;
    expect(answer.headline).toContain(`${percent(estimate)}% (95% interval ${range(interval)}%)`);
    const lineOf = (set: EffectSet): string => {
      const { robust: r } = withinBetweenSlope(set, "holdSeconds").within as SlopeTold;
      return `10 more seconds of hold adds ${percent(10 * r.estimate)}% (95% interval ${percent(10 * r.interval.low)} to ${percent(10 * r.interval.high)}%)`;
    };
    expect(lineOf(strength!.headline)).not.toBe(lineOf(strength!.all));
    const said = answer.sentences.find((one) => one.startsWith("All angles and weeks: "));
    expect(said).toContain(lineOf(strength!.all));
    expect(curveIn(answer).effects).toBe(strength!.headline.effects.length);
    expect(answer.data.rowsUsed).toHaveLength(strength!.headline.effects.length);
  });

  test("rows, correlation, confidence, assumptions and comparisons reach the numbers", async () => {
    const usual = await ask("dose", asked, demo);
    for (const options of [
      { confidence: 0.9 },
      { correlation: 0.5 },
      { where: "weeks>=10" },
      { outcomeCorrelations: "none" },
      { comparisons: "between" },
      { shapes: "straight-line" },
      { step: 15 },
      { form: "two-stage", shapes: "straight-line" },
      { draws: 200 },
      { seed: 3 },
    ]) {
      const other = await ask("dose", { ...asked, ...options }, demo);
      expect(JSON.stringify(curveIn(other)), JSON.stringify(options)).not.toBe(
        JSON.stringify(curveIn(usual)),
      );
    }
    const ninety = await ask("dose", { ...asked, on: "hold", confidence: 0.9 }, demo);
    expect(ninety.headline).toContain("90% interval");
    expect(curveIn(ninety).confidence).toBe(0.9);
  });

  test("no answer says what is missing and what rows there are", async () => {
    const asked = { on: "sessions-per-week", outcome: "size", borrowedSpread: "none" };
    const answer = await ask("dose", asked, demo);
    expect(answer.data.refusal).toMatchObject({ kind: "refusal", code: "one-dose" });
    expect(answer.headline).toBe(
      "Size against sessions a week: no answer, as all arms have the same number of sessions a week, 3: no slope for sessions a week. In the file, but without a weight: Invented 27 (3 sessions a week), for want of a spread, an interval of the change, or its t, F or p value.",
    );
    expect(answer.sentences[0]).toBe(
      "48 effects of 20 studies with 706 people; none of them compares arms at different doses.",
    );
    expect(answer.figures).toEqual([]);
    answerSchema(dose.data).parse(structuredClone(answer));
  });

  test("distance and weeks say which question uses the tests a headline leaves out", async () => {
    const distance = await ask("dose", { on: "angle distance", outcome: "strength" }, demo);
    expect(distance.sentences.join(" ")).toContain("The question joint-angle uses");
    const weeks = await ask("dose", { on: "weeks", outcome: "strength", draws: 200 }, demo);
    expect(weeks.sentences.join(" ")).toContain("The question time uses");
  });
});

describe("kinds of outcome", () => {
  const rows = ["A", "B", "C", "D", "E"].flatMap((study, place) =>
    [5, 20].flatMap((seconds, arm) => {
      const row = (post: number, more: Record<string, string | number>) =>
        outcomeRow(study, post, {
          arm: `hold ${seconds}`,
          hold_seconds: seconds,
          intensity_percent: 70,
          ...more,
        });
      return [
        row(110 + 7 * arm + place, {}),
        row(120 + place, { test_mode: "lifting", outcome: "one-repetition maximum", unit: "kg" }),
        row(105 + 2 * arm, { outcome: "stiffness", outcome_family: "other", unit: "N/mm" }),
        row(103 + arm, { outcome: "activation", outcome_family: "other", unit: "%" }),
      ];
    }),
  );
  const file = evidenceOf(codebookText(rows));

  test("each way of testing, and each outcome of the family other, has an answer of its own", async () => {
    const answer = await ask("dose", { on: "hold", draws: 200 }, file);
    expect(answer.data.groups.map(({ id }) => id)).toEqual([
      "strength",
      "strength-lifting",
      "other-activation",
      "other-stiffness",
    ]);
    expect(answer.headline).toMatch(/^Strength against hold length/);
    for (const name of ["Strength, tested by lifting", "Other: activation", "Other: stiffness"])
      expect(answer.sentences.some((one) => one.startsWith(`${name} against`))).toBe(true);
    const ids = [
      ...answer.tables.map(({ id }) => id),
      ...answer.figures.map(({ data }) => data.id),
    ];
    expect(new Set(ids).size).toBe(ids.length);
  });

  test("one way of testing, a family of several outcomes, or one outcome", async () => {
    const groups = async (outcome: string) =>
      (await ask("dose", { on: "hold", outcome, draws: 200 }, file)).data.groups.map(
        ({ id, outcome: name }) => [id, name],
      );
    expect((await groups("strength")).map(([id]) => id)).toEqual(["strength"]);
    expect((await groups("strength lifting")).map(([id]) => id)).toEqual(["strength-lifting"]);
    expect((await groups("other")).map(([id]) => id)).toEqual([
      "other-activation",
      "other-stiffness",
    ]);
    expect(await groups("Activation")).toEqual([["other-activation", "other: activation"]]);
    expect(await groups("peak-isometric torque")).toEqual([
      ["strength-peak-isometric-torque", "strength: peak isometric torque"],
    ]);
  });
});

describe("several doses", () => {
  test("headline, table and data carry the same digits, products included", async () => {
    const answer = await ask(
      "dose",
      { on: "intensity, hold-seconds", outcome: "strength", interactions: "intensity by hold" },
      demo,
    );
    const { terms, pairs } = (answer.data as never as { answer: SeveralDoses }).answer;
    const steps = [10, 10, 100];
    const [slopes, moves] = answer.tables;
    terms.forEach(({ within, correlationWithOthers }, place) => {
      if (within.kind === "refusal") throw new Error("a slope");
      const { estimate, interval, degreesOfFreedom, p } = within.robust;
      const step = steps[place]!;
      const limits = range({ low: step * interval.low, high: step * interval.high });
      const row = slopes!.rows[place]!;
      expect(row.adds).toBe(`${percent(step * estimate)}% (${limits})`);
      expect(row.freedom).toBe(formatNumber(degreesOfFreedom, { digits: 1 }));
      expect(Number(row.p)).toBeCloseTo(p, 3);
      expect(Number(row.together)).toBeCloseTo(correlationWithOthers!, 2);
      expect(answer.headline).toContain(
        `adds ${percent(step * estimate)}% (95% interval ${limits}%)`,
      );
    });
    expect(answer.headline).toMatch(
      /^Strength against intensity, hold length together, the others held still: 10 more points of MVC adds/,
    );
    const [{ within, between }] = pairs as never as [
      { within: { r: number; studies: number }; between: { r: number; studies: number } },
    ];
    expect(moves!.rows[0]).toMatchObject({
      within: `${formatNumber(within.r, { digits: 2 })} (${within.studies})`,
      between: `${formatNumber(between.r, { digits: 2 })} (${between.studies})`,
    });
    expect(within).not.toEqual(between);
    expect(answer.figures).toMatchObject([{ name: "doses-together", data: { pairs } }]);
    answerSchema(dose.data).parse(structuredClone(answer));
  });

  test("options of one dose, and of several, are not mixed", async () => {
    const two = { on: "weeks, sets", outcome: "size" };
    for (const options of [{ at: "3" }, { shapes: "peak" }, { comparisons: "within" }])
      await expect(ask("dose", { ...two, ...options }, demo)).rejects.toThrow(
        /requires one dose in --on, got weeks, sets/,
      );
    await expect(ask("dose", { on: "weeks", interactions: "weeks by sets" }, demo)).rejects.toThrow(
      /--interactions requires both doses/,
    );
    await expect(ask("dose", { ...two, interactions: "weeks by hold" }, demo)).rejects.toThrow(
      /--interactions requires both doses of every product in --on/,
    );
  });
});

test("without a dose: what the file can tell about each, and the doses that move together", async () => {
  const answer = await ask("dose", {}, demo);
  const groups = answer.data.groups as never as {
    id: string;
    told: {
      label: string;
      evidence: string;
      support: { studies: number; studiesWithin: number };
    }[];
  }[];
  // Where no dose can be told, as of symptoms, the table of what single trials compared comes before.
  const own = answer.tables.filter(({ id }) => !id.startsWith("single-trials"));
  expect(own.map(({ id }) => id)).toEqual(groups.map(({ id }) => `${id}-doses-told`));
  expect(answer.tables.map(({ id }) => id)).toContain("single-trials-symptoms");
  groups.forEach(({ told }, place) => {
    const { rows } = own[place]!;
    expect(rows).toHaveLength(told.length);
    told.forEach(({ label, evidence, support }, index) => {
      expect(rows[index]).toMatchObject({
        axis: label,
        studies: String(support.studies),
        comparing: String(support.studiesWithin),
      });
      expect(rows[index]!.verdict).toMatch(
        evidence === "within studies"
          ? /^told by arms of the same study$/
          : evidence === "none"
            ? /^no answer: /
            : /^told by differences between studies only: /,
      );
    });
  });
  expect(answer.headline).toMatch(/^Strength: arms of the same study compare hold length, /);
  expect(answer.sentences.at(-1)).toBe(
    "Symptoms: no dose can be told, as too few studies differ in one, in 4 effects of 2 studies.",
  );
  expect(answer.figures[0]).toMatchObject({
    name: "doses-together",
    data: { id: "doses-together-strength" },
  });
  answerSchema(dose.data).parse(structuredClone(answer));
});

describe("words that name doses, shapes and products", () => {
  const read = (given: Readonly<Record<string, unknown>>) =>
    ask("dose", { outcome: "size", ...given }, demo).then(({ data }) => data.question.options);

  test("a dose is known by its name, with hyphens, as a column, and by its label", () => {
    for (const name of doseAxisNames) {
      const hyphens = name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
      for (const word of [hyphens, hyphens.replaceAll("-", "_"), ...axisWords(name)])
        expect(dose.options.on.parse(word)).toEqual([name]);
    }
    expect(dose.options.on.parse("intensity, hold_seconds,hold-seconds")).toEqual([
      "intensityPercent",
      "holdSeconds",
    ]);
  });

  test("a wrong word is told the nearest", async () => {
    await expect(read({ on: "hold-secnds" })).rejects.toThrow(
      /--on requires .*got "hold-secnds".*did you mean hold-seconds/,
    );
    await expect(read({ on: "colour" })).rejects.toThrow(/intensity-percent, hold-seconds/);
    await expect(read({ on: " , " })).rejects.toThrow(/--on requires/);
    await expect(read({ on: "hold", shapes: "staight-line" })).rejects.toThrow(
      /--shapes.*did you mean straight-line/,
    );
    await expect(read({ on: "hold", outcome: "strenght" })).rejects.toThrow(
      /--outcome requires .*got "strenght".*did you mean strength/,
    );
    await expect(read({ on: "hold", contrast: "between-arms" })).rejects.toThrow(
      /--contrast requires one of change-within-arm/,
    );
  });

  test("shapes by name, or all of them; comparisons by either of their names", () => {
    expect(dose.options.shapes.parse("straight-line,restricted_cubic_spline, peak")).toEqual([
      "straight line",
      "restricted cubic spline",
      "peak",
    ]);
    expect(dose.options.shapes.parse("all")).toEqual(shapeNames);
    for (const word of ["both", "within-and-between-together"])
      expect(dose.options.comparisons.parse(word)).toBe("within and between together");
  });

  test("products of two doses", async () => {
    const pair = ["intensityPercent", "holdSeconds"];
    const { interactions } = dose.options;
    expect(interactions.parse("intensity by hold")).toEqual([pair]);
    expect(interactions.parse([["intensity", "hold"]])).toEqual([pair]);
    expect(interactions.parse("intensity_percent × hold-seconds, weeks by sets")).toEqual([
      pair,
      ["weeks", "sets"],
    ]);
    for (const wrong of ["intensity", "intensity by hold by weeks"])
      await expect(read({ on: "intensity,hold", interactions: wrong })).rejects.toThrow(
        /--interactions requires pairs such as intensity by hold/,
      );
  });

  test("numbers, with decimal commas where semicolons separate", async () => {
    const { at } = dose.options;
    expect(at.parse("5, 10.5,-3")).toEqual([5, 10.5, -3]);
    expect(at.parse("2,5; 10")).toEqual([2.5, 10]);
    await expect(read({ on: "hold", at: "5,,6" })).rejects.toThrow(/--at requires numbers/);
    await expect(read({ on: "hold", knots: "five" })).rejects.toThrow(/--knots.*got "five"/);
    await expect(read({ on: "hold", step: "-1" })).rejects.toThrow(
      /--step requires a step above 0/,
    );
  });
});
