import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { figuresAt, type NamedFigure } from "../../src/figures/figure-list.js";
import { figureSizes, type FigureSize } from "../../src/figures/frame.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { figureFonts } from "../../src/host/figure-fonts.js";
import { shippedEvidence } from "../answers/evidence-under-test.js";
import { curveKinds, curvesAsked } from "./curve-kinds.js";

type Box = Readonly<{
  text: string;
  left: number;
  right: number;
  top: number;
  bottom: number;
  size: number;
}>;

/** Every text of a drawing with the room it takes, by the widths of its letters; places are sums of the groups' shifts. */
const textBoxes = async (svg: string): Promise<readonly Box[]> => {
  const { textWidth } = await figureFonts();
  const boxes: Box[] = [];
  const shifts: [number, number][] = [[0, 0]];
  const shiftOf = (tag: string): [number, number] => {
    const [, x = "0", y = "0"] = /translate\(([-\d.e]+),([-\d.e]+)\)/.exec(tag) ?? [];
    return [Number(x), Number(y)];
  };
  for (const [whole, tag = "", attributes = "", content = ""] of svg.matchAll(
    /<(\/?g|text)([^>]*)>([^<]*)/g,
  )) {
    if (tag === "/g") shifts.pop();
    else if (tag === "g") {
      if (attributes.endsWith("/")) continue;
      const [x, y] = shifts.at(-1)!;
      const [dx, dy] = shiftOf(whole);
      shifts.push([x + dx, y + dy]);
    } else {
      // Turned text stands at the side of its axis, alone.
      if (content.trim() === "" || attributes.includes("rotate")) continue;
      const [x, y] = shifts.at(-1)!;
      const [dx, dy] = shiftOf(whole);
      const size = Number(/font-size="([\d.]+)px"/.exec(attributes)?.[1]);
      const strong = /font-weight="(bold|600)"/.test(attributes);
      const text = content.replace(/&amp;/g, "&").replace(/&lt;/g, "<").replace(/&gt;/g, ">");
      const width = textWidth(text, size, strong);
      const anchor = /text-anchor="(\w+)"/.exec(attributes)?.[1] ?? "start";
      const left = x + dx - (anchor === "middle" ? width / 2 : anchor === "end" ? width : 0);
      // From the baseline: capitals reach up about 0.73 of the size, and tails down about 0.2.
      boxes.push({
        text,
        left,
        right: left + width,
        top: y + dy - 0.7 * size,
        bottom: y + dy + 0.15 * size,
        size,
      });
    }
  }
  return boxes;
};

const overlapping = (boxes: readonly Box[]): readonly string[] =>
  boxes.flatMap((one, index) =>
    boxes
      .slice(index + 1)
      .filter(
        (other) =>
          Math.min(one.right, other.right) - Math.max(one.left, other.left) > 0.5 &&
          Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top) > 0.5,
      )
      .map((other) => `"${one.text}" and "${other.text}"`),
  );

/** Width and height of the picture, and what one drawing unit is in its points. */
const sheetOf = (svg: string) => {
  const [, width, height, across, down] = (
    /<svg[^>]* width="([\d.]+)" height="([\d.]+)"[^>]* viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ??
    []
  ).map(Number);
  return {
    width: width!,
    height: height!,
    across: across!,
    scale: Math.min(width! / across!, height! / down!),
  };
};

const smallest: Readonly<Record<FigureSize, number>> = { column: 13, page: 13, slide: 36 };

const asked: readonly (readonly [string, () => Promise<readonly NamedFigure[]>])[] = [
  [
    "variables, invented",
    async () =>
      (await ask("variables", { outcome: "size" }, shippedEvidence("demo-register.csv"))).figures,
  ],
  [
    "variables, published",
    async () =>
      (await ask("variables", { outcome: "strength" }, shippedEvidence("published-outcomes.csv")))
        .figures,
  ],
  [
    "many studies",
    async () =>
      (await ask("pool", { outcome: "strength" }, shippedEvidence("demo-register.csv"))).figures,
  ],
  [
    "estimates",
    async () =>
      (await ask("pool", { outcome: "strength" }, shippedEvidence("published-outcomes.csv")))
        .figures,
  ],
  ...curvesAsked,
];
const kinds = new Set<string>(["variables", "estimates", ...curveKinds]);

test.each(asked)(
  "%s: no two texts overlap, none is cut, and type is large enough at every size",
  async (_name, figures) => {
    const named = (await figures()).filter(({ name }) => kinds.has(name));
    expect(named.length).toBeGreaterThan(0);
    for (const size of figureSizes)
      for (const figure of named.flatMap(figuresAt(size))) {
        const svg = await drawSvg(figure);
        const boxes = await textBoxes(svg);
        const { width, height, across, scale } = sheetOf(svg);
        expect(boxes.length).toBeGreaterThan(8);
        expect(overlapping(boxes), `${figure.id} at ${size}`).toEqual([]);
        expect(boxes.filter(({ text }) => /[^\d]…$/.test(text)).map(({ text }) => text)).toEqual(
          [],
        );
        expect(boxes.filter(({ right }) => right > across + 0.5).map(({ text }) => text)).toEqual(
          [],
        );
        expect(Math.min(...boxes.map((box) => box.size)) * scale).toBeGreaterThan(
          smallest[size] - 0.05,
        );
        if (size === "slide") expect([width, height]).toEqual([1920, 1080]);
        if (size === "column") expect(width).toBeLessThanOrEqual(362);
      }
  },
  120_000,
);
