import { expect, test } from "vitest";
import { figuresAt, narrowestPageOf } from "../../src/figures/figure-list.js";
import { narrowestPage } from "../../src/figures/frame.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { askedKinds, figuresOfKind } from "./asked-figures.js";
import { curveKinds, curvesAsked } from "./curve-kinds.js";
import { overlapping, textBoxes } from "./text-boxes.js";

test("no two texts of a page lie upon each other at the least width it is drawn in", async () => {
  const curves = new Set<string>(curveKinds);
  const named = [
    ...(await Promise.all(askedKinds.map((kind) => figuresOfKind(kind, "demo-register.csv")))),
    ...(await Promise.all(
      curvesAsked.map(async ([, figures]) =>
        (await figures()).filter(({ name }) => curves.has(name)),
      ),
    )),
  ].flat();
  const wrong: string[] = [];
  const seen = new Map<string, number>();
  for (const one of named) {
    // Two of a kind tell as much as ten.
    const before = seen.get(one.name) ?? 0;
    if (before === 2) continue;
    seen.set(one.name, before + 1);
    const width = narrowestPageOf(one.name);
    expect(width).toBeGreaterThanOrEqual(narrowestPage);
    for (const figure of figuresAt("page", { width })(one))
      for (const two of overlapping(await textBoxes(await drawSvg(figure))))
        wrong.push(`${figure.id} at ${width}: ${two}`);
  }
  expect(seen.size).toBeGreaterThan(12);
  expect(wrong).toEqual([]);
}, 180_000);
