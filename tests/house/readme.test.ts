import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { drawFigure } from "../../src/host/draw-figure.js";
import { shippedEvidence } from "../answers/evidence-under-test.js";
import { readProject } from "./source-tree.js";

test("README: the picture is what the report draws from the starter file today", async () => {
  const { figures } = await ask(
    "pool",
    { outcome: "strength" },
    shippedEvidence("published-outcomes.csv"),
  );
  const [figure] = figures.flatMap(drawnFigures);
  if (figure?.id !== "estimates-strength-change-within-arm")
    throw new Error("the report has no such figure any more");
  const { svg } = await drawFigure(figure);
  const kept = readFileSync(
    new URL("../../shared/pictures/published-strength.svg", import.meta.url),
    "utf8",
  );
  expect(
    svg === kept,
    "draw it anew: holdbook report data/published-outcomes.csv, and copy the figure",
  ).toBe(true);
});

test("README: the table of ready effects it prints is the file it pools", () => {
  const [, printed] = /```csv\n([^`]*)```/.exec(readProject("README.md")) ?? [];
  expect(printed).toBe(
    readFileSync(new URL("../../data/ready-effects-example.csv", import.meta.url), "utf8"),
  );
});

test("README: the version to cite is the package's", () => {
  const { version } = JSON.parse(readProject("package.json")) as { version: string };
  expect(readProject("README.md")).toContain(`Holdbook, version ${version}.`);
});
