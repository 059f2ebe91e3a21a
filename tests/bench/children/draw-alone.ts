/** Draws every specification of a report's folder, one after another, and prints the seconds. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Figure } from "../../../src/figures/figure.js";
import { drawFigure } from "../../../src/host/draw-figure.js";

const folder = join(process.argv[2] ?? "", "figures");
const names = readdirSync(folder).filter((name) => /^[a-z0-9-]+\.json$/.test(name));
const began = performance.now();
for (const name of names) {
  const specification = JSON.parse(
    readFileSync(join(folder, name), "utf8"),
  ) as Figure["specification"];
  const id = name.replace(".json", "");
  await drawFigure({ id, title: "", caption: "", description: "", specification, data: [] });
}
const seconds = (performance.now() - began) / 1000;
process.stdout.write(JSON.stringify({ figures: names.length, seconds }));
