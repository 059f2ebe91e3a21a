/**
 * The starter file as it stood at first, kept as it was: few of its effects code intensity, hold or volume. On it `explore` once
 * offered 2 × 10 s at 20%, once a week, "expected to give 19.3%". Kind of evidence: what is printed.
 */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { compare } from "../../src/answers/compare.js";
import { explore } from "../../src/answers/explore.js";
import { project } from "../../src/answers/project.js";
import { evidenceOf } from "./evidence-under-test.js";
import { expectPlain, limits, longHolds, percent, shortHolds } from "./last-yard.js";

const starter = evidenceOf(
  readFileSync(new URL("../first-wave/published-outcomes.csv", import.meta.url), "utf8"),
  "first-wave-starter.csv",
);
const why =
  "too few effects code intensity, tension time in a session, hold length and sessions a week";

test("explore refuses, and says what the file lacks", async () => {
  const answer = await ask("explore", { minutes: 20, sessions: 3, intensityUpTo: 80 }, starter);
  expect(answer.headline).toBe(
    `Nothing is found for strength at the trained angle: this file cannot say what any intensity, hold or volume would give, so no protocol can be set above another: ${why}.`,
  );
  expect(answer.data.refusal?.code).toBe("no-protocol-told");
  expect(answer.data.answer).toBe(null);
  expect(JSON.stringify(answer)).not.toContain("expected to give");
  expectPlain(answer, explore);
});

test("project gives the average of the file, whatever the protocol, and says that it is one", async () => {
  const asked = async (protocol: string) => ask("project", { protocol, name: "X" }, starter);
  const [long, short] = [await asked(longHolds), await asked(shortHolds)];
  const { average } = long.data.answer!.ranges;
  expect(long.headline).toBe(
    `X: Strength at the trained angle after 12 weeks, before to after: trials of this file average ${percent(average.estimate)}% (95% range ${limits(average)}%) at that length of training, whatever the protocol; it cannot say what this intensity, hold or volume would give: ${why}.`,
  );
  expect(short.data.answer!.ranges).toEqual(long.data.answer!.ranges);
  expect(long.tables.map(({ title }) => title).join()).toContain(
    "What trials of this file gave, whatever the protocol",
  );
  for (const answer of [long, short]) {
    const words = [answer.headline, ...answer.sentences].join(" ");
    expect(words).not.toContain("lies inside what was studied");
    expect(words).not.toContain("from the data");
    expectPlain(answer, project);
  }
});

test("compare shows one average and no differences", async () => {
  const answer = await ask("compare", { protocol: [longHolds, shortHolds] }, starter);
  const { shared, answer: pairs } = answer.data;
  expect(pairs).toBe(null);
  expect(shared!.map(({ names }) => names)).toEqual([["A", "B"]]);
  const { average } = shared![0]!.projection.ranges;
  expect([answer.headline, ...answer.sentences].join("\n")).toContain(
    `trials of this file average ${percent(average.estimate)}% (95% range ${limits(average)}%) at that length of training, whatever the protocol; it cannot say which of A and B gives more: ${why}.`,
  );
  expect(answer.tables.map(({ id }) => id).join()).not.toContain("differences");
  expect(answer.figures.map(({ name }) => name)).not.toContain("comparison");
  expect(answer.tables.filter(({ id }) => id.endsWith("-average"))).toHaveLength(1);
  expectPlain(answer, compare);
});

test("compare of 12 and 8 weeks shows each its own average, the same in sentence, table and projection", async () => {
  const lasting = (weeks: number) => `4 x 10 s at 70%, rest 60 s, 3/week, ${weeks} weeks, knee`;
  const answer = await ask(
    "compare",
    { protocol: [lasting(12), lasting(8), lasting(12)] },
    starter,
  );
  const middles = await Promise.all(
    [12, 8].map(async (weeks) => {
      const alone = await ask("project", { protocol: lasting(weeks) }, starter);
      return alone.data.answer!.ranges.average;
    }),
  );
  const said = middles.map((one) => `${percent(one.estimate)}% (95% range ${limits(one)}%)`);
  expect(new Set(said).size).toBe(2);
  expect([answer.headline, ...answer.sentences].join("\n")).toContain(
    `trials of this file average ${said[0]} after 12 weeks (A and C) and ${said[1]} after 8 weeks (B), whatever the protocol; it cannot say which of A, B and C gives more: its trials compare no two such lengths of training.`,
  );
  const tables = answer.tables.filter(({ id }) => id.includes("-average"));
  expect(
    tables.map(({ title, rows }) => [/after \d+ weeks/.exec(title)?.[0], rows[0]?.["middle"]]),
  ).toEqual([
    ["after 12 weeks", percent(middles[0]!.estimate)],
    ["after 8 weeks", percent(middles[1]!.estimate)],
  ]);
  expectPlain(answer, compare);
});

test.each([
  ["hold", "4 x 30 s at 70%, rest 60 s, 3/week, 8 weeks, knee"],
  ["rest", "4 x 10 s at 70%, rest 120 s, 3/week, 8 weeks, knee"],
  ["intensity", "4 x 10 s at 40%, rest 60 s, 3/week, 8 weeks, knee"],
])(
  "two that differ in %s alone show the average that project shows of either",
  async (_, other) => {
    const one = "4 x 10 s at 70%, rest 60 s, 3/week, 8 weeks, knee";
    const answer = await ask("compare", { protocol: [one, other] }, starter);
    for (const protocol of [one, other]) {
      const { average } = (await ask("project", { protocol }, starter)).data.answer!.ranges;
      expect([answer.headline, ...answer.sentences].join("\n")).toContain(
        `average ${percent(average.estimate)}% (95% range ${limits(average)}%)`,
      );
    }
  },
);
