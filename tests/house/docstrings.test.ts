import { join } from "node:path";
import { expect, test } from "vitest";
import { exportedNames, publicSurface, pureFiles } from "./public-surface.js";
import { runExample } from "./run-example.js";
import { projectRoot, roomOf } from "./source-tree.js";

const surface = publicSurface();
const placeOf = ({ file, name }: Readonly<{ file: string; name: string }>): string =>
  `${file} ${name}`;

test("there is a surface to look at", () => {
  expect(surface.filter((each) => each.kind === "function").length).toBeGreaterThan(20);
});

test("every exported function says first what it returns", () => {
  const silent = surface.filter(
    (each) => each.kind === "function" && (each.summary.split("\n")[0] ?? "").trim().length < 10,
  );
  expect(silent.map(placeOf)).toEqual([]);
});

/** Rooms whose functions compute: each names where its formula comes from, or why it has no source. */
const sourcedRooms = ["numeric", "effects", "synthesis", "dose", "endurance", "projection"];

test("every computing function names its source, or why it has none", () => {
  const unsourced = surface.filter((each) => {
    if (each.kind !== "function" || !sourcedRooms.includes(each.room)) return false;
    const sources = each.tags.filter(({ tag }) => tag === "source");
    const stated = ({ text }: Readonly<{ text: string }>): boolean =>
      /^none: \S.{5,}/.test(text) || (/\b(1[6-9]|20)\d\d\b/.test(text) && text.length > 10);
    return !sources.some(stated);
  });
  expect(unsourced.map(placeOf)).toEqual([]);
});

test("every example is true", async () => {
  const moduleOf = new Map<string, Readonly<Record<string, unknown>>>();
  for (const file of pureFiles) {
    const module: unknown = await import(/* @vite-ignore */ join(projectRoot, file));
    moduleOf.set(file, module as Readonly<Record<string, unknown>>);
  }
  const namesOf = (chosen: (file: string) => boolean): Readonly<Record<string, unknown>> =>
    Object.assign(
      {},
      ...[...moduleOf].filter(([file]) => chosen(file)).map(([, module]) => module),
    ) as Readonly<Record<string, unknown>>;
  const everyName = namesOf(() => true);
  let held = 0;
  const untrue: string[] = [];
  for (const each of exportedNames(pureFiles)) {
    for (const { tag, text } of each.tags) {
      if (tag !== "example" || !text.includes("=>")) continue;
      // Its own file's names win over its room's, and its room's over the others'.
      const scope = {
        ...everyName,
        ...namesOf((file) => roomOf(file) === each.room),
        ...namesOf((file) => file === each.file),
      };
      try {
        held += await runExample(text, scope, placeOf(each));
      } catch (error) {
        untrue.push(error instanceof Error ? `${placeOf(each)}: ${error.message}` : String(error));
      }
    }
  }
  expect(untrue).toEqual([]);
  expect(held).toBeGreaterThan(0);
}, 300_000);
