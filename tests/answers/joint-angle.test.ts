/** Kinds of evidence: identities between what is said, tabled, drawn and handed over. */
import { expect, test } from "vitest";
import { answerSchema } from "../../src/answers/answer.js";
import { ask } from "../../src/answers/ask.js";
import { effectsOf } from "../../src/answers/evidence.js";
import { headlineGroups } from "../../src/answers/headline-selection.js";
import { jointAngleQuestion } from "../../src/answers/joint-angle.js";
import { jointAngle, type JointAngle } from "../../src/dose/joint-angle.js";
import { percentFromLogRatio } from "../../src/effects/percent-from-log-ratio.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { formatNumber } from "../../src/tables/number-format.js";
import { codebookText, evidenceOf, outcomeRow, shippedEvidence } from "./evidence-under-test.js";

const demo = shippedEvidence("demo-register.csv");
const percent = (value: number): string => formatNumber(percentFromLogRatio(value), { digits: 1 });
const whole = (value: number): string => String(Math.round(value));
const answersIn = ({ data }: { data: object }) =>
  (data as { answers: readonly { family: string; answer: JointAngle }[] }).answers;

test("headline, table, figure and data carry the same digits, of all angles and weeks", async () => {
  const answer = await ask("joint-angle", {}, demo);
  const [strength] = answersIn(answer);
  const [group] = headlineGroups(effectsOf(demo, {}));
  expect(strength!.answer).toEqual(JSON.parse(JSON.stringify(jointAngle(group!.all))));
  const table = answer.tables[0]!;
  for (const curve of strength!.answer.lengths) {
    const { halfWidth, level, left, average, muscleLength, studies, people } = curve;
    const row = table.rows.find(({ length }) => length === `${muscleLength} length`);
    if (halfWidth.kind === "refusal" || level.kind === "refusal" || average.kind === "refusal")
      continue;
    const limits = `${whole(halfWidth.interval.low!)}° to ${whole(halfWidth.interval.high!)}°`;
    expect(answer.headline).toContain(
      `${whole(halfWidth.degrees)}° away after training at ${muscleLength} muscle length (95% interval ${limits})`,
    );
    expect(row).toMatchObject({
      evidence: `${studies}, ${people}`,
      level: `${percent(level.estimate)}% (${percent(level.interval.low)} to ${percent(level.interval.high)})`,
      average: `${percent(average.estimate)}% (${percent(average.interval.low)} to ${percent(average.interval.high)})`,
    });
    expect(row!.width).toBe(`${whole(halfWidth.degrees)}° (${limits}) †`);
    left.forEach(({ degrees, share, interval }) =>
      expect(row![`left ${degrees}`]).toBe(
        `${whole(100 * share)}% (${whole(100 * interval.low)} to ${whole(100 * interval.high)})`,
      ),
    );
    expect(new Set(Object.values(row!)).size).toBe(Object.keys(row!).length);
  }
  const [figure] = answer.figures;
  expect(figure).toMatchObject({ name: "joint-angle", data: { answer: strength!.answer } });
  expect(drawnFigures(structuredClone(figure!))[0]!.id).toBe("joint-angle-strength");
  expect(structuredClone(answer)).toEqual(answer);
  answerSchema(jointAngleQuestion.data).parse(answer);
  const points = strength!.answer.lengths.flatMap((curve) => curve.points);
  expect(answer.data.rowsUsed).toHaveLength(points.length);
});

test("distances, rows and confidence reach the numbers", async () => {
  const usual = await ask("joint-angle", {}, demo);
  const [given] = answersIn(await ask("joint-angle", { degrees: "5; 12,5" }, demo));
  expect(given!.answer.lengths[0]!.left.map(({ degrees }) => degrees)).toEqual([5, 12.5]);
  for (const options of [
    { confidence: 0.9 },
    { correlation: 0.5 },
    { outcomeCorrelations: "none" },
  ])
    expect(JSON.stringify(answersIn(await ask("joint-angle", options, demo)))).not.toBe(
      JSON.stringify(answersIn(usual)),
    );
});

test("no second distance: what is missing, and what rows there are", async () => {
  const answer = await ask(
    "joint-angle",
    {},
    evidenceOf(codebookText([outcomeRow("A", 111), outcomeRow("B", 117)])),
  );
  expect(answer.headline).toBe(
    "No answer: no outcome was tested at two distances from a trained angle, in 2 effects of 2 studies.",
  );
  expect(answer.data.refusal).toMatchObject({ code: "one-distance" });
});

test("too few studies: the effects are drawn and the reason is said", async () => {
  const angles = [60, 75, 90].flatMap((test_angle_degrees, place) => [
    outcomeRow("A", 120 - 4 * place, {
      training_angle_degrees: 60,
      angle_convention: "full extension is 0",
      muscle_length: "short",
      test_angle_degrees,
    }),
  ]);
  const answer = await ask("joint-angle", {}, evidenceOf(codebookText(angles)));
  expect(answer.headline).toMatch(
    /^Strength: no width, as 1 study with .* at least 3 are needed\.$/,
  );
  expect(answer.data.refusal).toMatchObject({ kind: "refusal", code: "not-told" });
  expect(answer.sentences[0]).toContain("short length: 3 effects of 1 study");
  // The same effects by their distance from the trained angle, and by the angle of their test.
  expect(answer.figures.map(({ name }) => name)).toEqual(["joint-angle", "test-angle"]);
});
