import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { figuresAt } from "../../src/figures/figure-list.js";
import { figureSizes } from "../../src/figures/frame.js";
import { figureTheme } from "../../src/figures/theme.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { shippedEvidence } from "../answers/evidence-under-test.js";
import { figureFiles, figuresOfKind } from "./asked-figures.js";
import { expectSoundFigure } from "./figure-checks.js";
import { marksIn, type Mark } from "./read-plot.js";

type Layer = Readonly<{
  name: string;
  data: Readonly<{ values: readonly Readonly<Record<string, unknown>>[] }>;
  encoding: Readonly<Record<string, Readonly<Record<string, unknown>>>>;
}>;

/** Every layer of a specification, by its name. */
const layersOf = (node: unknown, found: Record<string, Layer> = {}): Record<string, Layer> => {
  if (Array.isArray(node)) for (const each of node) layersOf(each, found);
  else if (typeof node === "object" && node !== null) {
    const one = node as Layer;
    if (typeof one.name === "string" && one.encoding !== undefined) found[one.name] = one;
    for (const [key, value] of Object.entries(node)) if (key !== "data") layersOf(value, found);
  }
  return found;
};

const answer = await ask("variables", { outcome: "size" }, shippedEvidence("demo-register.csv"));
const figure = answer.figures.find(({ name }) => name === "variables")!;
const rows = answer.data.rows as unknown as readonly Readonly<{
  within?: Readonly<{ estimate: number; interval: Readonly<{ low: number; high: number }> }>;
  between?: object;
  axis: Readonly<{ label: string }>;
  verdict: Readonly<{ verdict: string }>;
}>[];

test.each(figureSizes)(
  "%s: ranges are the table's, in percent, filled where studies compare",
  (size) => {
    const [drawn] = figuresAt(size)(figure);
    expectSoundFigure(drawn!);
    const { ranges } = layersOf(drawn!.specification);
    const told = rows.filter(({ within, between }) => within ?? between);
    const values = ranges!.data.values;
    expect(values.length).toBe(size === "slide" ? Math.min(12, told.length) : told.length);
    for (const { within, axis } of told) {
      const own = values.find(({ label }) =>
        String(label).startsWith(`${axis.label[0]!.toUpperCase()}${axis.label.slice(1)}, `),
      );
      if (within === undefined || own === undefined) continue;
      expect(own["kind"]).toBe("inside studies");
      expect(own["low"]).toBeCloseTo(100 * Math.expm1(within.interval.low), 9);
      expect(own["estimate"]).toBeCloseTo(100 * Math.expm1(within.estimate), 9);
      expect(own["high"]).toBeCloseTo(100 * Math.expm1(within.interval.high), 9);
    }
    // The axis, the legend and the marks are encodings of these fields.
    expect(ranges!.encoding["x"]).toMatchObject({
      field: "from",
      type: "quantitative",
    });
    // Some ranges are cut, and the axis says what the marks there mean.
    const { title } = (ranges!.encoding["x"] as { axis: { title: string | string[] } }).axis;
    expect([title].flat().join(" ")).toMatch(/% \(?‹ ›: runs on\)?$/);
    expect(ranges!.encoding["fill"]).toMatchObject({ field: "kind", legend: { orient: "top" } });
  },
);

test.each(["page", "slide"] as const)(
  "%s: no line of the grid runs through the words of what does not count",
  async (size) => {
    const svg = await drawSvg(figuresAt(size)(figure)[0]!);
    const [grid, ground, words] = [
      "mark-rule role-axis-grid",
      "behind_the_words_of_the_zone_marks",
      " words_of_the_zone_marks",
    ].map((name) => svg.search(new RegExp(`<g class="[^"]*${name}"`)));
    expect(0 < grid! && grid! < ground! && ground! < words!).toBe(true);
    const [{ path, fill }] = marksIn(svg, "behind_the_words_of_the_zone_marks") as [Mark];
    expect(fill).toBe(figureTheme.modes.light.background);
    const [, right, down] = /^M0,0h([\d.]+)v([\d.]+)/.exec(path) ?? [];
    const [word] = marksIn(svg, " words_of_the_zone_marks") as [Mark];
    expect(word.text).toContain("no difference that counts");
    expect(word.y).toBeLessThan(Number(down));
    const lines = marksIn(svg, "mark-rule role-axis-grid");
    expect(lines.length).toBeGreaterThan(1);
    expect(Math.max(...lines.map(({ x }) => x))).toBeLessThan(Number(right));
  },
);

test("the heading answers, what stands out is set apart, and invented data say so", () => {
  const [drawn] = figuresAt("page")(figure);
  const { title } = drawn!.specification as unknown as Readonly<{
    title: Readonly<{ text: readonly string[]; subtitle: readonly string[] }>;
  }>;
  const standing = rows.filter(({ verdict }) => verdict.verdict === "worth testing");
  expect(standing.length).toBeGreaterThan(0);
  for (const { axis } of standing) expect(title.text.join(" ")).toContain(axis.label);
  expect(title.subtitle[0]).toMatch(/^INVENTED DATA/);
  const layers = layersOf(drawn!.specification);
  expect(layers["words that stand out"]!.data.values).toHaveLength(standing.length);
  expect(drawn!.caption).toMatch(/No study compared in this outcome: .*sessions a week/);
});

test("nothing is drawn of a kind of outcome of which no variable is compared", async () => {
  const { figures, data } = await ask("variables", {}, shippedEvidence("published-outcomes.csv"));
  const told = data.rows.filter(
    (row) => (row as (typeof rows)[number]).within ?? (row as (typeof rows)[number]).between,
  );
  const kept = new Set(told.map(({ family }) => family));
  expect(kept.size).toBeLessThan(data.families.length);
  const drawn = figures.flatMap((one) => (one.name === "variables" ? [one.data.family] : []));
  expect(drawn.toSorted()).toEqual([...kept].toSorted());
});

test("a slide at a tenth of its size still has a headline to read: type of 7 pixels", async () => {
  for (const file of figureFiles) {
    const [slide] = (await figuresOfKind("variables", file)).flatMap(figuresAt("slide"));
    const { fontSize } = slide!.specification.title as unknown as Readonly<{ fontSize: number }>;
    expect((fontSize * slide!.picture!.scale) / 10).toBeGreaterThanOrEqual(7);
  }
});
