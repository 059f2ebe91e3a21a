/** Kind of evidence: identities; the parts say of each protocol what the questions say when asked on their own. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { ask, boundAsk } from "../../src/answers/ask.js";
import { cautionsWording } from "../../src/projection/cautions-wording.js";
import { writtenProtocols } from "../../src/answers/session.js";
import { protocolGoalPart, protocolsPart } from "../../src/report/protocol-parts.js";
import type { ReportPart, ReportWishes } from "../../src/report/report-part.js";
import { fiveTrials, longHolds } from "../answers/last-yard.js";

const partsOf = async (
  wishes: ReportWishes,
  options: Readonly<Record<string, unknown>> = {},
): Promise<readonly ReportPart[]> => {
  const bound = boundAsk(fiveTrials, options);
  const parts: ReportPart[] = [];
  for (const make of [protocolsPart, protocolGoalPart("size"), protocolGoalPart("rapid force")]) {
    const part = await make(bound, wishes);
    if (part !== undefined) parts.push(part);
  }
  return parts;
};
const answersOf = (parts: readonly ReportPart[]) => parts.flatMap(({ answers }) => answers);
const example = writtenProtocols(
  readFileSync(new URL("../../data/example-protocols.txt", import.meta.url), "utf8"),
);

describe("the example file", async () => {
  const parts = await partsOf({ protocols: example });
  const [sessions, size, rapid] = parts;

  test("each session is judged and projected under its name, and all are compared", async () => {
    expect(sessions!.answers.map(({ title }) => title)).toEqual(example.map(({ name }) => name));
    expect(size!.answers.map(({ title }) => title)).toEqual([
      "Compared",
      ...example.map(({ name }) => name),
    ]);
    for (const [place, { name, protocol }] of example.entries()) {
      const held = await ask("hold", { protocol, name });
      expect(sessions!.answers[place]!.answer.headline).toBe(held.headline);
      const projected = await ask("project", { protocol, name, goal: "size" }, fiveTrials);
      expect(size!.answers[place + 1]!.answer.headline).toBe(projected.headline);
      expect(projected.headline).toMatch(/such studies average/);
    }
    const compared = size!.answers[0]!.answer;
    expect(compared.sentences.filter((sentence) => / against /.test(sentence))).toHaveLength(3);
  });

  test("every session is drawn once, and no table or figure stands twice", () => {
    const shown = answersOf(parts);
    const ids = [
      ...shown.map(({ id }) => `anchor ${id}`),
      ...shown.flatMap(({ answer: { tables } }) => tables.map(({ id }) => `table ${id}`)),
      ...shown.flatMap(({ answer: { figures } }) => figures.map(({ data }) => `figure ${data.id}`)),
    ];
    expect(ids.filter((id, place) => ids.indexOf(id) < place)).toEqual([]);
    expect(ids.filter((id) => id.startsWith("figure hold-strip"))).toHaveLength(example.length);
    expect(ids).toContain("table priors-size");
    expect(ids).toContain("figure comparison-size");
    expect(ids.filter((id) => id.startsWith("figure projection-size-"))).toHaveLength(
      example.length,
    );
  });

  test("a goal without effects says so once and costs the others nothing", () => {
    expect(rapid).toMatchObject({
      answers: [],
      lead: [expect.stringMatching(/^Nothing is projected: the file has no effect for the goal/)],
    });
  });

  test("every caution stands in full, once, with the reasons of every protocol", () => {
    const blocks = answersOf(parts).flatMap(({ answer: { cautions } }) => cautions ?? []);
    expect(blocks).toHaveLength(1);
    const [{ entries, stopSigns }] = blocks as [(typeof blocks)[0]];
    expect([stopSigns.form, new Set(entries.map(({ form }) => form))]).toEqual([
      "full",
      new Set(["full"]),
    ]);
    for (const { text } of cautionsWording.cautions.filter(({ when }) => when !== "profile"))
      expect(entries.map((entry) => entry.text)).toContain(text);
    // The second of the example's protocols is near-maximal.
    expect(entries.find(({ id }) => id === "blood-pressure")?.because).toContain("near-maximal");
  });
});

test("one protocol is projected with nothing to compare it to", async () => {
  const [, size] = await partsOf({
    protocols: writtenProtocols(`alone: ${longHolds}`),
  });
  expect(size!.answers.map(({ title }) => title)).toEqual(["alone"]);
});

test("a protocol without effort, or far from everything, does not stop the others; six of nine are compared", async () => {
  const list = writtenProtocols(
    [
      `fine: ${longHolds}`,
      "no effort: 4 x 30 s, rest 60 s, 3/week, 12 weeks",
      "far: 1 x 1 s at 10%, 7/week, 60 weeks, short, neck",
      ...[40, 50, 60, 70, 80, 90].map(
        (effort) => `at ${effort}: 4 x 20 s at ${effort}%, rest 60 s, 3/week, 12 weeks, knee`,
      ),
    ].join("\n"),
  );
  const [sessions, size] = await partsOf({ protocols: list });
  const said = (part: ReportPart, name: string) =>
    part.answers.find(({ title }) => title === name)!.answer.headline;
  expect(said(sessions!, "no effort")).toMatch(/cannot be said without intensity/);
  expect(said(size!, "no effort")).toMatch(/^no effort: Nothing is projected for size: .*effort/);
  expect(said(size!, "far")).toContain("the nearest is");
  expect(size!.lead).toEqual(["The first 6 of 9 protocols are compared."]);
  const compared = size!.answers[0]!.answer.sentences.join(" ");
  expect(compared).toContain("far: Nothing is projected for size");
  expect(compared).toContain("at 40 against at 50");
  expect(compared).not.toContain("at 70 against");
});

test("without protocols there is no part; on another scale nothing is projected and that is said once", async () => {
  expect(await partsOf({})).toEqual([]);
  const parts = await partsOf({ protocols: example }, { scale: "raw-mean-difference" });
  expect(parts.map(({ id }) => id)).toEqual(["protocols"]);
  expect(parts[0]!.lead.join()).toContain("Nothing is projected: gains are projected in percent");
});
