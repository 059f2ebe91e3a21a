import { describe, expect, test } from "vitest";
import { againstTraining } from "../../../src/records/checks/against-training.js";
import { meanOutOfScale } from "../../../src/records/checks/mean-out-of-scale.js";
import { peopleOutOfScale } from "../../../src/records/checks/people-out-of-scale.js";
import { armsOutOfScale } from "../../../src/records/checks/prescription-out-of-scale.js";
import { samePeopleTwice } from "../../../src/records/checks/same-people-twice.js";
import { spreadOutOfScale } from "../../../src/records/checks/spread-out-of-scale.js";
import { codesOf, rowOf } from "../record-table.js";

const arm = (line: number, changes: Parameters<typeof rowOf>[0] = {}) =>
  rowOf({ line, arm: `arm ${line}`, armKind: "isometric", ...changes });

describe("spreads", () => {
  test("a point lost at one time, with the number that is odd", () => {
    expect(codesOf(spreadOutOfScale([arm(2, { postSpread: 330 })]))).toEqual([
      "spread-out-of-scale@2",
    ]);
    const [issue] = spreadOutOfScale([arm(2, { preSpread: 312 })]);
    expect(issue?.message).toBe("relative to the mean it is 16.4%, and 171% before");
  });

  test("a point lost at both times, however few the studies", () => {
    expect(codesOf(spreadOutOfScale([arm(2, { preSpread: 312, postSpread: 330 })]))).toEqual([
      "spread-out-of-scale@2",
    ]);
    expect(codesOf(spreadOutOfScale([arm(2, { preSpread: 3.12, postSpread: 3.3 })]))).toEqual([
      "spread-out-of-scale@2",
    ]);
  });

  test("in small arms a doubled spread is chance, and so it is where the mean doubled with it", () => {
    expect(spreadOutOfScale([arm(2, { nEnd: 5, postSpread: 70 })])).toEqual([]);
    expect(spreadOutOfScale([arm(2, { postMean: 370, postSpread: 66 })])).toEqual([]);
  });
});

describe("baselines of a trial", () => {
  test("an arm in pounds, or ten times off, among the trial's arms", () => {
    const others = [arm(2), arm(3, { preMean: 176 })];
    expect(codesOf(meanOutOfScale([...others, arm(4, { preMean: 402 })]))).toEqual([
      "mean-out-of-scale@4",
    ]);
    expect(meanOutOfScale([...others, arm(4, { preMean: 1824 })]).map((i) => i.message)).toEqual([
      "before training this arm has 1820 and the trial's nearest other arm 182, 10 times apart",
    ]);
    // Women and men start apart, and so do two muscles.
    expect(meanOutOfScale([...others, arm(4, { preMean: 402, femalePercent: 0 })])).toEqual([]);
    expect(meanOutOfScale([...others, arm(4, { preMean: 402, muscleGroup: "calf" })])).toEqual([]);
  });

  test("a week whose baseline is another than the arm's", () => {
    const weeks = [4, 8, 12].map((weekMeasured) =>
      rowOf({ line: weekMeasured, weekMeasured, preMean: weekMeasured === 8 ? 201.7 : 182.4 }),
    );
    expect(codesOf(meanOutOfScale(weeks))).toEqual(["baselines-disagree@8"]);
    // Rows of one week are measurements that the file does not tell apart.
    expect(meanOutOfScale(weeks.map((row) => ({ ...row, weekMeasured: 4 })))).toEqual([]);
  });
});

describe("directions", () => {
  const others = Array.from({ length: 4 }, (_, i) => arm(10 + i, { study: `P${i}` }));

  test("a trained arm that got worse, by means, percent, sign or word", () => {
    const doubted = (changes: Parameters<typeof rowOf>[0]) =>
      codesOf(againstTraining([...others, arm(2, changes)]));
    expect(doubted({ preMean: 201.7, postMean: 182.4 })).toEqual(["against-training@2"]);
    const none = { preMean: undefined, postMean: undefined } as unknown as (typeof others)[0];
    expect(doubted({ ...none, changePercentMean: -10.6 })).toEqual(["against-training@2"]);
    expect(doubted({ ...none, tValue: -3.4 })).toEqual(["against-training@2"]);
    expect(doubted({ ...none, fValue: 11, direction: "decrease" })).toEqual(["against-training@2"]);
    expect(doubted({ ...none, intervalLow: -20, intervalHigh: -4 })).toEqual([
      "against-training@2",
    ]);
    expect(doubted({ ...none, tValue: 3.4 })).toEqual([]);
  });

  test("controls, untrained limbs, pain that eases and small falls pass", () => {
    const fall = { preMean: 201.7, postMean: 182.4 };
    for (const changes of [
      { ...fall, armKind: "no exercise" as const },
      { ...fall, testSide: "untrained" as const },
      { ...fall, outcomeFamily: "symptoms" as const },
      { ...fall, higherIs: "worse" as const },
      { preMean: 182.4, postMean: 180.1 },
    ])
      expect(againstTraining([...others, arm(2, changes)])).toEqual([]);
  });
});

test("arms of one trial whose hold or weeks differ by just 10, 60 or 7", () => {
  const trial = [arm(2, { holdSeconds: 3, weeks: 8 }), arm(3, { holdSeconds: 30, weeks: 56 })];
  expect(armsOutOfScale(trial).map(({ column, line }) => `${column}@${line}`)).toEqual([
    "hold_seconds@3",
    "weeks@3",
  ]);
  const matched = [
    arm(2, { holdSeconds: 3, repetitions: 10 }),
    arm(3, { holdSeconds: 30, repetitions: 1 }),
  ];
  expect(armsOutOfScale(matched)).toEqual([]);
  const [late] = armsOutOfScale([arm(2, { weeks: 28, weekMeasured: 4 })]);
  expect([late?.code, late?.mend]).toEqual([
    "weeks-out-of-scale",
    "write 4 if days were typed, and check week_measured",
  ]);
});

test("a digit too many in the number of people, in an arm or in a whole study", () => {
  const trial = [arm(2, { nEnd: 14 }), arm(3, { nEnd: 150 })];
  expect(codesOf(peopleOutOfScale(trial))).toEqual(["people-out-of-scale@3"]);
  const others = Array.from({ length: 4 }, (_, i) => arm(10 + i, { study: `P${i}` }));
  expect(codesOf(peopleOutOfScale([...others, arm(2, { nEnd: 140 })]))).toEqual([
    "people-out-of-scale@2",
  ]);
  expect(peopleOutOfScale([...others, arm(2, { nEnd: 79 })])).toEqual([]);
});

test("one study under two names, rounded in the second, is told unless a number differs", () => {
  const again = { line: 9, study: "Pell 2020", preMean: 182, preSpread: 31, postMean: 202 };
  expect(codesOf(samePeopleTwice([rowOf(), rowOf(again)]))).toEqual(["same-people-twice@9"]);
  expect(samePeopleTwice([rowOf(), rowOf({ ...again, postMean: 203 })])).toEqual([]);
});
