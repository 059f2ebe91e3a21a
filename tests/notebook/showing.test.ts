/** What the display functions hand to a notebook: text of a file stays text, figures carry their words. */
import { expect, test, vi } from "vitest";
import { checkAnswer } from "../../src/notebook/check-answer.js";
import { showCautions } from "../../src/notebook/show-cautions.js";
import { showFigure, specificationType } from "../../src/notebook/show-figure.js";
import { showOn } from "../../src/notebook/show-on.js";
import { showTable } from "../../src/notebook/show-table.js";
import { holdStripFigure } from "../../src/figures/hold-strip-figure.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";

const shown: { type: string; content: unknown }[] = [];
const display = { raw: (type: string, content: unknown) => void shown.push({ type, content }) };

test("before a place to show is named, the mend is said", async () => {
  // Another file of this worker may have named one.
  vi.resetModules();
  const { checkAnswer } = await import("../../src/notebook/check-answer.js");
  expect(() => checkAnswer("1.1", { found: 1 })).toThrow(/showOn\(display\)/);
});

test("a frame: numbers to four digits and to the right, gaps blank, markup as text, long frames cut", () => {
  showOn(display);
  shown.length = 0;
  const values: readonly (readonly unknown[])[] = [["<b>Ashdown</b>", 1 / 3, null]];
  showTable({ columns: ["study", "x & y", "gap"], values }, "Five < six");
  const html = String(shown[0]?.content);
  expect(shown[0]?.type).toBe("text/html");
  expect(html).toContain("&lt;b&gt;Ashdown");
  expect(html).toContain("Five &lt; six");
  expect(html).toMatch(/text-align:right[^>]*>0\.3333</);
  expect(html).toContain('<td style="text-align:left"></td>');
  showTable({ columns: ["n"], values: Array.from({ length: 60 }, (_, index) => [index]) });
  expect(String(shown[1]?.content)).toContain("20 more rows");
});

test("a figure: a drawing with its description, then the specification as an object", async () => {
  showOn(display);
  shown.length = 0;
  const timeline = sessionTimeline(parsePrescription("4 x 20 s at 70%, rest 60 s"));
  const figure = holdStripFigure({
    title: "A session",
    sessions: [{ label: "<script>", timeline, summary: "" }],
  });
  await showFigure(figure);
  const [drawing, specification] = shown;
  const html = String(drawing?.content);
  const base64 = /base64,([^"]+)"/.exec(html)?.[1] ?? "";
  const svg = Buffer.from(base64, "base64").toString("utf8");
  expect(svg).toMatch(/^<svg[^>]*>/);
  expect(svg).not.toMatch(/<script/);
  // coordinates of more than two decimals would only swell the file
  expect(/<[a-z][^>]*\d\.\d{3,}[^>]*>/i.exec(svg)).toBeNull();
  expect(html).toContain('alt="');
  expect(specification).toEqual({ type: specificationType, content: figure.specification });
});

test("cautions: in full the first time, shortened after that, never left out", () => {
  showOn(display);
  shown.length = 0;
  showCautions("4 x 20 s at 70%, rest 60 s, long");
  showCautions("4 x 20 s at 70%, rest 60 s, long");
  const [first = "", second = ""] = shown.map(({ content }) => String(content));
  expect(second.length).toBeLessThan(first.length);
  const entries = (html: string): number => (html.match(/data-caution=/g) ?? []).length;
  expect(entries(first)).toBeGreaterThan(5);
  expect(entries(second)).toBe(entries(first));
  expect(() => showCautions("a bit")).toThrow(/a protocol requires/);
});

test("an exercise nobody has written is refused by name", () => {
  showOn(display);
  expect(() => checkAnswer("99.1", { found: 1 })).toThrow(/1\.1.*got "99\.1"/);
});
