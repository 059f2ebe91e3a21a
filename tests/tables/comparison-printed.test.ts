import { describe, expect, test } from "vitest";
import { equalisedTable, headToHeadTable } from "../../src/tables/comparison-evidence-table.js";
import {
  comparisonAnswer,
  comparisonCostTable,
  comparisonTable,
  differencesTable,
  isUntold,
  verdictSentences,
} from "../../src/tables/comparison-table.js";
import { tieOfTheUntold } from "../../src/projection/tie-rule.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { madeUpComparison, madeUpReady, madeUpSupport } from "./made-up-protocols.js";
import { told } from "./told.js";

/** Kind of evidence: made-up inputs in which no two numbers agree; each printed one was traced by hand. */

describe("a comparison", () => {
  test("its ranges", () => {
    expect(told(comparisonTable(madeUpComparison, madeUpReady))).toEqual([
      "Side by side: size, against no exercise; middle and 95% range [comparison]",
      "Protocol | Prescription | >Weeks | >The average over such studies (%) | >A new group (%) | >A single person (%)",
      "Long | 4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee | 12 | 4.2 (1.1 to 7.3) | 4.5 (−2.4 to 11.6) | 4.8 (−8.7 to 21.9)",
      "Short | 4 x 6 x 3 s at 95%, 2/week, 10 weeks, middle, knee | 10 | 2.7 (0.6 to 4.9) | 2.9 (−3.1 to 8.2) | 3.4 (−9.3 to 18.6)",
      "Bare | 5 x 20 s at 50%, 9 weeks | 9 | 1.3 (0.2 to 2.6) | 1.8 (−3.7 to 6.1) | 2.2 (−10.4 to 15.7)",
      "* Percent of the score before training (trained arm over its control).",
      "* A single person: people's own response to training is taken to spread by 4.1% (one standard deviation; 2.2% to 6.4%), from the file's trained and control arms (6 comparisons).",
      "* One measurement errs by 2.7% (one standard deviation; test–retest of Ash 2001); a change holds two.",
      "* The joint is not said.",
    ]);
    const other = comparisonTable(madeUpComparison, madeUpReady, { confidence: 0.8, id: "x" });
    expect([other.id, other.title]).toEqual([
      "x",
      "Side by side: size, against no exercise; middle and 80% range",
    ]);
  });

  test("what each takes", () => {
    const [long, ...others] = madeUpComparison.protocols;
    const far = {
      ...long!,
      projection: {
        ...long!.projection,
        support: {
          ...madeUpSupport,
          nearArms: 1,
          nearPeople: 1,
          extrapolates: true,
          reasons: ["longer", "harder"],
        },
      },
    };
    expect(told(comparisonCostTable({ protocols: [far, ...others] }))).toEqual([
      "What each takes, and what lies near it [comparison-cost]",
      "Protocol | Can be held | >To spare (points of MVC) | >Session (min) | >A week (min) | >Tension time (s) | >Torque–time (%·s) | Near it",
      "Long | to spare | 24 (13 to 35) | 6.5 | 19.5 | 120 | 7200 | 1 arm, 1 person; extrapolation",
      "Short | maximal: no grade |  | 8.5 | 17.0 | 72 | not known | 3 arms, 47 people",
      "Bare | cannot be said: rests or intensity missing |  | not known | not known | 100 | not known | 3 arms, 47 people",
      "* To spare: least capacity above the load at the end of a hold, by the endurance model, with the band from those who tire early to those who tire late.",
      "* Extrapolation for Long: longer; harder.",
    ]);
  });

  test("its differences", () => {
    expect(told(differencesTable(madeUpComparison))).toEqual([
      "Differences in projected gain, with 95% ranges [comparison-differences]",
      "Pair | >First over second, average (%) | >In a further study (%) | >First better by more than 2.5% | >Second better by more than 2.5% | >Less than 2.5% apart | Call | Rests on",
      "Long – Short | 1.6 (−0.9 to 4.1) | 1.7 (−4.6 to 8.3) | 24% | 2% | 75% | Long is better | 2 head-to-head trials and the model",
      "Long – Bare | 2.8 (0.4 to 5.3) | 3.1 (−3.2 to 9.7) | 56% | under 1% | 44% | cannot be told | 1 head-to-head trial and the model",
      "Short – Bare | 1.2 (−1.4 to 3.6) | 1.5 (−5.8 to 7.7) | 14% | 3% | 83% | Bare is better | indirect evidence: no trial of the file compares two such arms",
      "* A difference is the ratio of the scores after training: 3% means an end score 3% higher. What two protocols share cancels, so it is surer than the two ranges set beside each other suggest.",
      "* In a further study: where the difference of two new groups should fall, their own scatter included.",
      "* 2.5% is the difference that counts here: as asked for, or else the amount stated for this kind of outcome.",
      "pair,estimate,low,high,new_low,new_high,probability,probability_first,probability_second,call,rests",
      "Long – Short,1.61,-0.89,4.109999999999999,-4.59,8.31,0.874,0.235,0.016,Long is better,2 head-to-head trials and the model",
      "Long – Bare,2.8099999999999996,0.41000000000000003,5.31,-3.1900000000000004,9.709999999999999,0.986,0.557,0.003,cannot be told,1 head-to-head trial and the model",
      "Short – Bare,1.21,-1.39,3.61,-5.79,7.71,0.795,0.144,0.028,Bare is better,indirect evidence: no trial of the file compares two such arms",
    ]);
    const none = differencesTable(
      { ...madeUpComparison, smallestWorthwhilePercent: 0 },
      { confidence: 0.9, id: "x" },
    );
    expect(told(none).slice(0, 2)).toEqual([
      "Differences in projected gain, with 90% ranges [x-differences]",
      "Pair | >First over second, average (%) | >In a further study (%) | >Chance the first is better | Call | Rests on",
    ]);
    expect(none.notes.slice(1)).toEqual([
      "In a further study: where the difference of two new groups should fall, their own scatter included.",
      "Any difference counts, as was asked for.",
    ]);
    expect(none.id).toBe("x-differences");
  });

  test("its verdicts", () => {
    expect(verdictSentences(madeUpComparison)).toEqual([
      "Long against Short: Long is better, made up. Rests on 2 head-to-head trials and the model. Those trials by themselves give 2.4% (−1.7 to 6.7%) for arms that lie 0.5 to 1.8 steps away, the model 1.6% (−0.9 to 4.1%).",
      "Long against Bare: cannot be told, made up. Rests on 1 head-to-head trial and the model. That trial by itself gives −2.9% (−4.7 to −1.1%) for arms that lie 0.2 to 1.1 steps away, the model 2.8% (0.4 to 5.3%); the two point opposite ways.",
      "Short against Bare: Bare is better, made up. Rests on indirect evidence: no trial of the file compares two such arms.",
    ]);
    // Two of the three are called; each has a number of its own.
    expect(comparisonAnswer(madeUpComparison, madeUpReady)).toBe(
      "Size, against no exercise: 2 of 3 pairs are told apart: Long is better (Long minus Short is 1.6% (95% range −0.9 to 4.1%)); Bare is better (Short minus Bare is 1.2% (95% range −1.4 to 3.6%)).",
    );
  });

  test("what stands beside a call: the curve, rows without a weight, what the model does not hold", () => {
    const [pair] = madeUpComparison.differences;
    const beside = {
      ...pair!,
      headToHead: { trials: [] },
      unseen: ["hold length", "muscle length"],
      unweighted: "In the file, but without a weight: Yew 1990 (2 rows), for want of a spread.",
      curve: {
        axis: "holdSeconds" as const,
        label: "hold length",
        first: "30 s",
        second: "3 s",
        estimate: Math.log(1.063),
        interval: { low: Math.log(0.978), high: Math.log(1.155) },
        evidence: "from 7 studies that compared it directly",
      },
    };
    expect(verdictSentences({ ...madeUpComparison, differences: [beside] })).toEqual([
      "Long against Short: Long is better, made up. Rests on indirect evidence: no trial of the file with a weight compares two such arms. In the file, but without a weight: Yew 1990 (2 rows), for want of a spread. The curve of hold length alone gives 30 s over 3 s 6.3% (−2.2 to 15.5%) (from 7 studies that compared it directly). Long and Short also differ in hold length and muscle length, which moved nothing here.",
    ]);
  });

  test("two of one form over other weeks are two protocols", () => {
    const [pair] = madeUpComparison.differences;
    const [long] = madeUpComparison.protocols;
    const untold = (same: boolean) => ({
      ...pair!,
      second: 1,
      toldApart: false,
      verdict: tieOfTheUntold(same, ["Long", "Long"]),
    });
    const twice = (weeks: number) => ({
      ...madeUpComparison,
      protocols: [long!, { ...long!, projection: { ...long!.projection, weeks } }],
    });
    expect(isUntold(twice(12), untold(true))).toBe(false);
    expect(isUntold(twice(13), untold(false))).toBe(true);
    expect(
      told(differencesTable({ ...twice(13), differences: [untold(false)] })).slice(2, 3),
    ).toEqual([
      "Long – Long | cannot be told | cannot be told | cannot be told | cannot be told | cannot be told | cannot be told | 2 head-to-head trials and the model",
    ]);
    expect(
      told(differencesTable({ ...twice(12), differences: [untold(true)] })).slice(2, 3),
    ).toEqual([
      "Long – Long | 1.6 (−0.9 to 4.1) | 1.7 (−4.6 to 8.3) | 24% | 2% | 75% | the same protocol | 2 head-to-head trials and the model",
    ]);
  });

  test("the trials behind it", () => {
    expect(told(headToHeadTable(madeUpComparison)!)).toEqual([
      "Trials that compare two such arms directly [head-to-head]",
      "Pair | Study | Arms | >First over second, 95% interval (%) | Distances (steps) | >Readings | Citation",
      "Long – Short | 2 trials pooled |  | 2.4 (−1.7 to 6.7) |  |  | ",
      "Long – Short | Elm 2011 | long holds against short holds | 3.1 (−0.8 to 7.2) | 0.5 and 1.3 | 4 | Elm A (2011), doi 10.1/elm",
      "Long – Short | Oak 2014 | slow against fast | 1.3 (−4.6 to 7.6) | 0.9 and 1.8 | 2 | Oak B (2014)",
      "Long – Bare | Fir 1999 | x against y | −2.9 (−4.7 to −1.1) | 1.1 and 0.2 | 1 | Fir C (1999)",
      "* An arm counts as like a protocol within two steps of it; the nearer, the more it says.",
      "* Pooled: two trials weighed by their variances.",
      "* Indirect evidence alone: Short – Bare.",
    ]);
    const direct = { ...madeUpComparison, differences: madeUpComparison.differences.slice(0, 2) };
    expect(headToHeadTable(direct, "x")?.notes).toHaveLength(2);
    expect(headToHeadTable(direct, "x")?.id).toBe("x");
  });

  test("what was made equal", () => {
    const [before, after] = ["4 x 10 s at 50%", "6 x 10 s at 50%"].map(parsePrescription);
    const equalised = {
      quantity: "tension time" as const,
      unit: "s",
      adjusted: "repetitions" as const,
      target: 60.04,
      protocols: [
        { before: before!, after: before!, written: "first", valueBefore: 60.04, value: 60.04 },
        { before: before!, after: after!, written: "second", valueBefore: 40.26, value: 60.3 },
        { before: before!, after: after!, written: "third", valueBefore: 21, value: 59.5 },
      ],
    };
    expect(told(equalisedTable(equalised, ["A", "B", "C"]))).toEqual([
      "Made equal in tension time by changing the number of repetitions: 60 s, as A [equalised]",
      "Protocol | As compared | >Before (s) | >As compared (s)",
      "A | first | 60 | 60",
      "B | second | 40.3 | 60.3",
      "C | third | 21 | 59.5",
      "* 1 protocol comes only near, as the number of repetitions is whole.",
    ]);
    const off = [...equalised.protocols, { ...equalised.protocols[2]!, value: 58 }];
    expect(
      equalisedTable({ ...equalised, adjusted: "sets", protocols: off }, ["A"], "x").notes,
    ).toEqual(["2 protocols come only near, as the number of sets is whole."]);
    const near = { ...equalised, adjusted: "holdSeconds" as const, protocols: off.slice(0, 2) };
    const none = equalisedTable(near, [], "x");
    expect([none.id, none.title, ...none.notes, none.rows[0]?.["name"]]).toEqual([
      "x",
      "Made equal in tension time by changing the length of the hold: 60 s, as the first",
      "",
    ]);
  });
});
