import { expect, test } from "vitest";
import { figuresAt, type NamedFigure } from "../../src/figures/figure-list.js";
import { figureSizes, type FigureSize } from "../../src/figures/frame.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { withoutType } from "../../src/host/figure-svg.js";
import { hasBrowser, openPage } from "../page/page-under-test.js";
import { figureFiles, figuresOfKind, askedKinds } from "./asked-figures.js";
import { curvesAsked, curveKinds } from "./curve-kinds.js";
import { overlapping, sheetOf, textBoxes, type Box } from "./text-boxes.js";

const widest: Readonly<Record<FigureSize, number>> = { column: 372, page: 1085, slide: 1920 };
const smallest: Readonly<Record<FigureSize, number>> = { column: 13, page: 13, slide: 36 };

type Case = readonly [name: string, figures: () => Promise<readonly NamedFigure[]>];
const curves = new Set<string>(curveKinds);
const cases: readonly Case[] = [
  ...askedKinds.flatMap((kind) =>
    figureFiles.map((file): Case => [`${kind} of ${file}`, () => figuresOfKind(kind, file)]),
  ),
  ...curvesAsked.map(([name, figures]): Case => [
    name,
    async () => (await figures()).filter((figure) => curves.has(figure.name)),
  ]),
];

test.each(cases)(
  "%s: no two texts overlap, none is cut, and type is large enough at every size",
  async (name, figures) => {
    const named = await figures();
    // Of equal work, pairs left out and the most for the time the published file has nothing to draw.
    if (!name.includes("published")) expect(named.length).toBeGreaterThan(0);
    const wrong: string[] = [];
    for (const size of figureSizes)
      for (const figure of named.flatMap(figuresAt(size))) {
        const svg = await drawSvg(figure);
        const boxes = await textBoxes(svg);
        const { width, height, across, scale } = sheetOf(svg);
        expect(boxes.length).toBeGreaterThan(8);
        const type = Math.min(...boxes.map((box) => box.size)) * scale;
        const told = [
          ...overlapping(boxes),
          ...boxes
            .filter(
              ({ text, right, bottom }) =>
                /[^\d]…$|\p{L}…\p{L}/u.test(text) ||
                right > across + 0.5 ||
                bottom > height / scale,
            )
            .map(({ text }) => `cut: "${text}"`),
          ...(type > smallest[size] - 0.05 ? [] : [`type of ${type}`]),
          ...(size === "slide" && (width !== 1920 || height !== 1080)
            ? [`a slide of ${width} by ${height}`]
            : []),
          ...(width > widest[size] ? [`${width} wide`] : []),
        ];
        wrong.push(...told.map((each) => `${figure.id} at ${size}: ${each}`));
      }
    expect(wrong).toEqual([]);
  },
  120_000,
);

test.skipIf(!hasBrowser)(
  "nor do they with a browser's own sans-serif, where an editor has taken the type out",
  async () => {
    const wrong: string[] = [];
    const { page, close } = await openPage({ address: "about:blank" });
    for (const [, figures] of cases.filter(([name]) => !/published/.test(name))) {
      const few = (await figures()).slice(0, 2);
      for (const size of figureSizes)
        for (const figure of few.flatMap(figuresAt(size))) {
          const svg = withoutType(await drawSvg(figure));
          await page.setContent(svg.replace(/font-family="[^"]*"/g, 'font-family="sans-serif"'));
          const boxes = await page.evaluate((): readonly Box[] =>
            [...document.querySelectorAll("text")]
              .filter(
                (text) => text.textContent.trim() !== "" && !text.outerHTML.includes("rotate"),
              )
              .map((text) => {
                const { left, right, top, height } = text.getBoundingClientRect();
                // Of the font's whole height, from the top of capitals to a little below the line.
                return {
                  text: text.textContent,
                  left,
                  right,
                  top: top + 0.22 * height,
                  bottom: top + 0.86 * height,
                  size: height,
                };
              }),
          );
          expect(boxes.length).toBeGreaterThan(8);
          wrong.push(...overlapping(boxes).map((each) => `${figure.id} at ${size}: ${each}`));
        }
    }
    await close();
    expect(wrong).toEqual([]);
  },
  240_000,
);
