/** Numbers of effects and studies are the same in the sentence, the figure and the table beside it. */
import { expect, test } from "vitest";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { placedAnswers } from "../../src/report/report-part.js";
import { reportOn } from "../../src/report/report-parts.js";
import { firstWave, historicEvidence, shippedEvidence } from "../answers/evidence-under-test.js";

const pattern =
  /([\d,]+)(?: of [\d,]+)? (?:isometric )?(?:effects?|tests?),?(?: (?:of|in|from))* ([\d,]+)(?: of [\d,]+)? stud(?:y|ies)/g;
const whole = /[\d,]+ of ([\d,]+) effects, from [\d,]+ of ([\d,]+) studies/g;

/** Pairs of effects and studies that a text names: those of the whole where a page shows a part. */
const countsIn = (text: string): readonly string[] => {
  const parts = [...text.matchAll(whole)].map(([, effects, studies]) => `${effects} in ${studies}`);
  return parts.length > 0
    ? parts
    : [...text.matchAll(pattern)].map(([, effects, studies]) => `${effects} in ${studies}`);
};

/** Those of an answer's data, wherever effects and studies stand side by side. */
const countsOfData = (value: unknown): readonly string[] => {
  if (typeof value !== "object" || value === null) return [];
  const { effects, studies } = value as Readonly<Record<string, unknown>>;
  return [
    ...(typeof effects === "number" && typeof studies === "number"
      ? [`${effects.toLocaleString("en-GB")} in ${studies.toLocaleString("en-GB")}`]
      : []),
    ...Object.values(value).flatMap(countsOfData),
  ];
};

test.each([
  ["published", () => shippedEvidence(firstWave)],
  ["demo", () => shippedEvidence("demo-register.csv")],
  ["historic", historicEvidence],
] as const)("%s: no figure or table counts otherwise than its answer", async (name, open) => {
  let compared = 0;
  for (const { id, answer } of placedAnswers(await reportOn(open()))) {
    const known = new Set([
      ...countsIn([answer.headline, ...answer.sentences].join(" ")),
      ...countsOfData(answer.data),
    ]);
    const expectKnown = (what: string, counts: readonly string[]): void => {
      for (const count of counts) {
        expect([...known], `${name}: ${id}, ${what} counts ${count}`).toContain(count);
        compared += 1;
      }
    };
    for (const figure of answer.figures.flatMap(drawnFigures)) {
      const { title } = figure.specification;
      for (const text of [figure.caption, figure.description, JSON.stringify(title)])
        expectKnown(`figure ${figure.id}`, countsIn(text));
    }
    for (const { id: table, title, notes, columns, rows } of answer.tables) {
      expectKnown(`table ${table}`, [title, ...notes].flatMap(countsIn));
      const keys = new Set(columns.map(({ key }) => key));
      if (keys.has("effects") && keys.has("studies") && answer.data.question.id === "pool")
        expectKnown(
          `table ${table}`,
          rows.map((row) => `${row["effects"]} in ${row["studies"]}`),
        );
    }
  }
  expect(compared, name).toBeGreaterThan(20);
});

test("papers on the same people are one study in the demonstration's figures", async () => {
  const report = await reportOn(shippedEvidence("demo-register.csv"));
  const strength = placedAnswers(report).find(({ id }) => id === "strength-change-within-arm")!;
  expect(strength.answer.headline).toContain("72 effects in 30 studies");
  const figures = strength.answer.figures.flatMap(drawnFigures);
  expect(figures.map(({ caption }) => caption).join(" ")).not.toMatch(/31 studies/);
});
