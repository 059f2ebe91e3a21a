/**
 * One word for one thing in everything meant for people: what every question prints in a terminal with all its tables, and
 * the whole text of a report. Kind of evidence: the project's list of words; CSV, JSON and column names are exempt.
 */
import { describe, expect, test } from "vitest";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileOf, testFolder } from "../command/test-folder.js";
import { runHere } from "../command/run-here.js";

const demo = "data/demo-register.csv";
const published = "data/published-outcomes.csv";
const historic = "data/historic_isometric_trials.csv";
const first = "4 x 30 s at 70%, rest 60 s, 3/week, 8 weeks, knee";
const second = "4 x (5 x 3 s) at 90%, rest 5 s, 90 s between sets, 3/week, 8 weeks, long";

const commands: readonly (readonly string[])[] = [
  ...[demo, published].flatMap((file) =>
    [
      "check",
      "effects",
      "pool",
      "variables",
      "equal-tension",
      "joint-angle",
      "time",
      "influence",
    ].map((question) => [question, file, "--all"]),
  ),
  ["small-studies", demo, "--all"],
  ["pool", demo, "--by", "muscle_length", "--outcome", "strength", "--all"],
  ["pool", published, "--contrast", "against-control", "--confidence", "0.9", "--all"],
  ["dose", demo, "--outcome", "size", "--on", "intensity-percent", "--all"],
  ["dose", published, "--on", "hold-seconds", "--all"],
  ["made", demo, "Invented 14", "--all"],
  ["project", demo, first, "--goal", "size", "--all"],
  ["project", published, second, "--goal", "strength", "--all"],
  ["compare", demo, first, second, "--goal", "size", "--worthwhile", "2", "--all"],
  ["explore", demo, "--minutes", "10", "--sessions", "2", "--goal", "size", "--all"],
  ["hold", first, "--all"],
  ["hold", "3 x 5 s at 100%, rest 60 s", "--all"],
  ["hold", "4 x 30 s at 70%", "--all"],
  ["ramp", first, "--from", "deconditioned", "--weeks", "8", "--all"],
  ["ramp", "4 x 30 s at 75%, rest 15 s, knee", "--from", "trained", "--weeks", "4", "--all"],
  ["references", published],
  // messages
  ["hold", "4 by 30 s"],
  ["hold", "4 x 30"],
  ["check", "nofile.csv"],
  ["pool", demo, "--by", "banana"],
  ["pool", demo, "--where", "weeks>>8"],
  ["dose", demo, "--on", "banana"],
  ["check", historic],
];

/** What must not stand in a text for people, and why. */
const banned: readonly (readonly [string, RegExp])[] = [
  ["percent sits on its number", /\d %(?!·|MVC·s)/u],
  [
    "one of a thing is one",
    /(?<![\d.,−])\b1 (?:studies|effects|rows|arms|trials|people|papers|holds|weeks|values|averages)\b/u,
  ],
  ["a minus is a minus", /(?:^|[\s(])-\d/mu],
  ["range of a further study", /\bnew study\b|\bone new tr[i]al\b|predict[i]on interval/iu],
  ["before to after", /change within the train[i]ng arm/u],
  ["against no exercise", /\bagainst-control\b/u],
  ["A minus B", /\b[A-F] less [A-F]\b/u],
  ["cannot be told, or no difference that counts", /\btie\b/u],
  ["a typical person", /central c[a]se/u],
  ["rest between holds", /rests? between rep[e]titions/iu],
  ["durations in minutes and seconds", /\d\.\d min\b/u],
  ["a default, not from your file", /documented default or opt[i]on/u],
  ["a name of the program's own insides", /\b[a-z]+[A-Z]\w* requires\b/u],
  ["a machine's word", /\b(?:NaN|Infinity|undefined)\b|\[object/u],
];

const found = (text: string): readonly string[] =>
  banned.flatMap(([why, pattern]) => {
    const at = text.search(pattern);
    return at === -1
      ? []
      : [`${why}: …${text.slice(Math.max(0, at - 60), at + 60).replace(/\s+/gu, " ")}…`];
  });

describe("words", () => {
  test("the list finds what it is for", () => {
    expect(found(["1 studies, 70", "% of -3.5, one new", "trial"].join(" "))).toHaveLength(4);
    expect(found("11 studies, 70% of −3.5, a further study, 8,400 %·s, pre-2014")).toEqual([]);
  });

  test.each(commands)("%s %s %s %s", async (...words) => {
    const { out, err } = await runHere(...words);
    const text = `${out}\n${err}`;
    expect(text.trim()).not.toBe("");
    expect(found(text)).toEqual([]);
  });

  test("the report, from its first word to its last", async () => {
    const protocols = fileOf("protocols.txt", `A: ${first}\nB: ${second}\n`);
    const folder = join(testFolder, "report-of-words");
    const { exitCode } = await runHere("report", demo, "--protocols", protocols, "-o", folder);
    expect(exitCode).toBe(0);
    const text = readFileSync(join(folder, "report.html"), "utf8")
      .replace(/<(style|script|svg)\b[\s\S]*?<\/\1>/gu, " ")
      .replace(/<[^>]+>/gu, " ");
    expect(text.length).toBeGreaterThan(20_000);
    expect(found(text)).toEqual([]);
  }, 120_000);
});
