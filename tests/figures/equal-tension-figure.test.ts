/** Kinds of evidence: the published schema, and identities between the drawing and the answer. */
import { describe, expect, test } from "vitest";
import { equalTension } from "../../src/dose/equal-tension.js";
import { equalTensionFigure } from "../../src/figures/equal-tension-figure.js";
import { armTimeline } from "../../src/answers/effects-figures.js";
import { handMadeSet, sessionOf, type WrittenEffect } from "../dose/hand-made-set.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const longName = "A study whose name runs on and on, as names of consortia with many centres do";

const pair = (study: string, difference: number, rests = true): readonly WrittenEffect[] =>
  [sessionOf(4, 10, 3), sessionOf(4, 2, 15)].map((session, place) => ({
    study,
    arm: place === 0 ? "short" : "long",
    estimate: 0.1 + place * difference,
    variance: 0.002,
    row: {
      ...session,
      ...(rests ? { restBetweenRepetitionsSeconds: 3, restBetweenSetsSeconds: 60 } : {}),
    },
  }));

const made = (written: readonly WrittenEffect[]) => {
  const set = handMadeSet(written);
  const rules = equalTension(set);
  const answer = rules.answers[0]!;
  const timelines = Object.fromEntries(
    set.effects.flatMap(({ effectId, row }) => {
      const timeline = armTimeline(row);
      return timeline === undefined ? [] : [[effectId, timeline] as const];
    }),
  );
  return {
    answer,
    figure: equalTensionFigure({ answer, rules, scale: set.scale, timelines }),
  };
};

const studies = ["A", "B", "C", "D", "E"];

describe.each([
  ["five studies", studies.flatMap((study, i) => pair(study, 0.02 * i))],
  ["one study with a long name", pair(longName, 0.05)],
  ["sixty studies", Array.from({ length: 60 }, (_, i) => pair(`S${i}`, 0.01 * (i % 7))).flat()],
  ["no rests coded", studies.flatMap((study) => pair(study, 0.02, false))],
] as const)("%s", (name, written) => {
  const { figure, answer } = made(written);

  test("is sound and holds every pair with its two doses", () => {
    expectSoundFigure(figure);
    expect(figure.data).toHaveLength(answer.pairs.length);
    const labels = rowsOf(figure, "labels").map(({ text }) => text!);
    expect(labels.filter((text) => text.includes(": 15 s for 3 s"))).toHaveLength(
      answer.pairs.length,
    );
    const told = answer.headline.answer.kind === "told" ? 1 : 0;
    expect(rowsOf(figure, "ranges")).toHaveLength(answer.pairs.length + told);
  });

  test("sessions are drawn to scale where rests are coded, and not at all where not", () => {
    const text = JSON.stringify(figure.specification);
    expect(text.includes("sessions: holds")).toBe(name !== "no rests coded");
    expect(figure.caption.includes("Sessions: ")).toBe(name !== "no rests coded");
  });
});

test("both sessions of a pair hold the same ground: as many seconds of hold at the same effort", () => {
  const { figure } = made(studies.flatMap((study) => pair(study, 0.02)));
  const holds = rowsOf(figure, "sessions: holds");
  const ground = (pick: (y: number) => boolean): number =>
    holds
      .filter(({ y }) => pick(y))
      .reduce((sum, { x, x2, y, y2 }) => sum + (x2! - x) * (y2! - y), 0);
  const top = Math.min(...holds.map(({ y }) => y));
  const first = ground((y) => y === top);
  const second = ground((y) => y > top && y < top + 12);
  // 4 × 2 × 15 s above 4 × 10 × 3 s
  expect(first).toBeGreaterThan(0);
  expect(second).toBeCloseTo(first, 6);
});

test("the bar of the average is the interval of the answer, in percent", () => {
  const { figure, answer } = made(studies.flatMap((study, i) => pair(study, 0.02 * i)));
  const { headline } = answer;
  if (headline.answer.kind === "refusal") throw new Error("an average");
  const [bar] = rowsOf(figure, "ranges") as unknown as readonly Readonly<{
    kind: string;
    from: number;
    to: number;
  }>[];
  expect(bar!.kind).toBe("average");
  expect(bar!.from).toBeCloseTo(100 * Math.expm1(headline.answer.interval.low), 9);
  expect(bar!.to).toBeCloseTo(100 * Math.expm1(headline.answer.interval.high), 9);
});

test("one study has no average, and the reason stands in the words", () => {
  const { figure } = made(pair("A", 0.05));
  expect(figure.description).toContain("No average: only A has such arms");
  expect(JSON.stringify(figure.specification)).not.toContain("Average over such studies");
});

test("a pair that also differs in effort carries a letter that says so", () => {
  const written = studies.flatMap((study, i) =>
    pair(study, 0.02).map((effect, place) =>
      i === 0 && place === 1 ? { ...effect, row: { ...effect.row, intensityPercent: 60 } } : effect,
    ),
  );
  const { figure } = made(written);
  expect(figure.caption).toContain("a: also differs in intensity; not in the average.");
});

test("no pair is refused", () => {
  const set = handMadeSet(pair("A", 0.1).slice(0, 1));
  const rules = equalTension(set);
  expect(() => equalTensionFigure({ answer: rules.answers[0]!, rules, scale: set.scale })).toThrow(
    /at least one pair/,
  );
});
