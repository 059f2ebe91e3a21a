/** Kind of evidence: identity with the wording that is shipped. */
import { expect, test } from "vitest";
import { cautionsFor, type CautionsBlock } from "../../src/projection/cautions.js";
import { cautionsWording } from "../../src/projection/cautions-wording.js";
import { cautionsTable } from "../../src/tables/cautions-table.js";
import { told } from "./told.js";

test("no caution is left out, the stop signs come first, and each has its source", () => {
  const { rows } = cautionsTable(cautionsFor([]));
  expect(rows).toHaveLength(cautionsWording.cautions.length + 1);
  expect(rows[0]?.["title"]).toBe(cautionsWording.stopSigns.title);
  for (const sign of cautionsWording.stopSigns.signs) expect(rows[0]?.["text"]).toContain(sign);
  for (const { title, text } of cautionsWording.cautions)
    expect(rows.find((row) => row["title"] === title)?.["text"]).toContain(text);
  for (const { source } of rows) expect(source).toMatch(/\S/);
});

test("every part in its place, stop signs in full and short", () => {
  const block = {
    title: "Cautions",
    stopSigns: {
      id: "stop",
      title: "Stop",
      form: "full",
      text: "Then stop.",
      signs: ["pain", "faintness"],
      source: "agency",
      sourceKind: "guideline",
    },
    entries: [
      {
        id: "a",
        title: "Pressure",
        text: "It rises.",
        form: "full",
        because: "holds of 40 s",
        source: "Elm 2011",
        sourceKind: "trial",
        doi: "10.1/x",
      },
      {
        id: "b",
        title: "Breath",
        text: "Breathe.",
        form: "full",
        source: "coaches",
        sourceKind: "common practice",
        doi: "10.1/unused",
      },
    ],
    shown: {},
  } as unknown as CautionsBlock;
  expect(told(cautionsTable(block))).toEqual([
    "Cautions [protocol-cautions]",
    "Caution | What to know | Source",
    "Stop | Signs: pain; faintness. Then stop. | guideline: agency",
    "Pressure | It rises. Here: holds of 40 s. | trial: Elm 2011, doi 10.1/x",
    "Breath | Breathe. | coaches",
  ]);
  const short = { ...block, stopSigns: { ...block.stopSigns, form: "short" as const } };
  expect(cautionsTable(short, "other").rows[0]?.["text"]).toBe("Then stop.");
  expect(cautionsTable(short, "other").id).toBe("other");
});
