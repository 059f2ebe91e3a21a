import { describe, expect, test } from "vitest";
import { effectsOf } from "../../src/answers/evidence.js";
import { headlineGroups } from "../../src/answers/headline-selection.js";
import { codebookText, evidenceOf, outcomeRow } from "./evidence-under-test.js";

const groupsOf = (rows: Parameters<typeof codebookText>[0]) => {
  const evidence = evidenceOf(codebookText(rows));
  expect(evidence.records.issues.filter(({ severity }) => severity === "error")).toEqual([]);
  return headlineGroups(effectsOf(evidence, {}));
};
/** Post means of the effects that stand in the headline: each row of a test has its own. */
const shown = ({
  headline,
}: ReturnType<typeof groupsOf>[number]): readonly (number | undefined)[] =>
  headline.effects.map(({ row }) => row.postMean);

describe("angles", () => {
  const angle = { training_angle_degrees: "60", angle_convention: "full extension is 0" };

  test("tests within 5° of an angle trained at stand in the headline, 5° itself among them", () => {
    const [group] = groupsOf([
      outcomeRow("A", 111, { ...angle, test_angle_degrees: 60 }),
      outcomeRow("A", 112, { ...angle, test_angle_degrees: 65 }),
      outcomeRow("A", 113, { ...angle, test_angle_degrees: 66 }),
      outcomeRow("A", 114, { ...angle, test_angle_degrees: 30 }),
    ]);
    expect(shown(group!)).toEqual([111, 112]);
    expect(group!.all.effects).toHaveLength(4);
    expect(group!.armsWithoutNearTest).toEqual([]);
  });

  test("an arm trained at several angles counts as trained at each", () => {
    const [group] = groupsOf([
      outcomeRow("A", 111, { ...angle, training_angle_degrees: "20 / 90", test_angle_degrees: 90 }),
      outcomeRow("A", 112, { ...angle, training_angle_degrees: "20 / 90", test_angle_degrees: 55 }),
      outcomeRow("A", 113, { ...angle, training_angle_degrees: "20 / 90", test_angle_degrees: 22 }),
    ]);
    expect(shown(group!)).toEqual([111, 113]);
  });

  test("an arm with no test that near is left out and named with its nearest", () => {
    const [group] = groupsOf([
      outcomeRow("A", 111, { ...angle, test_angle_degrees: 60 }),
      outcomeRow("B", 112, { ...angle, arm: "far", test_angle_degrees: 40 }),
      outcomeRow("B", 113, { ...angle, arm: "far", test_angle_degrees: 90 }),
    ]);
    expect(shown(group!)).toEqual([111]);
    expect(group!.armsWithoutNearTest).toEqual([{ study: "B", arm: "far", nearestDegrees: 20 }]);
  });

  test("where angles are not coded, tests stand as they are; size belongs to no test angle", () => {
    const [strength, size] = groupsOf([
      outcomeRow("A", 111),
      outcomeRow("B", 112, { ...angle }),
      outcomeRow("C", 105, {
        ...angle,
        outcome: "muscle volume",
        outcome_family: "size",
        test_mode: "",
        unit: "cm³",
        test_angle_degrees: 10,
      }),
    ]);
    expect(shown(strength!)).toEqual([111, 112]);
    expect(shown(size!)).toEqual([105]);
  });
});

describe("weeks", () => {
  test("of each arm and outcome the last week measured in training; later ones are no training", () => {
    const [group] = groupsOf([
      outcomeRow("A", 111, { week_measured: 4 }),
      outcomeRow("A", 112, { week_measured: 8 }),
      outcomeRow("A", 113, { week_measured: 20 }),
      outcomeRow("A", 114, { week_measured: 6, outcome: "peak isometric force", unit: "N" }),
      outcomeRow("B", 115),
    ]);
    expect(shown(group!)).toEqual([112, 114, 115]);
    expect(group!.all.effects).toHaveLength(5);
  });
});

describe("kinds", () => {
  test("each way of testing and each outcome of the family other is a group, isometric first", () => {
    const groups = groupsOf([
      outcomeRow("A", 111, { test_mode: "lifting", outcome: "one-repetition maximum", unit: "kg" }),
      outcomeRow("A", 112),
      outcomeRow("A", 113, { outcome: "stiffness", outcome_family: "other", unit: "N/mm" }),
      outcomeRow("A", 114, { outcome: "activation", outcome_family: "other", unit: "%" }),
      outcomeRow("A", 115, { test_mode: "moving at fixed speed", outcome: "isokinetic torque" }),
    ]);
    expect(groups.map(({ id, label }) => [id, label])).toEqual([
      ["strength", "strength"],
      ["strength-moving-at-fixed-speed", "strength, tested moving at fixed speed"],
      ["strength-lifting", "strength, tested by lifting"],
      ["other-activation", "other: activation"],
      ["other-stiffness", "other: stiffness"],
    ]);
    expect(groups.map(shown)).toEqual([[112], [115], [111], [114], [113]]);
  });
});
