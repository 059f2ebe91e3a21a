/** The labels of every axis say where they stand: a label rounded away from its tick's value is a wrong number. */
import * as vega from "vega";
import * as vegaLite from "vega-lite";
import { expect, test } from "vitest";
import { figuresAt, type NamedFigure } from "../../src/figures/figure-list.js";
import type { Figure } from "../../src/figures/figure.js";
import { figureSizes } from "../../src/figures/frame.js";
import { askedKinds, figureFiles, figuresOfKind } from "./asked-figures.js";
import { curveKinds, curvesAsked } from "./curve-kinds.js";

type Item = Readonly<{
  items?: readonly Item[];
  role?: string;
  text?: unknown;
  datum?: Readonly<{ value?: unknown }>;
}>;

/** Every number that stands at an axis, with the value of its tick. */
const labelsOf = async (figure: Figure): Promise<readonly (readonly [string, number])[]> => {
  const { spec } = vegaLite.compile(figure.specification);
  const view = new vega.View(vega.parse(spec), { renderer: "none" });
  await view.runAsync();
  const found: (readonly [string, number])[] = [];
  const walk = (item: Item, role: string | undefined): void => {
    const { value } = item.datum ?? {};
    if (role === "axis-label" && typeof value === "number" && item.text !== "")
      found.push([String(item.text), value]);
    for (const inner of item.items ?? []) walk(inner, item.role ?? role);
  };
  walk((view.scenegraph() as unknown as Readonly<{ root: Item }>).root, undefined);
  view.finalize();
  return found;
};

/** The number a label says; not one where it is words. */
const numberIn = (label: string): number =>
  Number(label.replaceAll("\u2212", "-").replaceAll(",", "").replace(/%$/, ""));

const curves = new Set<string>(curveKinds);
const cases = [
  ...askedKinds.flatMap((kind) =>
    figureFiles.map((file) => [`${kind} of ${file}`, () => figuresOfKind(kind, file)] as const),
  ),
  ...curvesAsked.map(
    ([name, figures]) =>
      [
        name,
        async (): Promise<readonly NamedFigure[]> =>
          (await figures()).filter((figure) => curves.has(figure.name)),
      ] as const,
  ),
];

test.each(cases)(
  "%s: every label of an axis is its tick's value, at every size",
  async (_, figures) => {
    const wrong: string[] = [];
    for (const named of await figures())
      for (const size of figureSizes)
        for (const figure of figuresAt(size)(named))
          for (const [label, value] of await labelsOf(figure)) {
            const said = numberIn(label);
            if (
              Number.isFinite(said) &&
              Math.abs(said - value) > 1e-9 * Math.max(1, Math.abs(value))
            )
              wrong.push(`${figure.id} at ${size}: "${label}" stands at ${value}`);
          }
    expect(wrong).toEqual([]);
  },
  120_000,
);
