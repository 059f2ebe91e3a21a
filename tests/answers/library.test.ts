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

test("the library favours no variable: averages of few trials, and what single trials compared", async () => {
  const { headline, sentences } = await ask("variables", {}, library);
  const said = [headline, ...sentences].join(" ");
  expect(said.match(/\w+ (?:variable )?is favoured/g)).toEqual(
    expect.arrayContaining(["no variable is favoured"]),
  );
  expect(said.replaceAll("no variable is favoured", "")).not.toContain("favoured");
  // Line 2 and 3, 23.5 and 10 %; lines 156 and 158, 88 of 94 and 91 of 97 mmHg, a fall of 6.4 and 6.2 %.
  expect(said).toContain("Alegre 2014, muscle length short against long: 10% and 23.5%");
  expect(said).toContain("Badrov 2013, sessions a week 3 against 5: 6.4% and 6.2%");
});

test.each([
  ["intensity", "Young 1985", "26.4% → 44%"],
  ["hold", "Kubo 2001 J Physiol", "31.8% → 33.9%"],
  ["effort-intent", "Balshaw 2016", "23% → 17%"],
])(
  "strength and %s: told between studies at most, with the single trial %s",
  async (on, study, gains) => {
    const { headline, tables, sentences } = await ask("dose", { on, outcome: "strength" }, library);
    expect(`${headline} ${sentences.join(" ")}`).toMatch(/cannot be told|no answer/);
    const rows = tables.find(({ id }) => id === "single-trials-strength")!.rows;
    expect(rows.find((row) => row["studyName"] === study)?.["gains"]).toBe(gains);
  },
);

test("isometric or dynamic: each way of testing by itself, other exercise only among single trials", async () => {
  const { data, sentences } = await ask("isometric-or-dynamic", {}, library);
  const of = (id: string) => data.groups.find((group) => group.id === id)!;
  // Folland 2005 10.5 and 10.7 %, Sato 2022 7.2 and 12.2 %: neither interval leaves zero out.
  expect(of("strength-moving-at-fixed-speed")).toMatchObject({
    studies: 2,
    call: "cannot be told",
  });
  expect(of("blood-pressure").refusal?.code).toBe("no-pairs");
  expect(sentences.join(" ")).toContain(
    "Blood pressure: no average of isometric minus dynamic, as no trial of this file set it against dynamic training. Home handgrip 2024, exercise walking",
  );
});

test("a level of training is named in words where a row has no weight", async () => {
  const { sentences } = await ask("dose", { on: "muscle-length" }, library);
  expect(sentences.join(" ")).toContain("Alegre 2014 (long length and short length), for want of");
});
