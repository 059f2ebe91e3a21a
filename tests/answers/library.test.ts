/** The shipped library answers every contrast, though some of its trials print an error and no group size. */
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { shippedEvidence } from "./evidence-under-test.js";

const library = shippedEvidence("published-outcomes.csv");

test.each(["change-within-arm", "against-control", "between-arms"] as const)(
  "%s is averaged or refused in words",
  async (contrast) => {
    const { headline } = await ask("pool", { contrast }, library);
    expect(headline).not.toBe("");
  },
);

test("a trial whose people are not known stands outside small studies against large ones, and is named", async () => {
  const asked = { outcome: "strength", borrowedSpread: "none" };
  const { data, headline } = await ask("small-studies", asked, library);
  expect(data.refusal?.code).toBe("too-few-for-asymmetry");
  expect(headline).toContain(
    "without Herbert 1998, whose people are not known, 9 studies are fewer than ten",
  );
});
