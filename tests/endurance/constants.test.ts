/** Kind of evidence: two lists that must agree, the shared file and the code. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import {
  maximalFromPercent,
  maximalIntermittentStudy,
} from "../../src/endurance/assessment-cases.js";
import {
  enduranceCurves,
  fittedRangePercent,
  publishedSpread,
} from "../../src/endurance/endurance-time.js";
import {
  alternativeFatigueParameters,
  drivePerSecond,
  fatigueParameters,
  holdingStudy,
  restMultiplierAssumed,
} from "../../src/endurance/fatigue-parameters.js";
import {
  criticalLoad,
  longestJudgedSeconds,
  sparePoints,
} from "../../src/endurance/can-be-held.js";
import {
  nearMaximalAbovePercent,
  percentPerRatingStep,
} from "../../src/protocol/derived-quantities.js";

type Constant = Readonly<{
  name: string;
  region?: string;
  value: number;
  unit: string;
  source: string | null;
  tag: string;
}>;
const file = JSON.parse(
  readFileSync(new URL("../../shared/constants.json", import.meta.url), "utf8"),
) as Readonly<{
  tags: Readonly<Record<string, string>>;
  sources: Readonly<Record<string, string>>;
  constants: readonly Constant[];
}>;

/** Every constant of the code, under the name and region the file gives it. */
const inCode = new Map<string, number>([
  ...Object.entries(enduranceCurves).flatMap(([region, curve]): [string, number][] => [
    [`endurance curve scale, ${region}`, curve.scaleSeconds],
    [`endurance curve exponent, ${region}`, curve.exponent],
    [`endurance curve R squared, ${region}`, curve.rSquared],
  ]),
  ...Object.entries(fatigueParameters).flatMap(([region, p]): [string, number][] => [
    [`fatigue rate, ${region}`, p.fatiguePerSecond],
    [`recovery rate, ${region}`, p.recoveryPerSecond],
    [`rest multiplier, ${region}`, p.restMultiplier],
  ]),
  ...Object.entries(alternativeFatigueParameters).flatMap(([region, p]): [string, number][] => [
    [`alternative fatigue rate, ${region}`, p.fatiguePerSecond],
    [`alternative recovery rate, ${region}`, p.recoveryPerSecond],
    [`alternative rest multiplier, ${region}`, p.restMultiplier],
  ]),
  ["endurance curve spread, narrow", publishedSpread.narrow],
  ["endurance curve spread, wide", publishedSpread.wide],
  ["endurance curve lowest effort", fittedRangePercent.low],
  ["endurance curve highest effort", fittedRangePercent.high],
  ["drive rate", drivePerSecond],
  ["time to failure at 80% of MVC, holding, elbow", holdingStudy.holding.meanSeconds],
  [
    "time to failure at 80% of MVC, holding, standard deviation, elbow",
    holdingStudy.holding.standardDeviationSeconds,
  ],
  ["time to failure at 80% of MVC, pushing, elbow", holdingStudy.pushing.meanSeconds],
  [
    "time to failure at 80% of MVC, pushing, standard deviation, elbow",
    holdingStudy.pushing.standardDeviationSeconds,
  ],
  ["people in the holding study", holdingStudy.participants],
  ["torque before 60 maximal contractions, knee", maximalIntermittentStudy.freshNewtonMetres],
  ["torque after 60 maximal contractions, knee", maximalIntermittentStudy.endNewtonMetres],
  ["people in the intermittent study", maximalIntermittentStudy.participants],
  ["maximal from", maximalFromPercent],
  ["points to spare for those who tire early", sparePoints],
  ["longest session judged", longestJudgedSeconds],
  ["tension time from which the critical torque rules", criticalLoad.tensionSeconds],
  ["percent of MVC for one step of a 0-10 rating", percentPerRatingStep],
  ["near-maximal above", nearMaximalAbovePercent],
]);

test("the shared file and the code hold the same constants", () => {
  const inFile = file.constants.map((constant): [string, number] => [
    constant.region === undefined ? constant.name : `${constant.name}, ${constant.region}`,
    constant.value,
  ]);
  expect(new Map(inFile).size).toBe(inFile.length);
  expect(Object.fromEntries(inFile)).toEqual(Object.fromEntries(inCode));
});

test("each constant has a unit, a listed source or none that is owned up to, and a listed tag", () => {
  for (const constant of file.constants) {
    expect(constant.unit, constant.name).not.toBe("");
    expect(Object.keys(file.tags)).toContain(constant.tag);
    if (constant.source === null)
      expect(["common practice", "our choice"], constant.name).toContain(constant.tag);
    else expect(Object.keys(file.sources)).toContain(constant.source);
  }
  const assumed = file.constants.filter((constant) => constant.tag === "assumed");
  expect(assumed.map((constant) => constant.region)).toEqual(restMultiplierAssumed);
});
