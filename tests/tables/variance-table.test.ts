import { expect, test } from "vitest";
import { varianceTable } from "../../src/tables/variance-table.js";
import { sampleMultilevel } from "./sample-results.js";

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
