import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { doseAxes, type DoseAxisName } from "../../src/dose/dose-axes.js";
import { doseDataOf } from "../../src/dose/dose-data.js";
import { doseSupport } from "../../src/dose/dose-support.js";
import { doseResponse, doseResponseOf } from "../../src/dose/dose-response.js";
import {
  axisRefusal,
  betweenRefusal,
  doseText,
  withinRefusal,
} from "../../src/dose/identifiability.js";
import { withinBetweenSlope } from "../../src/dose/within-between-slope.js";
import { effectSubset } from "../../src/effects/effect-subset.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { importRows } from "../../src/records/import-rows.js";
import { parseImportMap } from "../../src/records/import-map.js";
import { readRecords } from "../../src/records/read-records.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { doseTrials } from "./dose-trials.js";

const dataFile = (name: string) => readFileSync(new URL(`../../data/${name}`, import.meta.url));

/** Effects at given doses, one arm each; a study's arms stand in one list. */
const supportOf = (studies: readonly (readonly number[])[], axis: DoseAxisName) => {
  const arms = studies.flatMap((doses, s) => doses.map((dose, a) => ({ dose, s, a })));
  return doseDataOf({
    axis: doseAxes[axis],
    effects: arms.map(({ dose, s, a }) => ({
      effectId: `${s} ${a}`,
      study: `study ${s}`,
      arm: `study ${s} arm ${a}`,
      estimate: dose / 100,
      variance: 0.01,
    })),
    covariances: [],
    doses: arms.map(({ dose }) => dose),
  });
};

test("historic trials, intensity: nearly all arms train at 100% of MVC", () => {
  const map = parseImportMap(JSON.parse(dataFile("historic-isometric-map.json").toString("utf8")));
  const { csv } = importRows(readTable(dataFile("historic_isometric_trials.csv")), map);
  const { rows } = readRecords(readTable(writeTable(csv.header, csv.rows)));
  const set = effectSubset(
    effectsFromRows(rows, { contrast: "change-within-arm" }),
    ({ row }) => row.outcomeFamily === "strength",
  );
  const answer = doseResponse(set, "intensityPercent");
  const words = /^nearly all arms train at 100% of MVC \((\d+) of (\d+)\): no slope for intensity$/;
  const missing = answer.kind === "told" ? "" : answer.reason;
  expect(missing).toMatch(words);
  // Independent: the isometric arms of the file as it was published, counted straight from its cells.
  const raw = readTable(dataFile("historic_isometric_trials.csv"));
  const column = (name: string): number => raw.header.indexOf(name);
  const loads = new Map(
    raw.rows
      .filter(
        ({ cells }) =>
          cells[column("contraction_type")] === "isometric" &&
          /^\d/.test(cells[column("relative_load")]!),
      )
      .map(({ cells }) => [
        `${cells[column("study_code")]} ${cells[column("arm_code")]}`,
        Number(cells[column("relative_load")]),
      ]),
  );
  const full = [...loads.values()].filter((load) => load === 100).length;
  const [, ours, of] = words.exec(missing)!;
  expect(full / loads.size).toBeGreaterThan(0.8);
  expect(Number(of)).toBeLessThanOrEqual(loads.size);
  expect(Number(ours)).toBeLessThanOrEqual(full);
  const slope = withinBetweenSlope(set, "intensityPercent");
  for (const part of [slope.within, slope.between, slope.difference])
    expect(part.kind === "told" ? "" : part.reason).toBe(missing);
});

test("support is counted: arms, studies, doses, comparisons inside studies", () => {
  const { support } = supportOf([[40, 80], [60, 60, 80], [60], [100]], "intensityPercent");
  expect(support).toMatchObject({
    effects: 7,
    studies: 4,
    arms: 7,
    lowest: 40,
    highest: 100,
    studiesWithin: 2,
    dosesWithin: 3,
    rangeWithin: { low: 40, high: 80 },
    mostDosesInAStudy: 2,
    // means 60, 66.7, 60, 100
    distinctMeans: 3,
    commonest: { dose: 60, arms: 3, share: 3 / 7 },
  });
  expect(support.doses.map(({ dose, arms, studies }) => [dose, arms, studies])).toEqual([
    [40, 1, 1],
    [60, 3, 2],
    [80, 2, 2],
    [100, 1, 1],
  ]);
});

test.each([
  [[[3], [3], [3], [3]], "all arms have the same number of sessions a week, 3"],
  [[[], []], "sessions a week cannot be told for any arm"],
  [[[3, 4]], "only 2 effects of 1 study with known sessions a week"],
  [
    [
      [3, 3, 3],
      [3, 3, 3],
      [3, 3, 2],
      [3, 3],
    ],
    "nearly all arms have the same number of sessions a week, 3 (10 of 11)",
  ],
] as const)("a whole axis is refused, %#", (studies, words) => {
  const { support, axis } = supportOf(studies, "sessionsPerWeek");
  expect(axisRefusal(support, axis)?.reason).toBe(`${words}: no slope for sessions a week`);
});

test("a dose shared by fewer arms is not called that of nearly all", () => {
  const { support, axis } = supportOf(
    [
      [3, 3],
      [3, 2],
      [3, 2],
    ],
    "sessionsPerWeek",
  );
  expect(axisRefusal(support, axis)?.reason).toBe(
    "only 2 studies have an arm whose sessions a week is not 3, at least 3 are needed: no slope for sessions a week",
  );
});

test("enough comparisons inside studies lift the refusal of a common dose", () => {
  const many = Array.from({ length: 3 }, () => [100, 100, 100, 100, 100, 100, 100, 100, 100, 50]);
  const { support, axis } = supportOf(many, "intensityPercent");
  expect(support.commonest?.share).toBeCloseTo(0.9, 12);
  expect(axisRefusal(support, axis)).toBeUndefined();
  expect(withinRefusal(support, axis)).toBeUndefined();
});

test("inside studies: two comparing studies are too few, three are enough", () => {
  const two = supportOf([[20, 40], [40, 60], [80], [100]], "intensityPercent");
  expect(withinRefusal(two.support, two.axis)?.reason).toBe(
    "only 2 studies with a weight compare arms that differ in intensity; at least 3 are needed",
  );
  const three = supportOf(
    [
      [20, 40],
      [40, 60],
      [80, 90],
    ],
    "intensityPercent",
  );
  expect(withinRefusal(three.support, three.axis)).toBeUndefined();
});

test("between studies: four studies with three means are needed", () => {
  const three = supportOf([[20], [40], [60]], "holdSeconds");
  expect(betweenRefusal(three.support, three.axis)?.reason).toMatch(/^3 studies with 3 distinct/);
  const twoMeans = supportOf([[20], [20], [60], [60]], "holdSeconds");
  expect(betweenRefusal(twoMeans.support, twoMeans.axis)?.reason).toMatch(/4 studies with 2 dist/);
  const enough = supportOf([[20], [20], [60], [80]], "holdSeconds");
  expect(betweenRefusal(enough.support, enough.axis)).toBeUndefined();
});

test("degenerate designs give a refusal with words, never a number or a fault", () => {
  const designs: readonly (readonly (readonly number[])[])[] = [
    [],
    [[10]],
    [[10], [20]],
    [[10, 20]],
    [
      [10, 10],
      [10, 10],
    ],
    [[10], [10], [10], [10], [20]],
    [
      [10, 20],
      [30, 40],
    ],
  ];
  for (const design of designs) {
    const answer = doseResponseOf(supportOf(design, "holdSeconds"));
    expect(answer.kind === "told", JSON.stringify(design)).toBe(false);
    if (answer.kind === "refusal") expect(answer.reason).toMatch(/hold length/);
  }
});

test("two arms each in three studies: a straight line at most, every other shape says what it lacks", () => {
  const { set } = doseTrials(randomStream(3), {
    studies: 3,
    arms: [2, 2],
    readings: 1,
    intensities: [40, 80],
  });
  const sharp = effectSubset(set, () => true);
  const answer = doseResponse(
    {
      ...sharp,
      effects: sharp.effects.map((effect, i) => {
        const row = { ...effect.row, intensityPercent: i % 2 === 0 ? 40 : 80 };
        return { ...effect, row };
      }),
    },
    "intensityPercent",
  );
  const shapes = answer.kind === "told" ? answer.shapes : [];
  for (const shape of shapes) {
    const simple = shape.name === "none" || shape.name === "straight line";
    if (!simple && shape.kind === "refusal")
      expect(shape.reason).toMatch(/needs 3 distinct|needs 5 stud|needs \d/);
    if (!simple) expect(shape.kind === "told").toBe(false);
  }
});

test("contrasts of two trained arms have no single dose", () => {
  const { set } = doseTrials(randomStream(1));
  expect(() => doseResponse({ ...set, contrast: "between-arms" }, "holdSeconds")).toThrow(
    /two doses each/,
  );
});

test("doses in words", () => {
  expect(doseText(100, doseAxes.intensityPercent)).toBe("100% of MVC");
  expect(doseText(3, doseAxes.sets)).toBe("3");
  expect(doseText(90, doseAxes.trainingAngleDegrees)).toBe("90°");
  expect(doseText(1, doseAxes.muscleLength)).toBe("long length");
});

describe("the chain of doses that studies link", () => {
  const linked = (...studies: readonly (readonly number[])[]) => {
    const { effects, doses } = dosed(studies);
    return doseSupport(effects, doses).linked;
  };
  const dosed = (studies: readonly (readonly number[])[]) => ({
    effects: studies.flatMap((doses, study) =>
      doses.map((_, arm) => ({
        effectId: `${study} ${arm}`,
        study: `S${study}`,
        arm: `S${study} ${arm}`,
        estimate: 0,
        variance: 1,
      })),
    ) as unknown as Parameters<typeof doseSupport>[0],
    doses: studies.flat(),
  });

  test("stretches that overlap or touch are one, and say whether one study compared its ends", () => {
    expect(linked([3, 10], [10, 20], [5, 8])).toEqual({
      low: 3,
      high: 20,
      studies: 3,
      endsCompared: false,
    });
    expect(linked([3, 10], [20, 3, 5])).toMatchObject({ low: 3, high: 20, endsCompared: true });
  });

  test("a gap parts chains: the one of the most studies is told, of equals the longest; a study of one dose links nothing", () => {
    expect(linked([3, 10], [5, 12], [40, 240], [20, 20])).toMatchObject({
      low: 3,
      high: 12,
      studies: 2,
    });
    expect(linked([3, 10], [40, 60])).toMatchObject({ low: 40, high: 60, studies: 1 });
    expect(linked([30], [40])).toBeUndefined();
  });
});
