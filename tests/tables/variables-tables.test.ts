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
      spanWithin: { low: 30, high: 90 },
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
      verdict: { verdict: "more is favoured", reason: "the interval leaves out no difference" },
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
    rules: ["rule one", "rule two"],
    rows: [
      row("intensityPercent", {}),
      row("holdSeconds", {
        span: { low: 3, high: 45 },
        studies: 18,
        studiesWithin: 4,
        people: 990,
        within: coefficientOfPercent("w", [-2.2, -0.3, 1.6], [0.01, 3.9, 0.77]),
        between: undefined,
        difference: undefined,
        agreement: "one answer only",
        spread: undefined,
        verdict: { verdict: "unclear", reason: "the interval is wide" },
      }),
      row("muscleLength", {
        span: { low: 0, high: 1 },
        studies: 5,
        studiesWithin: 3,
        people: 88,
        within: coefficientOfPercent("w", [-6.5, -4.3, -2.1], [0.01, 4, 0.003]),
        agreement: "differ",
        verdict: { verdict: "less is favoured", reason: "r" },
      }),
      row("weeks", {
        span: { low: 12, high: 12 },
        studies: 9,
        studiesWithin: 0,
        people: 77,
        within: undefined,
        agreement: "none",
        verdict: { verdict: "unclear", reason: "r" },
        missing: { within: "all train as long" },
      }),
      row("sessionsPerWeek", {
        span: { low: 2, high: 5 },
        studies: 8,
        studiesWithin: 2,
        people: 66,
        agreement: "cannot be told apart",
        verdict: { verdict: "no difference larger than the stated amount", reason: "r" },
      }),
      row("sets", {
        span: undefined,
        spanWithin: undefined,
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

  test("the wide table", () => {
    expect(told(variablesTable(table, "strength"))).toEqual([
      "Which variables matter: strength [variables-strength]",
      "What changes | Studied | Studies that compare it | >People | >Within studies | >Between studies | Agreement | >Spread left | Verdict",
      "10 more points of MVC | 20 to 100% of MVC | 6 of 17 | 1,350 | 1.9% (0.6 to 3.2) | 1.4% (−1.3 to 4.1) | agree | 8.4% | more is favoured",
      "10 more seconds of hold | 3 to 45 s | 4 of 18 | 990 | −0.3% (−2.2 to 1.6) † | — | one answer only |  | unclear",
      "Long instead of short muscle length | short and long | 3 of 5 | 88 | −4.3% (−6.5 to −2.1) | 1.4% (−1.3 to 4.1) | differ | 8.4% | short is favoured",
      "4 more weeks | 12 weeks | 0 of 9 | 77 | — | 1.4% (−1.3 to 4.1) |  | 8.4% | unclear",
      "One more session a week | 2 to 5 | 2 of 8 | 66 | 1.9% (0.6 to 3.2) | 1.4% (−1.3 to 4.1) | cannot be told apart | 8.4% | no difference above 5%",
      "* Changes of the effect for the step in the first column, with 90% intervals; the stated amount for strength is 5%. Studies: those that compare the variable, of all that have it.",
      "* † fewer than four degrees of freedom: the interval is not to be relied on, and the verdict asks the 99% interval.",
      "* Agreement of the answer between studies with the one within studies: agree, differ, or neither where that cannot be told. Spread left: standard deviation of the true effects that the variable does not explain.",
      "* Not studied: sets are not coded.",
    ]);
  });

  test("the same in fewer columns", () => {
    const narrow = variablesTable(table, "strength");
    expect(told({ ...narrow, columns: narrow.narrowColumns! })).toEqual([
      "Which variables matter: strength [variables-strength]",
      "Variable and step | Studied | Studies; people | >Within studies | >Between studies | Verdict",
      "Intensity, +10% of MVC | 20 to 100 | 6 of 17; 1,350 | 1.9% (0.6 to 3.2) | 1.4% (−1.3 to 4.1) agree | more is favoured",
      "Hold length, +10 s | 3 to 45 | 4 of 18; 990 | −0.3% (−2.2 to 1.6) † | — | unclear",
      "Muscle length, long for short | both | 3 of 5; 88 | −4.3% (−6.5 to −2.1) | 1.4% (−1.3 to 4.1) differ | short is favoured",
      "Weeks trained, +4 | 12 | 0 of 9; 77 | — | 1.4% (−1.3 to 4.1) | unclear",
      "Sessions a week, +1 | 2 to 5 | 2 of 8; 66 | 1.9% (0.6 to 3.2) | 1.4% (−1.3 to 4.1) | no difference above 5%",
      "* Changes of the effect for the step in the first column, with 90% intervals; the stated amount for strength is 5%. Studies: those that compare the variable, of all that have it.",
      "* † fewer than four degrees of freedom: the interval is not to be relied on, and the verdict asks the 99% interval.",
      "* Agreement of the answer between studies with the one within studies: agree, differ, or neither where that cannot be told. Spread left: standard deviation of the true effects that the variable does not explain.",
      "* Not studied: sets are not coded.",
    ]);
    expect(told(variablesTable(table, "muscle size"))).toEqual([
      "Which variables matter: muscle size [variables-muscle-size]",
      "What changes | Studied | Studies that compare it | >People | >Within studies | >Between studies | Agreement | >Spread left | Verdict",
      "* Changes of the effect for the step in the first column, with 90% intervals; the stated amount for muscle size is 5%. Studies: those that compare the variable, of all that have it.",
      "* Agreement of the answer between studies with the one within studies: agree, differ, or neither where that cannot be told. Spread left: standard deviation of the true effects that the variable does not explain.",
      "* Not studied: one length only.",
    ]);
  });

  test("on a scale that is no percentage", () => {
    const scaled = { ...table, scale: "standardised-mean-difference" as const };
    expect(told(variablesTable(scaled, "strength")).slice(2, 3)).toEqual([
      "10 more points of MVC | 20 to 100% of MVC | 6 of 17 | 1,350 | 0.02 (0.01 to 0.03) | 0.01 (−0.01 to 0.04) | agree | 0.08 | more is favoured",
    ]);
    expect(shownAmount(0.2044, "standardised-mean-difference")).toBe(
      "0.204 pooled standard deviations",
    );
    const one = { ...table, rows: [row("intensityPercent", { span: { low: 60, high: 60 } })] };
    expect(variablesTable(one, "strength").rows[0]?.["span"]).toBe("60% of MVC");
    expect(variablesTable(one, "strength").notes).toHaveLength(2);
  });

  test("the sentences and rules", () => {
    expect(variablesSentences(table)).toEqual([
      "Strength: arms of one study favour intensity (more: 1.9% (90% interval 0.6 to 3.2%) for 10 more points of MVC), muscle length (short: −4.3% (90% interval −6.5 to −2.1%) for long instead of short muscle length); no difference above 5% for sessions a week; unclear for 2 variables, 1 of them compared only between studies that differ in everything else too.",
      "Muscle size: no variable can be compared.",
    ]);
    const unclear = {
      ...table,
      families: ["strength"],
      rows: [row("intensityPercent", { verdict: { verdict: "unclear", reason: "r" } })],
    };
    expect(variablesSentences(unclear)).toEqual([
      "Strength: no variable is favoured by arms of one study; unclear for 1 variable.",
    ]);
    expect(variablesRules(table)).toEqual([
      "rule one",
      "rule two",
      "23 within-study questions are asked at once; without any true difference about 2 of them would still seem to favour a side.",
    ]);
    expect(variablesRules({ ...table, questions: 1 })[2]).toContain(
      "1 within-study question is asked",
    );
  });

  test("the data", () => {
    expect(told(variablesDataTable({ ...table, rows: table.rows.slice(0, 1) }))).toEqual([
      "Protocol variables by outcome family [variables]",
      "family | variable | label | unit | step | spanLow | spanHigh | spanWithinLow | spanWithinHigh | effects | studies | studiesWithin | people | withinEstimate | withinStandardError | withinLow | withinHigh | withinDegreesOfFreedom | withinP | betweenEstimate | betweenStandardError | betweenLow | betweenHigh | betweenDegreesOfFreedom | betweenP | differenceEstimate | differenceStandardError | differenceLow | differenceHigh | differenceDegreesOfFreedom | differenceP | agreement | spread | amount | verdict | reason | missingWithin | missingBetween",
      "strength | intensityPercent | intensity | % of MVC | 10 | 20 | 100 | 30 | 90 | 41 | 17 | 6 | 1350 | 0.01882175424058776 | 0.011 | 0.005982071677547464 | 0.03149866705937099 | 5.4 | 0.0111 | 0.01390290516899142 | 0.022 | -0.01308523954865547 | 0.040181789632831824 | 9.8 | 0.2222 | -0.004008021397538818 | 0.033 | -0.03149066709137082 | 0.02273948696948943 | 4.7 | 0.3333 | agree | 0.08065790301745454 | 0.04879016416943205 | more is favoured | the interval leaves out no difference |  | ",
      "* rule one",
      "* rule two",
      "* 23 within-study questions are asked at once; without any true difference about 2 of them would still seem to favour a side.",
    ]);
    expect(told(variablesDataTable({ ...table, rows: table.rows.slice(5, 6) }))[2]).toBe(
      "strength | sets | sets |  | 1 |  |  |  |  | 41 | 17 | 6 | 1350 |  |  |  |  |  |  |  |  |  |  |  |  |  |  |  |  |  |  | none |  | 0.04879016416943205 | not studied | no comparison | sets are not coded: no slope for sets | few",
    );
  });
});
