import { expect, test } from "vitest";
import { toldParts } from "../../src/projection/told-parts.js";
import { predictors } from "../../src/projection/predictors.js";

type Design = Parameters<typeof toldParts>[0];
const used = (...names: readonly string[]): Design["predictors"] =>
  names.map((name) => ({ name, label: `the ${name}` })) as unknown as Design["predictors"];
const dropped = (name: string, why: Design["dropped"][number]["why"], reason = "") => ({
  name,
  label: `the ${name}`,
  why,
  reason,
});

test("every kind of reason once, training status and test distance left aside", () => {
  expect(
    toldParts({
      predictors: used("effort", "training status", "test distance"),
      dropped: [
        dropped("tension time", "seldom coded"),
        dropped("hold length", "follows from others"),
        dropped("frequency", "all alike", "all arms have sessions a week 3"),
        dropped("muscle length", "seldom coded"),
        dropped("training status", "all alike", "not a part of a protocol"),
      ],
    }),
  ).toMatchObject({
    moved: ["the effort"],
    still: [
      { name: "tension time" },
      { name: "hold length" },
      { name: "frequency" },
      { name: "muscle length" },
    ],
    stillWhy:
      "too few effects code the tension time and the muscle length; all arms have sessions a week 3; the hold length cannot be told apart from the rest",
    ofProtocol: true,
  });
});

test.each([
  [["effort"], true],
  [["tension time"], true],
  [["hold length"], true],
  [["frequency"], true],
  [["muscle length", "build-up", "training status"], false],
  [[], false],
] as const)("with %j in the model it is a protocol's own number: %s", (names, own) => {
  expect(toldParts({ predictors: used(...names), dropped: [] }).ofProtocol).toBe(own);
  for (const name of names) expect(predictors.map((one) => one.name)).toContain(name);
});
