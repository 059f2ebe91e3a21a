/** Kinds of evidence: identities with the comparison asked on its own, and hand arithmetic on turned and tied pairs. */
import { describe, expect, test } from "vitest";
import {
  compareProtocols,
  type CompareOptions,
  type ProtocolComparison,
} from "../../src/projection/compare-protocols.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { equalisedTable, headToHeadTable } from "../../src/tables/comparison-evidence-table.js";
import {
  comparisonAnswer,
  comparisonCostTable,
  comparisonTable,
  differencesTable,
  isSameProtocol,
  isUntold,
  restsOn,
  verdictSentences,
} from "../../src/tables/comparison-table.js";
import { longHolds, readySize, shortHolds } from "./sample-projection.js";

const ready = readySize();
const compare = (texts: readonly string[], options: CompareOptions = {}): ProtocolComparison => {
  const answer = compareProtocols(ready, texts.map(parsePrescription), options);
  if (answer.kind === "refusal") throw new Error(answer.reason);
  return answer;
};
const three = compare([longHolds, shortHolds, longHolds], { smallestWorthwhilePercent: 3 });

describe("calls", () => {
  test("the same protocol differs from itself by nothing, whatever chance says", () => {
    const [, same] = three.differences;
    if (same === undefined) throw new Error("no pair");
    expect([same.first, same.second]).toEqual([0, 2]);
    expect(isSameProtocol(three, same)).toBe(true);
    expect(verdictSentences(three)[1]).toBe("A against C: the same protocol, so nothing differs.");
    const row = differencesTable(three).rows[1];
    expect(row?.["call"]).toBe("the same protocol");
    expect([row?.["average"], row?.["first"]]).toEqual(["0.0 (0.0 to 0.0)", "neither"]);
  });

  test("a pair that no predictor tells apart gets words where its numbers would stand", () => {
    const rested = compare([longHolds, longHolds.replace("rest 90 s", "rest 120 s")], {
      smallestWorthwhilePercent: 3,
    });
    const [pair] = rested.differences;
    if (pair === undefined) throw new Error("no pair");
    expect(isUntold(rested, pair)).toBe(true);
    const [row] = differencesTable(rested).rows;
    expect(row?.["call"]).toBe("cannot be told");
    expect(comparisonAnswer(rested, ready)).toMatch(
      /^Size, before to after: A and B: cannot be told from this file, as nothing in which A and B differ/,
    );
    for (const key of ["average", "newTrial", "first", "firstWorthwhile", "within"])
      expect(row?.[key], key).toBe("cannot be told");
    for (const key of ["estimate", "low", "high", "probability"]) expect(row?.[key], key).toBe("");
    expect(verdictSentences(rested)[0]).toContain("no evidence that they are equal");
    expect(verdictSentences(rested)[0]).not.toContain("the model ");
  });

  test("the call of each pair stands in its row, and those that are called in the answer", () => {
    const told = three.differences.map((pair, place) => ({
      ...pair,
      toldApart: true,
      average: { ...pair.average, estimate: 0.01 * (place + 1), low: -0.01, high: 0.1 },
      verdict:
        place === 1
          ? ({ call: "second is better", short: "C is better", words: "why" } as const)
          : ({ call: "tie", short: `call ${place}`, words: "why not" } as const),
    }));
    const called = { ...three, differences: told };
    expect(differencesTable(called).rows.map(({ call }) => call)).toEqual([
      "call 0",
      "C is better",
      "call 2",
    ]);
    // exp(0.02) − 1 is 2.0%, exp(−0.01) − 1 −1.0%, exp(0.1) − 1 10.5%.
    expect(comparisonAnswer(called, ready, 0.9)).toBe(
      "Size, before to after: 1 of 3 pairs is told apart: C is better (A minus C is 2.0% (90% range −1.0 to 10.5%)).",
    );
    expect(comparisonAnswer({ ...called, differences: told.slice(0, 1) }, ready)).toBe(
      "Size, before to after: A minus B is 1.0% (95% range −1.0 to 10.5%); why not.",
    );
    expect(comparisonAnswer({ ...called, differences: [told[0]!, told[2]!] }, ready)).toBe(
      "Size, before to after: none of 2 pairs is told apart.",
    );
  });

  test("trials that point against the model are said to", () => {
    const [pair] = three.differences;
    if (pair === undefined) throw new Error("no pair");
    const trial = {
      study: "S",
      citation: "S",
      lines: [2, 3],
      firstArm: "a",
      secondArm: "b",
      firstDistance: 0.5,
      secondDistance: 1.5,
      estimate: -0.02,
      standardError: 0.01,
      interval: { low: -0.04, high: 0 },
      readings: 1,
    };
    const withTrial = (estimate: number): string =>
      verdictSentences({
        ...three,
        differences: [
          {
            ...pair,
            average: { ...pair.average, estimate: 0.03, low: 0.01, high: 0.05 },
            headToHead: {
              trials: [trial],
              pooled: {
                estimate,
                interval: { low: estimate - 0.1, high: estimate + 0.1 },
                method: "",
              },
            },
          },
        ],
      }).join("");
    expect(withTrial(-0.02)).toContain("opposite ways");
    expect(withTrial(0.02)).not.toContain("opposite ways");
    expect(withTrial(0.02)).toContain("0.5 to 1.5 steps away");
  });

  test("indirect evidence is named as such", () => {
    const [pair] = three.differences;
    if (pair === undefined) throw new Error("no pair");
    expect(restsOn({ ...pair, headToHead: { trials: [] } })).toContain("indirect evidence");
  });
});

describe("tables", () => {
  test("every pair and every protocol has a row, with all three ranges", () => {
    expect(differencesTable(three).rows.map(({ pair }) => pair)).toEqual([
      "A – B",
      "A – C",
      "B – C",
    ]);
    const { rows } = comparisonTable(three, ready);
    expect(rows).toHaveLength(3);
    for (const row of rows)
      for (const key of ["average", "newGroup", "person"])
        expect(row[key]).toMatch(/^\S+ \(\S+ to \S+\)$/);
  });

  test("chances are of more than the amount that counts: as set, of the family, or any", () => {
    const labels = (comparison: ProtocolComparison) =>
      differencesTable(comparison).columns.map(({ label }) => label);
    expect(labels(three)).toContain("First better by more than 3%");
    // 2% counts for size unless told.
    const plain = compare([longHolds, shortHolds]);
    expect(plain.smallestWorthwhilePercent).toBe(2);
    expect(labels(plain)).toContain("Less than 2% apart");
    expect(labels(plain)).not.toContain("Chance the first is better");
    const any = compare([longHolds, shortHolds], { smallestWorthwhilePercent: 0 });
    expect(labels(any).join()).not.toContain("more than");
    expect(labels(any)).toContain("Chance the first is better");
    expect(differencesTable(any).notes.join(" ")).toContain("Any difference counts");
  });

  test("what each takes: 4 × 30 s with 90 s between is 390 s, three times a week 19.5 min", () => {
    const [row] = comparisonCostTable(three).rows;
    expect([row?.["session"], row?.["week"], row?.["tension"], row?.["torque"]]).toEqual([
      "6.5",
      "19.5",
      "120",
      "7200",
    ]);
  });

  test("a protocol without rests is not judged, and says so", () => {
    const bare = compare([longHolds, "4 x 30 s at 60%, 3/week, 12 weeks, long, knee"]);
    const row = comparisonCostTable(bare).rows[1];
    expect(row?.["grade"]).toContain("cannot be said");
    expect([row?.["session"], row?.["week"]]).toEqual(["not known", "not known"]);
  });

  test("head-to-head trials stand with arms and citations, pooled first where there are several", () => {
    const [pair] = three.differences;
    const trials = pair?.headToHead.trials ?? [];
    const rows = headToHeadTable(three)?.rows.filter((row) => row["pair"] === "A – B") ?? [];
    expect(trials.length).toBeGreaterThan(1);
    expect(rows[0]?.["study"]).toBe(`${trials.length} trials pooled`);
    expect(rows.slice(1).map(({ study }) => study)).toEqual(trials.map(({ study }) => study));
    expect(headToHeadTable({ ...three, differences: [] })).toBe(undefined);
  });

  test("made equal in torque–time: 4 × 30 s at 60% is 7200, and 4 × 6 × 3 s at 95% comes nearest", () => {
    const equal = compare([longHolds, shortHolds], { equalise: { quantity: "torque–time" } });
    if (equal.equalised === undefined) throw new Error("not equalised");
    const table = equalisedTable(equal.equalised, ["A", "B"]);
    // One repetition in each of four sets is 4 × 3 × 95 = 1140 %·s: six make 6840, seven 7980; six are nearer to 7200.
    expect(table.rows.map(({ before, after }) => [before, after])).toEqual([
      ["7200", "7200"],
      ["5700", "6840"],
    ]);
    expect(table.notes.join(" ")).toContain("come");
  });
});
