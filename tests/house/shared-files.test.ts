import { readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { projectRoot, readProject } from "./source-tree.js";

type Sourced = Readonly<{ source: string; sourceKind: string; doi?: string }>;
type Caution = Sourced &
  Readonly<{ id: string; title: string; when: string; short: string; text: string }>;
type Cautions = Readonly<{
  sourceKinds: Readonly<Record<string, string>>;
  cautions: readonly Caution[];
  stopSigns: Sourced & Readonly<{ signs: readonly string[]; short: string; text: string }>;
  painBands: Sourced &
    Readonly<{ bands: readonly Readonly<{ from: number; to: number; label: string }>[] }>;
}>;
type Term = Readonly<{
  term: string;
  group: string;
  meaning: string;
  unit: string;
  notToBeConfusedWith: string;
}>;

const json = (name: string): unknown => JSON.parse(readProject(`shared/${name}`));
const { sourceKinds, cautions, stopSigns, painBands } = json("cautions.json") as Cautions;
const glossary = json("glossary.json") as Readonly<{
  groups: Readonly<Record<string, string>>;
  terms: readonly Term[];
}>;

const repeated = (words: readonly string[]): readonly string[] =>
  words.filter((word, index) => words.indexOf(word) !== index);

test("the list in shared/README.md is the folder", () => {
  const listed = [...readProject("shared/README.md").matchAll(/^\| `([^`]+)` \|/gm)].map(
    (match) => match[1] ?? "",
  );
  const there = readdirSync(join(projectRoot, "shared")).filter((name) => name !== "README.md");
  expect(listed.toSorted()).toEqual(there.toSorted());
});

describe("cautions", () => {
  test("each has an id of its own, both wordings and a condition", () => {
    expect(repeated(cautions.map(({ id }) => id))).toEqual([]);
    for (const caution of cautions) {
      expect(caution.id, caution.id).toMatch(/^[a-z]+(-[a-z]+)*$/);
      expect(["always", "long muscle length", "profile"], caution.id).toContain(caution.when);
      expect(caution.title.length, caution.id).toBeGreaterThan(3);
      expect(caution.text, caution.id).toMatch(/\.$/);
      expect(caution.short, caution.id).toMatch(/\.$/);
    }
    for (const { id, short, text } of cautions.filter(({ text }) => text.length > 240))
      expect(short.length, id).toBeLessThan(text.length);
  });

  test("each names its source, or says that it is common practice", () => {
    for (const item of [...cautions, stopSigns, painBands]) {
      expect(Object.keys(sourceKinds)).toContain(item.sourceKind);
      const isPractice = item.sourceKind === "common practice";
      expect(item.source === "common practice, no source", item.source).toBe(isPractice);
      if (isPractice) expect(item.doi).toBeUndefined();
      if (item.doi !== undefined) expect(item.doi).toMatch(/^10\.\d{4,}\/\S+$/);
    }
  });

  test("none is a clearance, and one sends the reader to a clinician first", () => {
    expect(cautions[0]?.id).toBe("ask-a-clinician");
    const words = cautions.map(({ short, text }) => `${short} ${text}`).join(" ");
    expect(words).not.toMatch(/\b(you are cleared|is safe for you|no need to ask|fit to train)\b/i);
    expect(words).toMatch(/Nothing here is a clearance/);
  });

  test("what must be covered is covered", () => {
    const ids = cautions.map(({ id }) => id);
    for (const id of [
      "local-rules",
      "blood-pressure",
      "breathing",
      "heart-and-vessels-absolute",
      "heart-and-vessels-relative",
      "eye-pressure",
      "retina",
      "hernia",
      "pregnancy",
      "recent-surgery",
      "pain-bands",
      "next-day-rule",
      "long-muscle-length",
    ])
      expect(ids).toContain(id);
    expect(stopSigns.signs.length).toBeGreaterThanOrEqual(6);
  });

  test("pain bands meet without gap or overlap, from 0 to 10", () => {
    const { bands } = painBands;
    expect(bands[0]?.from).toBe(0);
    expect(bands.at(-1)?.to).toBe(10);
    bands.slice(1).forEach((band, index) => {
      expect(band.from).toBe((bands[index]?.to ?? NaN) + 1);
    });
  });
});

describe("glossary", () => {
  test("each term stands once, with meaning, group, and what it is not", () => {
    expect(repeated(glossary.terms.map(({ term }) => term))).toEqual([]);
    for (const each of glossary.terms) {
      expect(Object.keys(glossary.groups), each.term).toContain(each.group);
      expect(each.meaning, each.term).toMatch(/\.$/);
      expect(typeof each.unit, each.term).toBe("string");
      expect(each.notToBeConfusedWith.length, each.term).toBeGreaterThan(3);
    }
  });

  test("every group has a term", () => {
    const used = new Set(glossary.terms.map(({ group }) => group));
    expect(Object.keys(glossary.groups).filter((group) => !used.has(group))).toEqual([]);
  });
});
