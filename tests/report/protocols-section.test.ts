/** Kind of evidence: identities; the section says of each protocol what the rooms say when asked on their own. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { cautionsWording } from "../../src/projection/cautions-wording.js";
import { projectionGoals } from "../../src/projection/goals.js";
import { protocolList } from "../../src/projection/protocol-list.js";
import { protocolGoalSection, protocolsSection } from "../../src/report/protocols-section.js";
import type { ReportSection } from "../../src/report/old-sections.js";
import type { ReportWishes } from "../../src/report/report-part.js";
import { judgedSession } from "../../src/report/judged-session.js";
import { projectionAnswer } from "../../src/tables/projection-table.js";
import { analyse } from "../../src/report/analysis.js";
import { fewRows, longHolds, projected, readySize, register } from "../tables/sample-projection.js";
import { expectSoundFigure } from "../figures/figure-checks.js";

/** The five trials of `sample-projection.ts`, analysed by themselves. */
const few = analyse(
  { name: "five.csv", fingerprint: "5".repeat(64), invented: true },
  { ...register, rows: fewRows },
);
/** The section on the sessions and those on the goals, read as one. */
const section = (wishes: ReportWishes, analysis = few): ReportSection => {
  const made = [protocolsSection, ...projectionGoals.map(protocolGoalSection)].flatMap((make) => {
    const one = make(analysis, wishes, () => undefined);
    return one === undefined ? [] : [one];
  });
  const [first] = made;
  if (first === undefined) throw new Error("no section");
  return {
    ...first,
    sentences: made.flatMap(({ sentences }) => sentences),
    figures: made.flatMap(({ figures }) => figures),
    tables: made.flatMap(({ tables }) => tables),
  };
};
const example = protocolList(
  readFileSync(new URL("../../data/example-protocols.txt", import.meta.url), "utf8"),
);

describe("the example file", () => {
  const made = section({ protocols: example, goals: ["size", "rapid force"] });

  test("each session is drawn, judged and projected, and all are compared", () => {
    for (const { name, prescription } of example) {
      const words = made.sentences.filter((sentence) => sentence.startsWith(`${name}: `));
      expect(words[0]).toContain(judgedSession(prescription).words);
      expect(words[1]).toMatch(/such studies average/);
    }
    expect(made.figures.map(({ id }) => id)).toEqual([
      "protocol-sessions",
      "comparison-size",
      "projection-size-1",
      "projection-size-2",
      "projection-size-3",
    ]);
    for (const figure of made.figures) expectSoundFigure(figure);
    expect(made.sentences.filter((sentence) => / against /.test(sentence))).toHaveLength(3);
  });

  test("a goal without effects says so and costs the others nothing", () => {
    expect(made.sentences.at(-1)).toMatch(/^The file has no effect for the goal "rapid force"/);
  });

  test("ids are each their own, and the priors are printed", () => {
    const ids = [...made.figures, ...made.tables].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(made.tables.map(({ id }) => id)).toContain("priors-size");
  });

  test("every caution stands in full", () => {
    const cautions = made.tables.find(({ id }) => id === "protocol-cautions");
    expect(cautions?.rows).toHaveLength(cautionsWording.cautions.length + 1);
    for (const { text } of cautionsWording.cautions)
      expect(cautions?.rows.some((row) => row["text"]?.startsWith(text) === true)).toBe(true);
  });
});

test("one protocol is projected with nothing to compare it to, as the projection room does it", () => {
  const made = section({ protocols: protocolList(`alone: ${longHolds}`), goals: ["size"] });
  expect(made.figures.map(({ id }) => id)).toEqual(["protocol-sessions", "projection-size-1"]);
  const ready = readySize();
  expect(made.sentences.join(" ")).toContain(projectionAnswer(projected(ready, longHolds), ready));
});

test("a protocol without effort, or far from everything, does not stop the others; seven fit", () => {
  const list = protocolList(
    [
      `fine: ${longHolds}`,
      "no effort: 4 x 30 s, rest 60 s, 3/week, 12 weeks",
      "far: 1 x 1 s at 10 %, 7/week, 60 weeks, short, neck",
      ...[40, 50, 60, 70, 80, 90].map(
        (effort) => `at ${effort}: 4 x 20 s at ${effort} %, rest 60 s, 3/week, 12 weeks, knee`,
      ),
    ].join("\n"),
  );
  const made = section({ protocols: list, goals: ["size"] });
  const said = (name: string) =>
    made.sentences.filter((sentence) => sentence.startsWith(`${name}: `)).join(" ");
  expect(said("no effort")).toMatch(/effort/);
  expect(said("no effort")).toContain("Nothing is projected");
  expect(said("far")).toContain("the nearest is");
  expect(made.sentences.join(" ")).toContain("The first 6 of 7 protocols are compared");
  expect(made.figures.map(({ id }) => id)).toContain("protocol-sessions-2");
});

test("without protocols there is no section; on another scale nothing is projected and that is said", () => {
  expect(protocolsSection(few, {}, () => undefined)).toBe(undefined);
  const scale = "standardised-mean-change-baseline-deviation" as const;
  const other = { ...few, sets: few.sets.map((set) => ({ ...set, scale })) };
  const made = section({ protocols: example, goals: ["size"] }, other);
  expect(made.sentences.join(" ")).toContain("Nothing is projected");
  expect(made.figures.map(({ id }) => id)).toEqual(["protocol-sessions"]);
  expect(made.tables.at(-1)?.id).toBe("protocol-cautions");
});
