import { describe, expect, test } from "vitest";
import type { VariableRow, VariableTable } from "../../src/dose/variable-table.js";
import {
  shownAmount,
  variablesDataTable,
  variablesRules,
  variablesSentences,
  variablesTable,
} from "../../src/tables/variables-table.js";
import { coefficientOfPercent } from "./all-different.js";
import { axis } from "./made-up-doses.js";
import { told } from "./told.js";

/** Kind of evidence: made-up inputs in which no two numbers agree; each printed one was traced by hand. */

describe("every variable", () => {
  const scale = "log-ratio-of-means";
  const row = (name: Parameters<typeof axis>[0], others: object): VariableRow =>
    ({
      axis: axis(name),
      family: "strength",
      span: { low: 20, high: 100 },
      compared: { low: 30, high: 90, studies: 6, endsCompared: true },
      withIt: [],
      adjustedP: 0.0444,
      allInside: false,
      effects: 41,
      studies: 17,
      studiesWithin: 6,
      people: 1350,
      within: coefficientOfPercent("w", [0.6, 1.9, 3.2], [0.011, 5.4, 0.0111]),
      between: coefficientOfPercent("b", [-1.3, 1.4, 4.1], [0.022, 9.8, 0.2222]),
      difference: coefficientOfPercent("d", [-3.1, -0.4, 2.3], [0.033, 4.7, 0.3333]),
      agreement: "agree",
      spread: Math.log(1.084),
      amount: Math.log(1.05),
      verdict: { verdict: "favoured", side: "more", reason: "no difference is left out" },
      missing: {},
      notes: [],
      ...others,
    }) as unknown as VariableRow;
  const table: VariableTable = {
    scale,
    contrast: "against-control",
    families: ["strength", "muscle size"],
    questions: 23,
    confidence: 0.9,
    rows: [
      row("intensityPercent", {}),
      row("holdSeconds", {
        span: { low: 3, high: 45 },
        compared: { low: 4, high: 40, studies: 4, endsCompared: false },
        withIt: [axis("tensionTimePerSessionSeconds"), axis("dutyCyclePercent")],
        adjustedP: 1,
        studies: 18,
        studiesWithin: 4,
        people: 990,
        within: coefficientOfPercent("w", [-2.2, -0.3, 1.6], [0.01, 3.9, 0.77]),
        between: undefined,
        difference: undefined,
        agreement: "one answer only",
        spread: undefined,
        verdict: { verdict: "cannot be told", reason: "the interval is wide" },
      }),
      row("muscleLength", {
        span: { low: 0, high: 1 },
        compared: { low: 0, high: 1, studies: 3, endsCompared: true },
        adjustedP: 0.072,
        studies: 5,
        studiesWithin: 3,
        people: 88,
        within: coefficientOfPercent("w", [-6.5, -4.3, -2.1], [0.01, 4, 0.003]),
        agreement: "differ",
        verdict: { verdict: "worth testing", side: "less", reason: "r" },
      }),
      row("weeks", {
        span: { low: 12, high: 12 },
        studies: 9,
        studiesWithin: 0,
        people: 77,
        compared: undefined,
        within: undefined,
        adjustedP: undefined,
        agreement: "none",
        verdict: { verdict: "cannot be told", reason: "r" },
        missing: { within: "all train as long" },
      }),
      row("sessionsPerWeek", {
        span: { low: 2, high: 5 },
        studies: 8,
        studiesWithin: 2,
        people: 66,
        compared: { low: 2, high: 4, studies: 2, endsCompared: true },
        agreement: "cannot be told apart",
        verdict: { verdict: "no difference that counts", reason: "r" },
      }),
      row("restBetweenSetsSeconds", {
        span: { low: 50, high: 210 },
        compared: { low: 55, high: 205, studies: 3, endsCompared: true },
        studies: 11,
        studiesWithin: 7,
        people: 55,
        within: coefficientOfPercent("w", [-2.4, -1.5, -0.5], [0.01, 6.1, 0.0052]),
        adjustedP: 0.061,
        verdict: { verdict: "a difference, smaller than counts", side: "less", reason: "r" },
      }),
      row("contractionsPerSession", {
        span: { low: 8, high: 64 },
        compared: { low: 9, high: 63, studies: 5, endsCompared: true },
        studies: 14,
        studiesWithin: 5,
        people: 44,
        inseparable: { axis: axis("restBetweenRepetitionsSeconds"), r: -0.91, studies: 5 },
        verdict: {
          verdict: "cannot be separated",
          reason: "cannot be separated from rest between holds (r −0.91 inside 5 studies)",
        },
      }),
      row("sets", {
        span: undefined,
        compared: undefined,
        adjustedP: undefined,
        within: undefined,
        between: undefined,
        difference: undefined,
        agreement: "none",
        spread: undefined,
        verdict: { verdict: "not studied", reason: "no comparison" },
        missing: { within: "sets are not coded: no slope for sets", between: "few" },
      }),
      row("muscleLength", {
        family: "muscle size",
        span: { low: 1, high: 1 },
        verdict: { verdict: "not studied", reason: "one length only" },
      }),
    ],
  };

  const rules = [
    "Verdicts follow stated rules and rest on arms of one study set against each other, over the chain of doses that studies link. Studies set against each other never give more than “cannot be told”, since they differ in everything else too.",
    "Favoured: p under 0.1 among all questions of the table, on four degrees of freedom or more. Worth testing: p under it by itself only. No difference that counts: the 90% interval of every pair of doses lies inside the amount, on four degrees of freedom or more. Doses that move together inside studies (r of 0.8 or more) cannot be separated, and neither is favoured.",
    // 1 − 0.9²³ = 0.911
    "23 within-study questions are asked at once. Without any true difference a table like this favours something in at most 10% of files, but finds something worth testing in up to 91%.",
  ];
  const notes = [
    "* Changes of the effect from the lowest to the highest dose compared, with 90% intervals; what counts for strength is 5%. Studies: those that compare the variable, of all that have it. p among all: held to all 23 questions of the table at once (Holm).",
    "* † fewer than four degrees of freedom: the interval is not to be relied on, and nothing is favoured by it.",
    "* No one study compared the two ends of hold length (4 to 40 s): what is said of these ends rests on the curve's shape.",
    "* Agreement of the answer between studies with the one within studies: agree, differ, or neither where that cannot be told. Spread left: standard deviation of the true effects that the variable does not explain.",
    "* Not studied by rows with a weight: sets are not coded.",
  ];

  test("the wide table", () => {
    expect(told(variablesTable(table, "strength"))).toEqual([
      "Which variables matter: strength [variables-strength]",
      "Variable | Compared | Studies that compare it | >People | >Change over it, within studies | >p | >p among all | >Between studies | Agreement | >Spread left | Verdict",
      "Intensity | 30 to 90% of MVC | 6 of 17 | 1,350 | 1.9% (0.6 to 3.2) | 0.011 | 0.044 | 1.4% (−1.3 to 4.1) | agree | 8.4% | more is favoured",
      "Hold length (with it tension time in a session, duty cycle) | 4 to 40 s | 4 of 18 | 990 | −0.3% (−2.2 to 1.6) † | 0.770 | >0.999 | — | one answer only |  | cannot be told",
      "Muscle length | long length against short length | 3 of 5 | 88 | −4.3% (−6.5 to −2.1) | 0.003 | 0.072 | 1.4% (−1.3 to 4.1) | differ | 8.4% | worth testing: short length",
      "Weeks trained | 12 weeks | 0 of 9 | 77 | — |  |  | 1.4% (−1.3 to 4.1) |  | 8.4% | cannot be told",
      "Sessions a week | 2 to 4 | 2 of 8 | 66 | 1.9% (0.6 to 3.2) | 0.011 | 0.044 | 1.4% (−1.3 to 4.1) | cannot be told apart | 8.4% | no difference that counts",
      "Rest between sets | 55 to 205 s | 7 of 11 | 55 | −1.5% (−2.4 to −0.5) | 0.005 | 0.061 | 1.4% (−1.3 to 4.1) | agree | 8.4% | a difference, smaller than counts: less",
      "Holds in a session | 9 to 63 | 5 of 14 | 44 | 1.9% (0.6 to 3.2) | 0.011 | 0.044 | 1.4% (−1.3 to 4.1) | agree | 8.4% | cannot be separated from rest between holds (r −0.91 inside 5 studies)",
      ...notes,
    ]);
  });

  test("the same in fewer columns", () => {
    const narrow = variablesTable(table, "strength");
    expect(told({ ...narrow, columns: narrow.narrowColumns! })).toEqual([
      "Which variables matter: strength [variables-strength]",
      "Variable | Compared; studies | >Change | >p; among all | >Between studies | Verdict",
      "Intensity | 30 to 90% of MVC; 6 of 17 | 1.9% (0.6 to 3.2) | 0.011; 0.044 | 1.4% (−1.3 to 4.1) | more is favoured",
      "Hold length (with it tension time in a session, duty cycle) | 4 to 40 s; 4 of 18 | −0.3% (−2.2 to 1.6) † | 0.770; >0.999 | — | cannot be told",
      "Muscle length | long length; 3 of 5 | −4.3% (−6.5 to −2.1) | 0.003; 0.072 | 1.4% (−1.3 to 4.1) | worth testing: short length",
      "Weeks trained | 12 weeks; 0 of 9 | — |  | 1.4% (−1.3 to 4.1) | cannot be told",
      "Sessions a week | 2 to 4; 2 of 8 | 1.9% (0.6 to 3.2) | 0.011; 0.044 | 1.4% (−1.3 to 4.1) | no difference that counts",
      "Rest between sets | 55 to 205 s; 7 of 11 | −1.5% (−2.4 to −0.5) | 0.005; 0.061 | 1.4% (−1.3 to 4.1) | a difference, smaller than counts: less",
      "Holds in a session | 9 to 63; 5 of 14 | 1.9% (0.6 to 3.2) | 0.011; 0.044 | 1.4% (−1.3 to 4.1) | cannot be separated from rest between holds",
      ...notes,
    ]);
    expect(told(variablesTable(table, "muscle size"))).toEqual([
      "Which variables matter: muscle size [variables-muscle-size]",
      "Variable | Compared | Studies that compare it | >People | >Change over it, within studies | >p | >p among all | >Between studies | Agreement | >Spread left | Verdict",
      notes[0]!.replace("strength", "muscle size"),
      "* Agreement of the answer between studies with the one within studies: agree, differ, or neither where that cannot be told. Spread left: standard deviation of the true effects that the variable does not explain.",
      "* Not studied by rows with a weight: one length only.",
    ]);
  });

  test("on a scale that is no percentage", () => {
    const scaled = { ...table, scale: "standardised-mean-difference" as const };
    expect(told(variablesTable(scaled, "strength")).slice(2, 3)).toEqual([
      "Intensity | 30 to 90% of MVC | 6 of 17 | 1,350 | 0.02 (0.01 to 0.03) | 0.011 | 0.044 | 0.01 (−0.01 to 0.04) | agree | 0.08 | more is favoured",
    ]);
    expect(shownAmount(0.2044, "standardised-mean-difference")).toBe(
      "0.204 pooled standard deviations",
    );
    const one = {
      ...table,
      rows: [row("intensityPercent", { compared: undefined, span: { low: 60, high: 60 } })],
    };
    expect(variablesTable(one, "strength").rows[0]?.["compared"]).toBe("60% of MVC");
    expect(variablesTable(one, "strength").notes).toHaveLength(2);
  });

  test("the sentences and rules", () => {
    expect(variablesSentences(table)).toEqual([
      {
        told: "Strength: more intensity is favoured (1.9% (90% interval 0.6 to 3.2%) from 30 to 90% of MVC; p = 0.011, among all 23 questions p = 0.044). Worth testing: short length (−4.3% (90% interval −6.5 to −2.1%) long length against short length; p = 0.003, among all p = 0.072). A difference, smaller than counts: less rest between sets (−1.5% (90% interval −2.4 to −0.5%) from 55 to 205 s). No difference that counts: sessions a week, from 2 to 4 (2 studies).",
        rest: "Strength, not told: holds in a session cannot be separated from rest between holds (r −0.91 inside 5 studies); 2 variables cannot be told, 1 of them compared only between studies that differ in everything else too.",
      },
      { told: "Muscle size: no variable can be compared.", rest: "" },
    ]);
    const one = (others: object) =>
      variablesSentences({
        ...table,
        families: ["strength"],
        rows: [row("intensityPercent", others)],
      })[0];
    expect(one({ verdict: { verdict: "cannot be told", reason: "r" } })).toEqual({
      told: "Strength: no variable is favoured by arms of one study.",
      rest: "Strength, not told: 1 variable cannot be told.",
    });
    // An interval that is not to be relied on never leads; ends that no study compared are said to rest on the shape.
    expect(
      one({
        within: coefficientOfPercent("w", [2.2, 9.3, 17.6], [0.01, 3.9, 0.031]),
        adjustedP: 0.713,
        verdict: { verdict: "worth testing", side: "more", reason: "r" },
      })!.told,
    ).toBe(
      "Strength: worth testing: more intensity (an interval that is not to be relied on; p = 0.031, among all p = 0.713).",
    );
    expect(
      one({
        compared: { low: 30, high: 90, studies: 6, endsCompared: false },
        verdict: { verdict: "no difference that counts", reason: "r" },
      })!.told,
    ).toBe(
      "Strength: no difference that counts: intensity, from 30 to 90% of MVC (6 studies; none compared both ends, so they rest on the curve's shape).",
    );
    expect(variablesRules(table)).toEqual(rules);
    expect(variablesRules({ ...table, questions: 0 })[2]).toBe(
      "No variable is compared inside three studies or more, so that nothing is asked.",
    );
    expect(variablesTable({ ...table, questions: 0 }, "strength").notes[0]).toMatch(
      /of all that have it\.$/,
    );
    expect(variablesRules({ ...table, questions: 1 })[2]).toContain(
      "1 within-study question is asked at once.",
    );
  });

  test("two that cannot be separated from each other are named once", () => {
    const apart = (name: "holdSeconds" | "intensityPercent", other: typeof name, r: number) =>
      row(name, {
        inseparable: { axis: axis(other), r, studies: 12 },
        verdict: {
          verdict: "cannot be separated",
          reason: `cannot be separated from ${axis(other).label} (r −0.96 inside 12 studies)`,
        },
      });
    const [sentence] = variablesSentences({
      ...table,
      families: ["strength"],
      rows: [
        apart("intensityPercent", "holdSeconds", -0.96),
        apart("holdSeconds", "intensityPercent", -0.96),
      ],
    });
    expect(sentence!.rest).toBe(
      "Strength, not told: intensity cannot be separated from hold length (r −0.96 inside 12 studies).",
    );
  });

  test("the data", () => {
    expect(told(variablesDataTable({ ...table, rows: table.rows.slice(0, 1) }))).toEqual([
      "Protocol variables by outcome family [variables]",
      "family | variable | label | unit | sameContrast | spanLow | spanHigh | comparedLow | comparedHigh | effects | studies | studiesWithin | people | withinEstimate | withinStandardError | withinLow | withinHigh | withinDegreesOfFreedom | withinP | withinPAmongAll | betweenEstimate | betweenStandardError | betweenLow | betweenHigh | betweenDegreesOfFreedom | betweenP | differenceEstimate | differenceStandardError | differenceLow | differenceHigh | differenceDegreesOfFreedom | differenceP | agreement | spread | amount | verdict | side | reason | missingWithin | missingBetween",
      "strength | intensityPercent | intensity | % of MVC |  | 20 | 100 | 30 | 90 | 41 | 17 | 6 | 1350 | 0.01882175424058776 | 0.011 | 0.005982071677547464 | 0.03149866705937099 | 5.4 | 0.0111 | 0.0444 | 0.01390290516899142 | 0.022 | -0.01308523954865547 | 0.040181789632831824 | 9.8 | 0.2222 | -0.004008021397538818 | 0.033 | -0.03149066709137082 | 0.02273948696948943 | 4.7 | 0.3333 | agree | 0.08065790301745454 | 0.04879016416943205 | favoured | more | no difference is left out |  | ",
      ...rules.map((rule) => `* ${rule}`),
    ]);
    expect(told(variablesDataTable({ ...table, rows: table.rows.slice(7, 8) }))[2]).toBe(
      "strength | sets | sets |  |  |  |  |  |  | 41 | 17 | 6 | 1350 |  |  |  |  |  |  |  |  |  |  |  |  |  |  |  |  |  |  |  | none |  | 0.04879016416943205 | not studied |  | no comparison | sets are not coded: no slope for sets | few",
    );
  });
});
