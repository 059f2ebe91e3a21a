import { expect, test } from "vitest";
import type { OptionsFor } from "../../src/answers/question.js";
import { ask } from "../../src/answers/ask.js";
import { evidenceOf, codebookText, outcomeRow, shippedEvidence } from "./evidence-under-test.js";

const begins = "To read first, for what cannot be told here: ";

const named = async (
  id: Parameters<typeof ask>[0],
  options: OptionsFor<never> | object = {},
  file = shippedEvidence("published-outcomes.csv"),
) => (await ask(id, options, file)).sentences.filter((sentence) => sentence.startsWith(begins));

// Which trial decides what stands in data/reading-list.csv; tests/house holds the two to one another.
test.each([
  ["equal-tension", {}, "Schott 1995, Eur J Appl Physiol 71(4) – hold length at equal torque–time"],
  ["joint-angle", {}, "Thépaut-Mathieu 1988, J Appl Physiol 64:1500 – angle carry-over"],
  ["isometric-or-dynamic", {}, "Symons 2005, J Gerontol A 60:777"],
  ["dose", { on: "sessionsPerWeek" }, "Graves 1990, Spine 15:504"],
  ["variables", { outcome: "tendon" }, "Massey 2018, Front Physiol 9:1170 – intent, tendon"],
] as const)("%s %o names the trials that would decide it, once", async (id, options, trial) => {
  const sentences = await named(id, options);
  expect(sentences).toHaveLength(1);
  expect(sentences[0]).toContain(trial);
});

test("three trials are named and the rest counted; those of other outcomes and doses are not meant", async () => {
  // Of tendon: intent 2; hold length 3, 4; intensity 4, 17. The fifth on the list of tendon decides no variable.
  const [sentence] = await named("variables", { outcome: "tendon" });
  expect(sentence).toMatch(/Massey 2018.*Bohm 2014.*Arampatzis 2010.*; and 1 more trial of/);
  expect(sentence).not.toMatch(/Albracht|Balshaw/);
});

test("an average that is there, and invented rows, name none", async () => {
  expect(await named("pool", { outcome: "tendon" })).toEqual([]);
  const oneStudy = evidenceOf(
    codebookText([
      outcomeRow("Own 1", 110, { outcome: "tendon stiffness", outcome_family: "tendon" }),
    ]),
  );
  expect((await named("pool", {}, oneStudy))[0]).toContain("Bohm 2014");
  expect(await named("joint-angle", {}, shippedEvidence("demo-register.csv"))).toEqual([]);
  expect(await named("variables", {}, shippedEvidence("demo-register.csv"))).toEqual([]);
});
