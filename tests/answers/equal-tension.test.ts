/** Kinds of evidence: identities between what is said, tabled, drawn and handed over. */
import { describe, expect, test } from "vitest";
import { answerSchema } from "../../src/answers/answer.js";
import { ask } from "../../src/answers/ask.js";
import { equalTensionQuestion } from "../../src/answers/equal-tension.js";
import type { EqualTension } from "../../src/dose/equal-tension.js";
import { percentFromLogRatio } from "../../src/effects/percent-from-log-ratio.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { formatNumber } from "../../src/tables/number-format.js";
import { codebookText, evidenceOf, outcomeRow, shippedEvidence } from "./evidence-under-test.js";

const demo = shippedEvidence("demo-register.csv");
const percent = (value: number): string => formatNumber(percentFromLogRatio(value), { digits: 1 });
const range = ({ low, high }: { low: number; high: number }): string =>
  `${percent(low)} to ${percent(high)}`;
const resultIn = ({ data }: { data: object }): EqualTension => data as EqualTension;

describe("equal tension", () => {
  test("headline, table, figure and data carry the same digits, each number its own", async () => {
    const answer = await ask("equal-tension", { outcome: "strength" }, demo);
    const [hold, effort] = resultIn(answer).answers;
    const average = hold!.headline.answer;
    if (average.kind === "refusal") throw new Error("an average");
    const { estimate, interval, predictionInterval, pairs, studies } = average;
    const digits = [percent(estimate), range(interval), range(predictionInterval!)];
    expect(new Set(digits).size).toBe(3);
    expect(answer.headline).toBe(
      `Strength, at equal tension time: longer minus shorter holds ${digits[0]}% (95% interval ${digits[1]}%; ${pairs} of ${hold!.pairs.length} pairs, ${studies} studies).`,
    );
    const [table, list] = answer.tables;
    expect(table!.rows[0]).toEqual({
      question: "longer against shorter holds",
      family: "strength",
      pairs: `${pairs} of ${hold!.pairs.length}; ${studies} of ${hold!.studies} studies`,
      average: `${digits[0]}% (${digits[1]})`,
      further: `${digits[2]}%`,
    });
    expect(list!.rows).toHaveLength(hold!.pairs.length + effort!.pairs.length);
    hold!.pairs.forEach((pair, index) =>
      expect(list!.rows[index]).toMatchObject({
        study: pair.study,
        estimate: String(pair.estimate),
        variance: String(pair.variance),
        low: String(pair.interval.low),
        high: String(pair.interval.high),
        moreTotal: String(pair.more.total),
        lessTotal: String(pair.less.total),
      }),
    );
    expect(answer.figures.map(({ data }) => data.id)).toEqual([
      "equal-tension-hold-length-strength",
      "equal-tension-intensity-strength",
    ]);
    const [figure] = answer.figures;
    expect(figure!.data).toMatchObject({ answer: hold });
    const [drawn] = drawnFigures(structuredClone(figure!));
    expect(drawn!.description).toContain(`${digits[0]}% (${digits[1]})`);
    expect(drawn!.id).toBe(figure!.data.id);
  });

  test("quantity, tolerance, least differences, rows and confidence reach the numbers", async () => {
    const usual = await ask("equal-tension", { outcome: "size" }, demo);
    for (const options of [
      { equal: "torque-time" },
      { tolerance: "500%" },
      { leastHoldRatio: 3 },
      { leastIntensityPoints: 60 },
      { confidence: 0.9 },
      { where: "weeks>=10" },
      { correlation: 0.5 },
      { outcomeCorrelations: "none" },
    ]) {
      const other = await ask("equal-tension", { outcome: "size", ...options }, demo);
      expect(JSON.stringify(resultIn(other).answers), JSON.stringify(options)).not.toBe(
        JSON.stringify(resultIn(usual).answers),
      );
    }
    const { quantity, tolerance } = resultIn(
      await ask("equal-tension", { equal: "torque time", tolerance: 5 }, demo),
    );
    expect([quantity, tolerance]).toEqual(["torque–time", 0.05]);
  });

  test("each kind of outcome apart, question by question; what cannot be told says why", async () => {
    const answer = await ask("equal-tension", {}, demo);
    expect(resultIn(answer).answers.map(({ question, family }) => [question, family])).toEqual(
      ["hold length", "intensity"].flatMap((question) =>
        ["strength", "size", "tendon", "symptoms"].map((family) => [question, family]),
      ),
    );
    expect(answer.sentences.join("\n")).toContain(
      "Symptoms, at equal tension time: higher minus lower intensity cannot be told, as no study compares arms of equal tension time (within 10%) that differ in intensity by 10 points of MVC or more (0 pairs found).",
    );
    expect(answer.sentences.filter((one) => one.startsWith("All angles and weeks"))).toHaveLength(
      3,
    );
    expect(structuredClone(answer)).toEqual(answer);
    answerSchema(equalTensionQuestion.data).parse(answer);
  });

  test("nothing to compare is a refusal in words", async () => {
    const answer = await ask(
      "equal-tension",
      {},
      evidenceOf(codebookText([outcomeRow("A", 111), outcomeRow("B", 117)])),
    );
    expect(answer.data.refusal).toMatchObject({ kind: "refusal", code: "not-told" });
    expect(answer.headline).toContain("cannot be told, as no study compares");
    expect(answer.figures).toEqual([]);
  });
});
