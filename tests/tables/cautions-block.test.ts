/** Kind of evidence: identities; every entry of a block stands in every rendering. */
import { describe, expect, test } from "vitest";
import { cautionsFor } from "../../src/projection/cautions.js";
import type { CautionsBlock } from "../../src/projection/cautions.js";
import { cautionsWording } from "../../src/projection/cautions-wording.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import {
  cautionsToHtml,
  cautionsToMarkdown,
  cautionsToText,
} from "../../src/tables/cautions-block.js";
import { displayWidth } from "../../src/tables/display-width.js";

const protocol = parsePrescription("4 x 30 s at 95%, rest 60 s, long");
const full = cautionsFor(protocol);
const short = cautionsFor(protocol, { form: "short", shown: full.shown });
const flat = (text: string): string => text.replace(/\s+/g, " ");
const unescaped = (text: string): string =>
  text.replace(/&#39;/g, "'").replace(/&amp;/g, "&").replace(/\\/g, "");

const renderings: Readonly<Record<string, (block: CautionsBlock) => string>> = {
  text: (block) => cautionsToText(block, { width: 100_000 }),
  Markdown: cautionsToMarkdown,
  HTML: (block) => cautionsToHtml(block),
};

describe.each(Object.entries(renderings))("as %s", (_name, render) => {
  test.each([
    ["full", full],
    ["short", short],
  ] as const)("the %s block holds every title, wording, source and reason", (_form, block) => {
    const shown = flat(unescaped(render(block)));
    for (const entry of [...block.entries, block.stopSigns]) {
      for (const piece of [entry.title, entry.text, entry.source])
        expect(shown).toContain(flat(piece));
      if (entry.because !== undefined) expect(shown).toContain(entry.because);
      if (entry.doi !== undefined) expect(shown).toContain(entry.doi);
    }
  });

  test("the full block lists every stop sign; the short one is shorter", () => {
    for (const sign of cautionsWording.stopSigns.signs) expect(render(full)).toContain(sign);
    expect(render(short).length).toBeLessThan(render(full).length);
  });
});

test("text keeps to its width", () => {
  for (const width of [30, 80, 120])
    for (const line of cautionsToText(full, { width }).split("\n"))
      expect(displayWidth(line)).toBeLessThanOrEqual(width);
});

test("HTML has the heading asked for, and nothing that runs or loads", () => {
  const html = cautionsToHtml(full, { headingLevel: 3 });
  expect(html).toContain(`<h3>${cautionsWording.title}</h3>`);
  expect(html).not.toMatch(/<script|style=|\son\w+=|https?:/);
});
