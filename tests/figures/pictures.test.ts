/**
 * Kind of evidence: pictures that were looked at and kept. A drawing cannot change unseen: more than a few points off, and
 * the picture must be looked at anew. After a wanted change: `npx vitest run --config .vitest.config.ts
 * tests/figures/pictures.test.ts --update`, and look at the files that changed.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import pixelmatch from "pixelmatch";
import { PNG } from "pngjs";
import { expect, test } from "vitest";
import { figuresAt } from "../../src/figures/figure-list.js";
import { drawPng, drawSvg } from "../../src/host/draw-figure.js";
import { figuresOfKind } from "./asked-figures.js";
import { curvesAsked } from "./curve-kinds.js";

const folder = new URL("kept-pictures/", import.meta.url);
/** Small enough to keep, large enough that a word that moves is many points. */
const scale = 0.5;
/** Share of points that may differ: edges that another machine smooths otherwise. */
const mostDiffering = 0.002;

const asked = (
  [
    "comparison",
    "estimates",
    "evidence-map",
    "frontier",
    "projection",
    "ramp",
    "variables",
  ] as const
).map((kind) => [kind, () => figuresOfKind(kind, "demo-register.csv")] as const);
const [holds] = curvesAsked;
const kept = [...asked, ["dose-curve", holds![1]] as const];

test.each(kept)("%s in a column looks as it was kept", async (kind, figures) => {
  const named = (await figures()).find(({ name }) => name === kind);
  const [figure] = figuresAt("column")(named!);
  const drawn = PNG.sync.read(Buffer.from(await drawPng(await drawSvg(figure!), scale)));
  const file = new URL(`${kind}.png`, folder);
  const { snapshotState } = expect.getState();
  const update =
    (snapshotState as unknown as Readonly<{ _updateSnapshot: string }>)._updateSnapshot === "all";
  if (update || !existsSync(file)) {
    mkdirSync(folder, { recursive: true });
    writeFileSync(file, PNG.sync.write(drawn, { colorType: 2, deflateLevel: 9 }));
    expect(update, `${kind} had no kept picture; it was written, and must be looked at`).toBe(true);
  }
  const before = PNG.sync.read(readFileSync(file));
  expect([drawn.width, drawn.height]).toEqual([before.width, before.height]);
  const differing = pixelmatch(before.data, drawn.data, undefined, drawn.width, drawn.height, {
    threshold: 0.15,
  });
  expect(differing / (drawn.width * drawn.height)).toBeLessThan(mostDiffering);
});
