/** Kind of evidence: identity with the wording that is shipped. */
import { expect, test } from "vitest";
import { cautionsFor } from "../../src/projection/cautions.js";
import { cautionsWording } from "../../src/projection/cautions-wording.js";
import { cautionsTable } from "../../src/tables/cautions-table.js";

test("no caution is left out, the stop signs come first, and each has its source", () => {
  const { rows } = cautionsTable(cautionsFor([]));
  expect(rows).toHaveLength(cautionsWording.cautions.length + 1);
  expect(rows[0]?.["title"]).toBe(cautionsWording.stopSigns.title);
  for (const sign of cautionsWording.stopSigns.signs) expect(rows[0]?.["text"]).toContain(sign);
  for (const { title, text } of cautionsWording.cautions)
    expect(rows.find((row) => row["title"] === title)?.["text"]).toContain(text);
  for (const { source } of rows) expect(source).toMatch(/\S/);
});
