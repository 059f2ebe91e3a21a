import { describe, expect, test } from "vitest";
import { evaluateCurve } from "../../src/dose/averaged-curve.js";
import { collinearity } from "../../src/dose/collinearity.js";
import { doseResponse, gainAt, type DoseCurve } from "../../src/dose/dose-response.js";
import { severalDoses } from "../../src/dose/several-doses.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import {
  doseAnswer,
  doseReadOffsTable,
  doseShapesTable,
  doseSlopesTable,
} from "../../src/tables/dose-table.js";
import { doseCurveText } from "../../src/tables/dose-curve-text.js";
import { collinearityTable, severalDosesTable } from "../../src/tables/several-doses-table.js";
import { doseTrials } from "../dose/dose-trials.js";

const { set } = doseTrials(randomStream(12), {
  studies: 14,
  arms: [2, 3],
  gain: (intensity) => 0.004 * intensity,
});
const answer = doseResponse(set, "intensityPercent", { draws: 200 }) as DoseCurve;
const flat = doseTrials(randomStream(13), { studies: 14, sameWithin: true, gain: () => 0.1 }).set;

describe("curve in text", () => {
  test.each([40, 60, 100])(
    "width %i: no line is longer, the curve rises, arms are counted",
    (width) => {
      const lines = doseCurveText(answer, { width }).split("\n");
      const drawn = lines.slice(0, 11).map((line) => line.split("|")[1] ?? "");
      for (const line of lines.slice(0, -1)) expect(line.length).toBeLessThanOrEqual(width);
      const first = drawn.findIndex((line) => line.includes("o"));
      const last = drawn.findLastIndex((line) => line.includes("o"));
      expect(drawn[first]!.lastIndexOf("o")).toBeGreaterThan(drawn[last]!.lastIndexOf("o"));
      expect(lines.join("\n")).toMatch(/30% of MVC +100% of MVC/);
      expect(lines.at(-1)).toMatch(/^ *intensity; o curve, : its interval/);
    },
  );

  test("every column of the supported range holds the curve once", () => {
    const rows = doseCurveText(answer).split("\n").slice(0, 11);
    const cells = rows.map((row) => row.split("|")[1]!);
    const columns = Math.max(...cells.map((row) => row.length));
    for (let column = 0; column < columns; column++) {
      const marks = cells.map((row) => row[column] ?? " ").filter((mark) => /[o·]/.test(mark));
      expect(marks, `column ${column}`).toHaveLength(1);
    }
  });
});

describe("tables", () => {
  const valueOf = (quantity: RegExp, at = [] as Parameters<typeof doseReadOffsTable>[1]): string =>
    doseReadOffsTable(answer, at).rows.find((row) => quantity.test(String(row["quantity"])))?.[
      "value"
    ] as string;

  test("the gain at a dose is the curve's, in percent", () => {
    const { estimate } = evaluateCurve(answer.averaged, 65);
    const percent = 100 * (Math.exp(estimate) - 1);
    const shown = Number(/^[\d.]+/.exec(valueOf(/^Gain at 65/, [gainAt(answer, 65)]))![0]);
    expect(Math.abs(shown - percent)).toBeLessThan(0.06);
    expect(valueOf(/^Gain at 5% of MVC/, [gainAt(answer, 5)])).toMatch(
      /^not told: 5% of MVC lies outside the doses compared, 30% of MVC to 100% of MVC/,
    );
  });

  test("slopes inside, between, their difference and the two-stage check, or why there is none", () => {
    expect(doseSlopesTable(answer).rows.map(({ comparison }) => comparison)).toEqual([
      "arms of one study (within)",
      "studies' means (between)",
      "between minus within",
      expect.stringMatching(/^within, two-stage \(\d+ studies\)$/),
    ]);
    const between = doseResponse(flat, "intensityPercent", { draws: 50 });
    expect(doseSlopesTable(between).rows[0]!["adds"]).toMatch(
      /^not told: no study with a weight compares/,
    );
    // The number leads, so that it can head an answer; that it is a hint stands in the same sentence.
    expect(doseAnswer(between)).toMatch(
      /^Cannot be told\. Read off the curve, 30 to 100% of MVC: [^.]*\.\d% .*so this is no more than a hint.*There is no curve from arms of the same study: no study with a weight compares/,
    );
  });

  test("shapes stand by weight, refused ones last with their reason", () => {
    const rows = doseShapesTable(
      doseResponse(set, "intensityPercent", { draws: 50 }) as DoseCurve,
    ).rows;
    const weights = rows.flatMap(({ weightExact }) =>
      weightExact === "" ? [] : [Number(weightExact)],
    );
    expect(weights).toEqual([...weights].sort((a, b) => b - a));
    expect(weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 6);
  });

  test("several doses: a row a term, products with the place they are counted about", () => {
    const many = severalDoses(set, ["intensityPercent", "holdSeconds"], {
      interactions: [["intensityPercent", "holdSeconds"]],
    });
    const table = severalDosesTable(many, set.scale);
    expect(table.rows.map(({ term }) => term)).toEqual([
      "10 more points of MVC",
      "10 more seconds of hold",
      "10 more points of MVC, for each step of hold length (10 more seconds of hold)",
    ]);
    expect(table.notes.join(" ")).toMatch(/counted about [\d.]+% of MVC and [\d.]+ s/);
    const pairs = collinearity(set, ["intensityPercent", "holdSeconds"]);
    expect(collinearityTable(pairs).rows[0]).toMatchObject({
      pair: "intensity, hold length",
      words: expect.stringMatching(/^In these \d+ studies intensity and hold length/),
    });
  });
});

describe("answer in words", () => {
  test("a clear gain is said with its interval; a level one is given no side", () => {
    expect(doseAnswer(answer)).toMatch(
      /^Worth testing: more intensity\. Read off the curve, 30 to 100% of MVC: \d+\.\d% \(95% interval \d+\.\d to \d+\.\d%\); 30 to 40% of MVC: /,
    );
    expect(doseAnswer(answer)).toMatch(/highest at 100% of MVC, the highest dose compared/);
    const level = doseResponse(
      doseTrials(randomStream(14), { studies: 14, arms: [2, 3], gain: () => 0.1 }).set,
      "intensityPercent",
      { draws: 200 },
    );
    expect(doseAnswer(level)).toMatch(
      /^(Cannot be told|No difference that counts, from 30 to 100%)/,
    );
    expect(doseAnswer(level)).toMatch(
      /No dose between 30 and 100% of MVC can be told from the best/,
    );
  });

  test("a refusal is said as it stands", () => {
    expect(doseAnswer(doseResponse(set, "sessionsPerWeek"))).toBe(
      "No answer: all arms have the same number of sessions a week, 3: no slope for sessions a week.",
    );
  });
});
