import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { drawFigure } from "../../src/host/draw-figure.js";
import { evidenceOf, shippedEvidence } from "../answers/evidence-under-test.js";
import { runHere } from "../command/run-here.js";
import { commandsOf, fencesOf, shellWords } from "./markdown-fences.js";
import { readProject } from "./source-tree.js";

const readme = readProject("README.md");
const fences = fencesOf("README.md");
const oneLine = (text: string): string => text.replace(/\s+/g, " ").trim();

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
  // The file of the tests is opened without its fingerprint.
  const kept = readFileSync(
    new URL("../../shared/pictures/published-strength.svg", import.meta.url),
    "utf8",
  ).replace(/fingerprint [0-9a-f]{8}/, "fingerprint 00000000");
  expect(
    svg === kept,
    "draw it anew: holdbook report data/published-outcomes.csv, and copy the figure",
  ).toBe(true);
});

test("README: it is one screen of reading for each reader, at most 130 lines", () => {
  expect(readme.trimEnd().split("\n").length).toBeLessThanOrEqual(130);
});

test("README: the file it prints is one that gives an answer", async () => {
  const { text } = fences.find(({ language }) => language === "csv")!;
  const { data } = await ask("check", {}, evidenceOf(text));
  expect(data.fates.map(({ fate }) => fate)).toEqual(Array(5).fill("averaged"));
  expect(text.split("\n")[0]!.split(",")).toHaveLength(6);
});

test("README: what stands under a command is what it prints", async () => {
  const shown = fences.flatMap((fence, place) => {
    const before = fences[place - 1];
    return fence.language === "text" && before?.language === "sh"
      ? [{ command: commandsOf(before).at(-1)!, text: fence.text }]
      : [];
  });
  expect(shown).toHaveLength(3);
  for (const { command, text } of shown) {
    const { out } = await runHere(...shellWords(command.replace(/^npx holdbook /, "")));
    expect(oneLine(out), command).toContain(oneLine(text));
  }
});

test("README: every answer of the table of questions is the command's own", async () => {
  const rows = [...readme.matchAll(/^\| `([\w-]+ data\/[^`]*)` \| [^|]* \| ([^|`]+) \|$/gm)];
  expect(rows.length).toBeGreaterThanOrEqual(8);
  for (const [, command = "", told = ""] of rows) {
    const { out } = await runHere(...shellWords(command));
    expect(oneLine(out), command).toContain(told.trim());
  }
}, 120_000);

test("README: the version to cite is the package's", () => {
  const { version } = JSON.parse(readProject("package.json")) as { version: string };
  expect(readme).toContain(`Holdbook, version ${version}.`);
});
