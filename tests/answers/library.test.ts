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

test("how small studies are is refused in words while the people of one trial are not known", async () => {
  const { data } = await ask("small-studies", { outcome: "strength" }, library);
  expect(data.refusal?.reason).toBe("the people of 1 effect are not known");
});
