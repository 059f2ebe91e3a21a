import { expect, test } from "vitest";
import { reportOn } from "../../src/report/report-parts.js";
import { placedAnswers } from "../../src/report/report-part.js";
import { fiveTrials, longHolds } from "../answers/last-yard.js";

/** Contrast of every answer of a report, by its anchor. */
const contrastsOf = async (contrast?: string): Promise<Readonly<Record<string, unknown>>> => {
  const report = await reportOn(fiveTrials, contrast === undefined ? {} : { contrast }, {
    protocols: [{ name: "Long", protocol: longHolds }],
  });
  return Object.fromEntries(
    placedAnswers(report).map(({ id, answer }) => [id, answer.data.contrast]),
  );
};

test("a contrast that is asked for leads the doses and the projections of a report", async () => {
  const projected = "protocols-strength-at-the-trained-angle-long";
  const usual = await contrastsOf();
  expect([usual["doses-told"], usual[projected]]).toEqual([
    "change-within-arm",
    "change-within-arm",
  ]);
  expect(usual).not.toHaveProperty("answers-between-arms");
  const against = await contrastsOf("against-control");
  expect([against["doses-told"], against[projected]]).toEqual([
    "against-control",
    "against-control",
  ]);
  const arms = await contrastsOf("between-arms");
  expect(arms["answers-between-arms"]).toBe("between-arms");
  expect([arms["doses-told"], arms[projected]]).toEqual(["change-within-arm", "change-within-arm"]);
});
