/** What a student saves, draws and picks: files of three kinds, a title and width of one's own, rows by conditions. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, expect, test } from "vitest";
import { ask, openFile } from "../../src/notebook/ask.js";
import { printedGains, rowsWhere, withColumn } from "../../src/notebook/rows-where.js";
import { saveCard, saveFigure } from "../../src/notebook/save-figure.js";
import {
  ownFigure,
  showFigure,
  showSpecification,
  specificationType,
} from "../../src/notebook/show-figure.js";
import { showOn } from "../../src/notebook/show-on.js";
import { runHere } from "../command/run-here.js";
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

test("a width on paper: 12 cm at 300 points an inch, said in the picture; below 500 units the layout of a column", async () => {
  const [figure] = (await ask("pool", { outcome: "size" })).figures;
  const [png, svg] = ["w.png", "w.svg"].map((name) => join(testFolder, name));
  await saveFigure(png!, figure!, { centimetres: 12 });
  const bytes = readFileSync(png!);
  // 12 / 2.54 · 300 = 1417.3 points; 300 points an inch are 300 / 0.0254 = 11811 a metre.
  expect(Math.abs(bytes.readUInt32BE(16) - 1417)).toBeLessThanOrEqual(1);
  const place = bytes.indexOf("pHYs");
  expect([bytes.readUInt32BE(place + 4), bytes.readUInt32BE(place + 8)]).toEqual([11811, 11811]);
  await saveFigure(svg!, figure!, { centimetres: 16.5 });
  expect(readFileSync(svg!, "utf8")).toMatch(/^<svg[^>]* width="16.5cm" height="[\d.]+cm"/);
  await expect(saveFigure(png!, figure!, { centimetres: 0 })).rejects.toThrow(
    "1 to 100 centimetres",
  );
  await expect(showFigure(undefined as never)).rejects.toThrow("answer.figures lists");
});

test("a column of one's own groups, filters and moderates; the file stays as it is", async () => {
  const mine = withColumn(
    "period",
    ({ year }) => year && (year < 2010 ? "before 2010" : "since 2010"),
  );
  const inFile = rowsWhere(undefined, "year<2010").length;
  expect(rowsWhere(mine, "period=before 2010")).toHaveLength(inFile);
  expect(() => rowsWhere(undefined, "period=before 2010")).toThrow("period");
  const { sentences, data } = await ask("pool", { outcome: "size", moderators: "period" }, mine);
  expect(sentences.join(" ")).toContain("Size by period: before 2010 ");
  expect(data.file?.name).toBe("published-outcomes.csv with period");
  expect(data.file?.fingerprint).not.toBe((await ask("check")).data.file?.fingerprint);
  expect(() => withColumn("weeks", () => 1)).toThrow("a name that no column has");
});

test("a card holds under holdbook verify, and no longer when a digit is changed", async () => {
  const card = join(testFolder, "card.svg");
  await saveCard(card, await ask("pool", { outcome: "size" }));
  expect((await runHere("verify", card, library)).exitCode).toBe(0);
  writeFileSync(card, readFileSync(card, "utf8").replaceAll("8.7%", "9.7%"));
  expect((await runHere("verify", card, library)).exitCode).not.toBe(0);
});

test("a drawing of one's own has the library's type and a size, and keeps what it says itself", () => {
  const mark = { data: { values: [{ a: 1 }] }, mark: "point" };
  const plain = ownFigure(mark, "Mine").specification as unknown as Record<string, unknown>;
  expect([plain["title"], plain["width"]]).toEqual(["Mine", 480]);
  expect(JSON.stringify(plain["config"])).toContain("Inter");
  const own = ownFigure({ ...mark, width: 300, title: "Its own", config: {} }, "Mine");
  expect(own.specification).toMatchObject({ title: "Its own", width: 300, config: {} });
});
