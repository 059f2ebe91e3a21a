import { expect, test } from "vitest";
import { varianceTable } from "../../src/tables/variance-table.js";
import { sampleMultilevel } from "./sample-results.js";
import { told } from "./told.js";

test("each level has its variance, deviation and share; a boundary is a number like others", () => {
  const table = varianceTable(sampleMultilevel);
  // Hand arithmetic: √0.0121 = 0.11.
  expect(table.rows[0]).toMatchObject({
    level: "study",
    shownVariance: "0.0121",
    shownInterval: "0.0010 to 0.0400",
    deviation: "0.110",
    shownISquared: "61%",
  });
  expect(table.rows[1]).toMatchObject({ level: "arm", shownVariance: "0.0000", shownInterval: "" });
});

test("every number in its place", () => {
  // √0.0484 = 0.22, √0.0009 = 0.03
  expect(
    told(
      varianceTable({
        ...sampleMultilevel,
        varianceByLevel: { study: 0.0484, arm: 0.0009 },
        varianceIntervals: { study: { low: 0.0112, high: 0.1371 } },
        iSquaredPercentByLevel: { study: 57.6 },
      }),
    ),
  ).toEqual([
    "Where effects differ: variance by level [variance-by-level]",
    "Level | >Variance | >Interval | >Standard deviation | >I² of the level",
    "study | 0.0484 | 0.0112 to 0.1371 | 0.220 | 58%",
    "arm | 0.0009 |  | 0.030 | ",
    "* Variances are on the scale of the model. A variance of 0 means that the level shows no difference beyond what sampling error brings; it is a normal answer.",
    "* I² of a level is its share of all variation, sampling error included; the shares need not add to 100%, the rest is sampling error.",
    "level,variance,interval_low,interval_high,i_squared_percent",
    "study,0.0484,0.0112,0.1371,57.6",
    "arm,0.0009,,,",
  ]);
});
