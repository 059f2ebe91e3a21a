/**
 * One word for one thing in everything meant for people: what every question prints in a terminal with all its tables, and
 * the whole text of a report. Kind of evidence: the project's list of words; CSV, JSON and column names are exempt.
 */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileOf, testFolder } from "../command/test-folder.js";
import { runHere } from "../command/run-here.js";
import { views } from "../../src/page/views/view-list.js";
import { projectRoot } from "../house/source-tree.js";
import { shows } from "../page/page-actions.js";
import { hasBrowser, openPage, writePage, type OpenedPage } from "../page/page-under-test.js";

/** The demonstration under arm names that keep to the list: what a file calls its arms is its own affair. */
const demo = fileOf(
  "demo-register.csv",
  readFileSync(join(projectRoot, "data/demo-register.csv"), "utf8").replaceAll(
    /(\b\d\d (?:low|moderate|high)?[- ]?)effort\b/gu,
    "$1load",
  ),
);
const published = "tests/first-wave/published-outcomes.csv";
const historic = "data/historic_isometric_trials.csv";
const first = "4 x 20 s at 70%, rest 60 s, 3/week, 8 weeks, knee";
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
  ["certainty", demo, "--all"],
  ["certainty", published, "--all"],
  ["sweep", demo, "--outcome", "tendon", "--most", "20", "--all"],
  ["sweep", published, "--outcome", "size", "--verdicts", "--all"],
  ["pool", demo, "--by", "muscle_length", "--outcome", "strength", "--all"],
  ["pool", published, "--contrast", "against-control", "--confidence", "0.9", "--all"],
  ["dose", demo, "--outcome", "size", "--on", "intensity-percent", "--all"],
  ["dose", published, "--on", "hold-seconds", "--all"],
  ["made", demo, "--outcome", "size", "--all"],
  ["project", demo, first, "--goal", "size", "--all"],
  ["project", published, second, "--goal", "strength", "--all"],
  ["compare", demo, first, second, "--goal", "size", "--worthwhile", "2", "--all"],
  ["explore", demo, "--minutes", "10", "--sessions", "2", "--goal", "size", "--all"],
  ["hold", first, "--all"],
  ["hold", "3 x 5 s at 100%, rest 60 s", "--all"],
  ["hold", "4 x 20 s at 70%", "--all"],
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
  ["intensity, but for the rating", /\beff[o]rts?\b/iu],
  ["a machine's word", /\b(?:NaN|Infinity|undefined)\b|\[object/u],
];

/** Where effort is the word: the rating, exertion as such, and the column of the codebook. */
const ownEffort =
  /maximal efforts?|effort (?:rating|0–10|\d+|and sustain)|(?:static|muscle|isometric) effort|out on the effort|effort[_-]intent\w*/giu;

const found = (words: string): readonly string[] => {
  const text = words.replace(ownEffort, "·");
  return banned.flatMap(([why, pattern]) => {
    const at = text.search(pattern);
    return at === -1
      ? []
      : [`${why}: …${text.slice(Math.max(0, at - 60), at + 60).replace(/\s+/gu, " ")}…`];
  });
};

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
      .replace(/<[^>]+>/gu, " ")
      // Names of files are no words for people.
      .replace(/[\w-]+\.csv\b/gu, " ");
    expect(text.length).toBeGreaterThan(20_000);
    expect(found(text)).toEqual([]);
  }, 120_000);
});

describe.skipIf(!hasBrowser)("the page, narrow", () => {
  let one: OpenedPage;
  beforeAll(async () => {
    const content = readFileSync(demo);
    one = await openPage({
      address: await writePage({ name: "demo-register.csv", content }),
      width: 360,
    });
    one.page.setDefaultTimeout(120_000);
    await one.settled();
  }, 120_000);
  afterAll(() => one.close());

  // Figures are drawn, and what they say stands beside their answers.
  test.each(views.filter(({ id }) => id !== "figures"))(
    "$label",
    async ({ id }) => {
      const { page, settled } = one;
      await page.evaluate((hash) => void (location.hash = hash), `/${id}`);
      await shows(page, id);
      await page.waitForFunction(() => document.querySelector("main .skeleton") === null);
      await settled();
      const [text = "", sideways = []] = await page.evaluate(() => {
        const main = document.querySelector("main")!;
        const words: string[] = [];
        const walk = (node: Node): void => {
          if (node instanceof Element && node.matches("style, script, svg, textarea")) return;
          if (node instanceof Text) words.push(node.data);
          node.childNodes.forEach(walk);
        };
        const copy = main.cloneNode(true);
        copy.normalize();
        walk(copy);
        // What is folded away has no width of its own.
        const wide = [...main.querySelectorAll(".scroll:has(table)")].filter(
          (each) => each.checkVisibility() && each.scrollWidth > each.clientWidth + 1,
        );
        return [words.join(" "), wide.map((each) => each.getAttribute("aria-label"))] as const;
      });
      expect(text.length).toBeGreaterThan(200);
      expect(found(text.replaceAll(/\S+\.csv\b/gu, "file"))).toEqual([]);
      if (id === "explore" || id === "ramp") expect(sideways).toEqual([]);
    },
    120_000,
  );
});
