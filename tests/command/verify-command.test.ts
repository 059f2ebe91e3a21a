/** Answer cards written and checked: what a card holds, and what is told of one that is not what it was. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { recipeInCard } from "../../src/answers/answer-card.js";
import { questionIds, questionList } from "../../src/answers/question-list.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { tableText } from "../records/record-table.js";
import { runHere } from "./run-here.js";
import { fileOf, testFolder } from "./test-folder.js";

const studies = ["Ashdown 2019", "Brook 2020", "Carse 2021", "Dunmore 2022"];
const text = tableText(
  studies.map((study, index) => ({
    study,
    outcome: "peak isometric torque",
    outcomeFamily: "strength",
    preMean: String(180 + 3 * index),
  })),
);
const file = fileOf("trials.csv", text);
const path = join(testFolder, "answer.svg");
const asked = await runHere("pool", file, "--outcome", "strength", "--card", path);
const svg = readFileSync(path, "utf8");
const recipe = JSON.parse(recipeInCard(svg)) as {
  headline: string;
  file: { fingerprint: string };
};
const flat = (out: string): string => out.replace(/\s+/g, " ").trim();
const changed = (name: string, change: (svg: string) => string): string =>
  fileOf(name, change(svg));
const shownTexts = (of: string): string =>
  [...of.matchAll(/<(?:text|tspan)\b[^>]*>([^<]*)/g)].map(([, words]) => words).join(" ");

test("a card shows headline, question, whole fingerprint and how to check it, and carries its type", () => {
  expect([asked.exitCode, asked.err]).toEqual([0, ""]);
  expect(asked.out).toContain(`The card is in ${path}.`);
  const shown = flat(shownTexts(svg).replaceAll("&quot;", '"'));
  expect(shown).toContain(recipe.headline);
  expect(shown).toContain('Question: {"id":"pool","options":{"outcome":"strength"}}');
  expect(shown).toContain(recipe.file.fingerprint);
  expect(shown).toContain("holdbook verify CARD.svg trials.csv");
  expect(svg).toContain("data:font/woff2;base64,");
  expect(svg).not.toContain(testFolder);
});

describe("the same", () => {
  const [header = "", ...lines] = text.trimEnd().split("\n");
  test("the same file: exit code 0, and that it is the card's file", async () => {
    const { exitCode, out, err } = await runHere("verify", path, file);
    expect([exitCode, err]).toEqual([0, ""]);
    expect(flat(out)).toMatch(
      /^The same: all \d+ values of the answer are those of the card\. Strength, before to after: .* The file is the card's: trials\.csv \(SHA-256 [0-9a-f]{12}…\)\.$/,
    );
  });

  test("other line ends: the numbers are the same, and that the file is not", async () => {
    const ends = fileOf("ends.csv", [header, ...lines].join("\r\n"));
    const { exitCode, out } = await runHere("verify", path, ends);
    expect(exitCode).toBe(0);
    expect(flat(out)).toMatch(/^The same: .*The file has changed: .*trials\.csv.*ends\.csv/);
  });

  test("saved anew by a program that breaks lines: still read", async () => {
    const anew = changed("anew.svg", (one) =>
      one
        .replace(/<metadata ([^>]*)>/, "<metadata\n  $1>\n")
        .replace("</metadata>", "\n</metadata>"),
    );
    expect((await runHere("verify", anew, file)).exitCode).toBe(0);
  });

  test.each([
    ["variables", []],
    ["compare", ["4 x 20 s at 70%, knee", "5 x 5 s at 90%, knee"]],
    ["check", []],
    ["made", []],
  ] as const)(
    "%s of invented trials: marked inside, and confirmed",
    async (id, words) => {
      const demo = fileOf("demo.csv", demoRegisterCsv());
      const card = join(testFolder, `${id}.svg`);
      expect((await runHere(id, demo, ...words, "--card", card)).exitCode).toBe(0);
      expect(shownTexts(readFileSync(card, "utf8"))).toContain("INVENTED DATA");
      const { exitCode, out } = await runHere("verify", card, demo);
      expect([exitCode, flat(out)]).toEqual([
        0,
        expect.stringMatching(/^The same: all [\d,]+ values/),
      ]);
    },
    60_000,
  );

  test("an answer about a protocol alone: cautions by title, confirmed without a file", async () => {
    const card = join(testFolder, "hold.svg");
    await runHere("hold", "4 x 30 s at 70%, rest 60 s", "--card", card);
    expect(shownTexts(readFileSync(card, "utf8"))).toMatch(
      /Stop at once and seek help\..*Rests on no file/,
    );
    expect((await runHere("verify", card)).exitCode).toBe(0);
    expect((await runHere("verify", card, file)).err).toMatch(/card rests on none/);
  });
});

describe("different", () => {
  test("a number of the file: old and new, and the file named as the reason", async () => {
    const mended = fileOf("mended.csv", text.replace("180", "150"));
    const { exitCode, out } = await runHere("verify", path, mended);
    expect(exitCode).toBe(1);
    const was = /: (\S+)% \(/.exec(recipe.headline)![1]!;
    expect(flat(out)).toMatch(new RegExp(`: ${was}% → \\d+\\.\\d% \\(95% interval`));
    expect(flat(out)).toMatch(/The file has changed: .*trials\.csv .*mended\.csv/);
    expect(flat(out)).not.toContain("changed after it was made");
    expect(flat(out)).toMatch(/Ashdown 2019/);
  });

  test("a card of an earlier version: said beside what differs", async () => {
    const old = changed("old.svg", (one) =>
      one
        .replace('"holdbook":"0.1.0"', '"holdbook":"0.0.9"')
        .replace(/"low":[-\d.]+/, '"low":987.25'),
    );
    const { exitCode, out } = await runHere("verify", old, file);
    expect(exitCode).toBe(1);
    expect(flat(out)).toContain("The card was written by Holdbook 0.0.9; this is");
    expect(flat(out)).toContain("987.25");
    expect(flat(out)).not.toContain("The file has changed");
  });

  test("a number changed in the picture alone, and one changed inside alone", async () => {
    const [first = ""] = /\d+\.\d%/.exec(recipe.headline)!;
    const painted = changed("painted.svg", (one) =>
      one.replace(`>${recipe.headline.slice(0, 30)}`, (found) => found.replace("Strength", "Size")),
    );
    const forged = changed("forged.svg", (one) =>
      one.replaceAll(new RegExp(`(<(?:text|tspan)[^>]*>[^<]*)${first}`, "g"), "$199.9%"),
    );
    for (const card of [painted, forged]) {
      expect(readFileSync(card, "utf8")).not.toBe(svg);
      const { exitCode, out } = await runHere("verify", card, file);
      expect(exitCode).toBe(1);
      expect(flat(out)).toMatch(/^The picture does not say what the card holds inside/);
    }
    const inside = changed("inside.svg", (one) => one.replace(/"low":[-\d.]+/, '"low":987.25'));
    const { exitCode, out } = await runHere("verify", inside, file);
    expect(exitCode).toBe(1);
    expect(flat(out)).toContain("File and version are the card's");
  });
});

test("what is no card is refused in one sentence", async () => {
  const folder = join(testFolder, "figures-of-it");
  await runHere("pool", file, "--outcome", "strength", "-o", folder);
  const figure = join(folder, "figures", "estimates-strength-change-within-arm");
  const refusals: readonly (readonly [readonly string[], RegExp])[] = [
    [[path], /the file trials\.csv after the card/],
    [[file, file], /no SVG picture/],
    [[`${figure}.svg`, file], /without a recipe.*holdbook reproduce/],
    [[changed("cut.svg", (one) => one.replace(/"question":/, '"query":')), file], /question/],
    [[changed("junk.svg", (one) => one.replace(/(<metadata[^>]*>)/, "$1junk")), file], /not JSON/],
  ];
  for (const [words, reason] of refusals) {
    const { exitCode, out, err } = await runHere("verify", ...words);
    expect([exitCode, out], String(reason)).toEqual([2, ""]);
    expect(err).toMatch(reason);
    expect(err.trim()).not.toContain("\n");
  }
  const inCard = fileOf("card.recipe.json", recipeInCard(svg));
  expect((await runHere("reproduce", inCard, file)).err).toMatch(/holdbook verify follows it/);
});

test("the card of a client's change says that no one can check it, and is not asked again", async () => {
  const log = fileOf(
    "log.csv",
    "date,test,value,unit\n2026-01-05,knee extension,200,N·m\n2026-03-02,knee extension,230,N·m\n",
  );
  const card = join(testFolder, "client.svg");
  const typed = ["follow", file, log, "4 x 10 s at 70%, rest 60 s, knee", "--card", card];
  expect((await runHere(...typed)).err).toBe("");
  const shown = flat(shownTexts(readFileSync(card, "utf8")));
  expect(shown).toContain("No one can check this card");
  expect(shown).not.toMatch(/holdbook verify|230/);
  const { exitCode, err } = await runHere("verify", card, file);
  expect(exitCode).toBe(2);
  expect(err.replace(/\s+/g, " ")).toContain(
    "keeps nowhere what was told of the person; ask holdbook follow of the same log",
  );
});

test("a card of an invented log says so, though the file is not invented", async () => {
  const cardOf = async (name: string, notes: string): Promise<string> => {
    const log = fileOf(
      `${name}.csv`,
      `date,test,value,unit,notes\n2026-01-05,knee extension,200,N·m,${notes}\n2026-03-02,knee extension,230,N·m,${notes}\n`,
    );
    const card = join(testFolder, `${name}.svg`);
    await runHere("follow", file, log, "4 x 10 s at 70%, rest 60 s, knee", "--card", card);
    return flat(shownTexts(readFileSync(card, "utf8")));
  };
  expect(await cardOf("measured", "")).not.toContain("INVENTED DATA");
  expect(await cardOf("made-up", "invented")).toContain("INVENTED DATA");
});

test("a question that a card has room for has its answer on it", async () => {
  const card = join(testFolder, "compared.svg");
  const demo = fileOf("demo-of-card.csv", demoRegisterCsv());
  const typed = [
    "compare",
    demo,
    "4 x 30 s at 70%, rest 60 s, knee",
    "4 x 10 s at 90%, rest 60 s, knee",
  ];
  await runHere(...typed, "--card", card);
  const shown = flat(shownTexts(readFileSync(card, "utf8")));
  const questions = shown.split("Can it be held?").slice(1);
  for (const after of questions) expect(after).toMatch(/^ (Hard|To spare|Most|Not)/);
});

test("every question can be put on a card", async () => {
  for (const id of questionIds) {
    const { out } = await runHere(id, "--help");
    expect(out, questionList[id].asks).toMatch(/--card <file>/);
  }
});
