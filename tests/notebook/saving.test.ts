/** What a student saves, draws and picks: files of three kinds, a title and width of one's own, rows by conditions. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, expect, test } from "vitest";
import { ask, openFile } from "../../src/notebook/ask.js";
import { printedGains, rowsWhere } from "../../src/notebook/rows-where.js";
import { saveFigure } from "../../src/notebook/save-figure.js";
import { showSpecification, specificationType } from "../../src/notebook/show-figure.js";
import { showOn } from "../../src/notebook/show-on.js";
import { testFolder } from "../command/test-folder.js";

const library = new URL("../../data/published-outcomes.csv", import.meta.url).pathname;

beforeAll(async () => {
  await openFile(library);
});

test("rows by conditions: 21 rows of two studies are what the file holds, and a wrong column is named", () => {
  const rows = rowsWhere(undefined, "study=Lanza 2019");
  expect(rows.map(({ testAngleDegrees }) => testAngleDegrees)).toEqual([35, 50, 65, 80]);
  expect(rowsWhere(undefined, "weeks>=8").every(({ weeks }) => (weeks ?? 0) >= 8)).toBe(true);
  expect(() => rowsWhere(undefined, "weaks>=8")).toThrow("did you mean weeks?");
});

test("gains as printed: the numbers of the rows, open where no spread is printed", () => {
  // Lanza 2019 prints 5, 11, 12 and 7% at 35, 50, 65 and 80°, and no spread in these rows; Tanaka 2016 prints 81.2 and
  // 105.0, and 63.0 and 81.3: 29.3% and 29.0%.
  const lanza = printedGains("study=Lanza 2019", "test_angle_degrees");
  if (lanza.name !== "printed-gains") throw new Error("another figure");
  expect(lanza.data.gains.map(({ x, gain, low }) => [x, gain, low])).toEqual([
    [35, 5, null],
    [50, 11, null],
    [65, 12, null],
    [80, 7, null],
  ]);
  const tanaka = printedGains("study=Tanaka 2016", "test angle degrees");
  if (tanaka.name !== "printed-gains") throw new Error("another figure");
  expect(tanaka.data.gains.map(({ gain }) => gain.toFixed(1))).toEqual(["29.3", "29.0"]);
  // Tanaka prints deviations before and after, Lanza none.
  expect(tanaka.data.gains.map(({ hasSpread }) => hasSpread)).toEqual([true, true]);
  expect(lanza.data.gains.some(({ hasSpread }) => hasSpread)).toBe(false);
  expect(() => printedGains("study=Lanza 2019", "hold_seconds")).toThrow("a number in");
});

test("a figure is saved as drawing, picture and specification, with its own title and width", async () => {
  const figure = printedGains("study=Lanza 2019", "test_angle_degrees");
  const [svg, png, json] = ["a.svg", "a.png", "a.json"].map((name) => join(testFolder, name));
  await saveFigure(svg!, figure, { title: "Angles of Lanza", width: 500 });
  expect(readFileSync(svg!, "utf8")).toContain("Angles of Lanza");
  await saveFigure(png!, figure, { size: "slide" });
  const bytes = readFileSync(png!);
  expect(bytes.subarray(1, 4).toString()).toBe("PNG");
  expect([bytes.readUInt32BE(16), bytes.readUInt32BE(20)]).toEqual([1920, 1080]);
  await saveFigure(json!, figure);
  expect((JSON.parse(readFileSync(json!, "utf8")) as { $schema: string }).$schema).toContain(
    "vega-lite/v6",
  );
  await expect(saveFigure("a.gif", figure)).rejects.toThrow(".svg, .png, .json");
});

test("a specification of one's own is drawn and shown under the type of version 6", async () => {
  const shown: { type: string; content: unknown }[] = [];
  showOn({ raw: (type: string, content: unknown) => void shown.push({ type, content }) });
  await showSpecification(
    {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      data: { values: [{ a: 1, b: 2 }] },
      mark: "point",
      encoding: {
        x: { field: "a", type: "quantitative" },
        y: { field: "b", type: "quantitative" },
      },
    },
    "One point",
  );
  expect(shown.map(({ type }) => type)).toEqual(["text/html", specificationType]);
  expect(specificationType).toBe("application/vnd.vegalite.v6+json");
});

test("any column is a moderator, a file's own too", async () => {
  const answer = await ask("pool", { outcome: "strength", moderators: "year" });
  expect(JSON.stringify(answer.data)).toContain("year");
});
