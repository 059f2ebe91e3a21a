import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../../", import.meta.url));
const dataFiles = readdirSync(join(root, "data")).filter((name) => name !== "README.md");
const readme = readFileSync(join(root, "data/README.md"), "utf8");
const headings = [...readme.matchAll(/^## (\S+\.\S+)$/gm)].map((match) => match[1] ?? "");

const here = fileURLToPath(import.meta.url);
const tests = readdirSync(join(root, "tests"), { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".test.ts") && join(root, "tests", name) !== here)
  .map((name) => readFileSync(join(root, "tests", name), "utf8"));

describe("data files", () => {
  it("are exactly those that data/README.md has a section on", () => {
    expect([...headings].sort()).toEqual([...dataFiles].sort());
  });

  it.each(dataFiles)("%s states origin and licence in its section", (name) => {
    const section = readme.split(/^## /m).find((part) => part.startsWith(`${name}\n`)) ?? "";
    expect(section).toMatch(/origin|^Ours\./im);
    expect(section).toMatch(/licence/i);
  });

  it.each(dataFiles)("%s is loaded by a test", (name) => {
    expect(tests.some((text) => text.includes(name))).toBe(true);
  });

  it("says of nothing that it is remembered and not looked up", () => {
    const texts = ["README.md", ...dataFiles].map((name) =>
      readFileSync(join(root, "data", name), "utf8"),
    );
    expect(texts.filter((text) => /from memory/i.test(text))).toEqual([]);
  });

  it("invented and real rows are never in one file", () => {
    const studies = (name: string) => readFileSync(join(root, "data", name), "utf8");
    expect(studies("published-outcomes.csv")).not.toMatch(/invented/i);
    const lines = studies("demo-register.csv").trim().split("\n").slice(1);
    for (const line of lines) expect(line).toMatch(/^Invented \d\d,/);
  });
});
