/** The amount that counts is asked for alike at dose and at variables, and one protocol twice is no question. */
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { codebookText, evidenceOf, outcomeRow, shippedEvidence } from "./evidence-under-test.js";

/** Six trials in which the longer holds gained as much as the shorter, within a point, and rest was the same. */
const level = evidenceOf(
  codebookText(
    [112, 114, 111, 115, 113, 112.5].flatMap((post, place) =>
      [3, 30].map((hold) =>
        outcomeRow(`Trial ${place}`, hold === 3 ? post : post + (place % 2 === 0 ? 0.6 : -0.6), {
          ...{ arm: `${hold} s`, hold_seconds: hold, n_end: 60, pre_spread: 5, post_spread: 5 },
          ...{ intensity_percent: 70, sets: 1, repetitions: 4, sessions_per_week: 3 },
        }),
      ),
    ),
  ),
);

test.each([
  [
    5,
    "no difference that counts, as every pair of doses differs by less than the amount that counts",
  ],
  [0.2, "cannot be told, as the interval holds both gain and loss larger than counts"],
] as const)(
  "with %s% as the amount, dose gives the verdict of variables",
  async (amount, words) => {
    const asked = { amount, outcome: "strength" };
    const told = await ask("dose", { ...asked, on: "hold" }, level);
    expect(told.sentences.join(" ")).toContain(
      `Where ${amount}% is the amount that counts: ${words}.`,
    );
    const { tables } = await ask("variables", asked, level);
    const row = tables
      .flatMap(({ rows }) => rows)
      .find((one) => one["verdict"] !== undefined && /hold length/i.test(one["variable"] ?? ""));
    expect(row?.["verdict"]).toMatch(new RegExp(`^${words.split(",")[0]}`));
  },
);

test("without an amount dose gives no verdict; with two doses it is refused", async () => {
  const { sentences } = await ask("dose", { on: "hold", outcome: "strength" }, level);
  expect(sentences.join(" ")).not.toContain("is the amount that counts");
  await expect(ask("dose", { on: "hold, intensity", amount: 5 }, level)).rejects.toThrow(
    /one dose in --on/,
  );
});

test("one protocol twice is told as such where the file tells nothing of any", async () => {
  const written = "4 x 20 s at 70%, rest 60 s, 3/week, 8 weeks";
  const library = shippedEvidence("published-outcomes.csv");
  const twice = await ask("compare", { protocol: [written, written] }, library);
  expect(twice.headline).toMatch(/; the protocols are the same, so nothing differs\.$/);
  const other = await ask("compare", { protocol: [written, written.replace("20", "10")] }, library);
  expect(other.headline).toMatch(/it cannot say which of A and B gives more/);
});
