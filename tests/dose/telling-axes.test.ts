import { expect, test } from "vitest";
import { tellingAxes } from "../../src/dose/telling-axes.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { doseTrials } from "./dose-trials.js";

test("axes compared inside more studies come first, axes without an answer last", () => {
  const { set } = doseTrials(randomStream(2), { studies: 10, arms: [2, 3], sameWithin: true });
  const order = tellingAxes(set).map(({ axis, evidence }) => [axis.name, evidence]);
  expect(order[0]).toEqual(["holdSeconds", "within studies"]);
  expect(order.find(([name]) => name === "intensityPercent")?.[1]).toBe("between studies only");
  expect(order.at(-1)?.[1]).toBe("none");
  const kinds = ["within studies", "between studies only", "none"];
  const places = order.map(([, evidence]) => kinds.indexOf(evidence!));
  expect(places).toEqual([...places].sort((a, b) => a - b));
});
