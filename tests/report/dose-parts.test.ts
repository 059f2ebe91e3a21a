/** Kinds of evidence: identities between the report's parts and the answers they are made of. */
import { expect, test } from "vitest";
import { ask, boundAsk } from "../../src/answers/ask.js";
import { dosePart, specialQuestionsPart, variablesPart } from "../../src/report/dose-parts.js";
import { placedAnswers } from "../../src/report/report-part.js";
import { evidenceOf, evidenceOfText } from "./demo-report.js";

const demo = evidenceOf("demo-register.csv");
const askDemo = boundAsk(demo);
const contrast = "change-within-arm";

const plainFile = [
  "study,arm,arm_kind,intensity_percent,hold_seconds,outcome,outcome_family,n_end,statistic,pre_mean,pre_spread,post_mean,post_spread,spread_kind,pre_post_correlation",
  ...[110, 120, 115].map(
    (post, place) =>
      `${"abc"[place]},1,isometric,100,6,torque,strength,12,means at both times,100,15,${post},16,standard deviation,0.8`,
  ),
].join("\n");

test("the variables part is the answer as every door gives it", async () => {
  const part = (await variablesPart(askDemo, {}))!;
  expect(part.answers.map(({ answer }) => answer)).toEqual([
    await ask("variables", { contrast }, demo),
  ]);
  const ids = part.answers[0]!.answer.tables.map(({ id }) => id);
  // What single trials compared stands beside the pooled variables, and in their place for symptoms.
  expect(ids).toEqual([
    "variables-strength",
    "single-trials-strength",
    "variables-size",
    "single-trials-size",
    "variables-tendon",
    "single-trials-tendon",
    "single-trials-symptoms",
    "variables",
  ]);
});

test("curves of doses compared inside studies, at most two a family, then what every dose can tell", async () => {
  const part = (await dosePart(askDemo, {}))!;
  const curves = part.answers.slice(0, -1);
  expect(curves.map(({ id }) => id)).toEqual([
    "dose-strength-holdSeconds",
    "dose-strength-intensityPercent",
    "dose-size-holdSeconds",
    "dose-size-intensityPercent",
    "dose-tendon-holdSeconds",
  ]);
  for (const { answer } of curves) {
    expect(answer.figures.map(({ name }) => name)).toEqual(["dose-curve"]);
    expect(answer.data.refusal).toBeNull();
    const { options } = answer.data.question as { options: Record<string, unknown> };
    const direct = await ask("dose", options, demo);
    expect(answer.headline).toBe(direct.headline);
    // What single trials compared stands once in a report, with the variables.
    expect(answer.tables).toEqual(
      direct.tables.filter(({ id }) => !id.startsWith("single-trials")),
    );
  }
  const last = part.answers.at(-1)!;
  expect(last.answer.headline).toBe((await ask("dose", { contrast }, demo)).headline);
  expect(last.answer.figures.map(({ data }) => data.id)).toEqual(["doses-together-strength"]);
  const figures = part.answers.flatMap(({ answer }) => answer.figures.map(({ data }) => data.id));
  expect(new Set(figures).size).toBe(figures.length);
});

test("a file without a dose that varies: no curve, and what is missing for each dose", async () => {
  const part = (await dosePart(boundAsk(evidenceOfText(plainFile)), {}))!;
  expect(part.lead[0]).toMatch(/^No dose of this file can be set against the gain/);
  expect(part.answers).toHaveLength(1);
  const intensity = part.answers[0]!.answer.tables[0]!.rows.find((row) => row.axis === "intensity");
  expect(intensity!.verdict).toBe(
    "no answer: all arms train at 100% of MVC: no slope for intensity",
  );
});

test("the four questions of their own stand with their figures; without occasion they are left out", async () => {
  const part = (await specialQuestionsPart(askDemo, { allFigures: true }))!;
  expect(part.answers.map(({ answer }) => answer.data.question.id)).toEqual([
    "isometric-or-dynamic",
    "joint-angle",
    "time",
    "equal-tension",
  ]);
  const ids = placedAnswers({ source: demo.source, parts: [part] }).flatMap(({ answer }) => [
    ...answer.figures.map(({ data }) => data.id),
    ...answer.tables.map(({ id }) => `table ${id}`),
  ]);
  expect(ids).toContain("joint-angle-strength");
  expect(ids).toContain("time-course-strength");
  expect(ids).toContain("equal-tension-hold-length-size");
  expect(new Set(ids).size).toBe(ids.length);
  // Unless all are asked for, those that are read: one of angles, one of weeks, two of equal tension.
  const shown = (await specialQuestionsPart(askDemo, {}))!.answers;
  expect(shown.slice(-3).map(({ answer }) => answer.figures.length)).toEqual([1, 1, 2]);
  expect(await specialQuestionsPart(boundAsk(evidenceOfText(plainFile)), {})).toBeUndefined();
});

test("the report's own options reach its doses", async () => {
  const narrow = boundAsk(demo, { where: "weeks>=10", confidence: 0.9 });
  const [one] = (await dosePart(narrow, {}))!.answers;
  expect(one!.answer.headline).toContain("90% interval");
  expect(one!.answer.data.question.options).toMatchObject({ where: "weeks>=10", confidence: 0.9 });
  const raw = await variablesPart(boundAsk(demo, { scale: "raw-mean-difference" }), {});
  expect(raw).toBeUndefined();
});
