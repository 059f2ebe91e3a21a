import { describe, expect, test } from "vitest";
import { numbersIn, placedIn, typedInto } from "../../src/records/abstract-numbers.js";

const found = (text: string): readonly string[] =>
  numbersIn(text).map(
    ({ start, end, kind, values }) => `${text.slice(start, end)} → ${kind}: ${values.join(", ")}`,
  );

describe("the numbers of an abstract", () => {
  test("each is marked with what it seems to be, in the order of the text, and none overlap", () => {
    const text =
      "Twenty-four healthy young men (22.3 ± 1.9 years) trained for 12 weeks, 3x/wk, at 85% of MVC, 4 × 6 × 5 s at 30°. In one group (n = 11) torque rose from 182.4 ± 31.2 to 201.7 ± 33.0 N·m (p < .05; 95% CI 12.1 to 26.5, t(10) = 3.42), that is 10.6 ± 6.9%.";
    expect(found(text)).toEqual([
      "Twenty-four healthy young men → people: 24",
      "22.3 ± 1.9 years → age: 22.3",
      "12 weeks → weeks: 12",
      "3x/wk → sessions a week: 3",
      "85% → percent: 85",
      "4 × 6 × 5 s → sets, holds, seconds: 4, 6, 5",
      "30° → degrees: 30",
      "n = 11 → people: 11",
      "182.4 ± 31.2 → mean with its spread: 182.4, 31.2",
      "201.7 ± 33.0 → mean with its spread: 201.7, 33.0",
      "p < .05 → p: <.05",
      "95% CI 12.1 to 26.5 → interval: 12.1, 26.5",
      "t(10) = 3.42 → t: 3.42",
      "10.6 ± 6.9% → percent with its spread: 10.6, 6.9",
    ]);
    const marks = numbersIn(text);
    for (const [at, { start }] of marks.entries())
      if (at > 0) expect(start).toBeGreaterThanOrEqual(marks[at - 1]!.end);
  });

  test("a share of women is one that is said of them, and nothing else is offered for it", () => {
    const text =
      "Of 26 adults, 60% of them were women; they trained at 80% of MVC and 70% of women's best, females: 45 per cent, 9 of them twins.";
    expect(found(text)).toEqual([
      "26 adults → people: 26",
      "60% of them were women → women, %: 60",
      "80% → percent: 80",
      "70% → percent: 70",
      "females: 45 per cent → women, %: 45",
      "9 → number: 9",
    ]);
    expect(numbersIn(text).map((mark) => placedIn(mark, "femalePercent")?.femalePercent)).toEqual([
      ...[undefined, "60", undefined, undefined, "45", undefined],
    ]);
  });

  test("minutes become seconds, words become digits, a raised point becomes a point", () => {
    expect(found("four, 2-min isometric contractions, 3 min rest, P = 0·003")).toEqual([
      "four, 2-min isometric contractions → holds, minutes: 4, 120",
      "3 min → minutes: 180",
      "P = 0·003 → p: 0.003",
    ]);
  });

  test("a text made to be slow is read in a moment", () => {
    for (const text of ["1".repeat(20_000), "12 ".repeat(6000), "4 young healthy ".repeat(1200)]) {
      const began = performance.now();
      numbersIn(text);
      expect(performance.now() - began).toBeLessThan(5000);
    }
  });
});

describe("placing", () => {
  const [pair, sets, weeks, minutes] = numbersIn("31.5 ± 4.2 kg, 5 × 8 × 6 s, 9 weeks, 4 × 2 min");

  test("a mean brings its spread, a written set its holds and seconds", () => {
    expect(placedIn(pair!, "preMean")).toEqual({ preMean: "31.5", preSpread: "4.2" });
    expect(placedIn(pair!, "postSpread")).toEqual({ postSpread: "4.2" });
    expect(placedIn(sets!, "sets")).toEqual({ sets: "5", repetitions: "8", holdSeconds: "6" });
    expect(placedIn(minutes!, "holdSeconds")).toEqual({ repetitions: "4", holdSeconds: "120" });
  });

  test("a number does not go where it does not belong", () => {
    expect(placedIn(weeks!, "weeks")).toEqual({ weeks: "9" });
    expect(placedIn(weeks!, "nEnd")).toBeUndefined();
    expect(placedIn(pair!, "weeks")).toBeUndefined();
    expect(placedIn(pair!, "arm")).toBeUndefined();
  });

  test("a spread typed behind a mean goes to its own field, and to no other field's", () => {
    expect(typedInto("preMean", "13.4 ± 9.7")).toEqual({ preMean: "13.4", preSpread: "9.7" });
    expect(typedInto("postMean", "18 (SD 3)")).toEqual({ postMean: "18", postSpread: "3" });
    expect(typedInto("preMean", "13.4")).toEqual({ preMean: "13.4" });
    expect(typedInto("nEnd", "12 ± 3")).toEqual({ nEnd: "12 ± 3" });
  });
});
