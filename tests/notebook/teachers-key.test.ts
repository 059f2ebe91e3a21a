/** The key to the lessons says what the lessons' own check takes for right, and what it takes for wrong. */
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { judgedAnswer } from "../../src/notebook/exercise.js";
import { exercises } from "../../src/notebook/exercises/exercises.js";
import { flaws } from "../../src/notebook/exercises/flaws.js";
import { readLesson } from "../../src/notebook/lesson-page.js";
import { teachersKey } from "../../src/notebook/teachers-key.js";
import { projectRoot } from "../house/source-tree.js";

const folder = join(projectRoot, "notebooks");
const lessons = readdirSync(folder)
  .filter((name) => name.endsWith(".ipynb"))
  .sort((first, second) => parseInt(first, 10) - parseInt(second, 10))
  .map((name) => readLesson(readFileSync(join(folder, name), "utf8")));
const key = teachersKey(lessons);
const plain = (html: string): string =>
  html
    .replace(/<[^>]*>/g, " ")
    .replaceAll("&quot;", '"')
    .replaceAll("&#39;", "'")
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&amp;", "&")
    .replace(/\s+/g, " ");
const parts = new Map(
  key.split("<h3>").map((part) => [part.slice(0, part.indexOf("</h3>")), plain(part)]),
);

/** What stands in the key, as a learner would type it. */
const typed = (words: string): number | string =>
  words.startsWith('"') ? words.slice(1, -1) : Number(words.replace("−", "-"));

test.each(exercises.map((exercise) => [exercise.id, exercise] as const))(
  "%s: question, right answer, reason, and the wrong answers told apart",
  (id, exercise) => {
    const part = parts.get(id) ?? "";
    const found = /^(\S+) (\S.*?) Answer ("[^"]*"|\S+) Reason (.*?) Common wrong answer (.*)$/.exec(
      part.replace(/^\S+<\/h3>/, ""),
    );
    expect(found, part).not.toBeNull();
    const [, , question = "", answer = "", reason = "", wrong = ""] = found ?? [];
    expect(question.length).toBeGreaterThan(25);
    expect(judgedAnswer(exercise, typed(answer))).toEqual({ right: true, message: "Right." });
    expect(reason).toBe(exercise.reason);
    for (const [place, said] of wrong.split(" Also ").entries()) {
      const [, value = "", because = ""] =
        /^("[^"]*"|\S+): (.*?)(?: Find the flaw .*)?$/.exec(said) ?? [];
      expect(judgedAnswer(exercise, typed(value)).right).toBe(false);
      expect(because).toContain(exercise.slips[place]?.because);
    }
  },
);

test("lessons 3 to 10 have a claim with a flaw, and the key says what is wrong with it", () => {
  const claims = key.split("<h3>Find the flaw</h3>").slice(1).map(plain);
  expect(Object.keys(flaws).map(Number)).toEqual([3, 4, 5, 6, 7, 8, 9, 10]);
  expect(claims).toHaveLength(8);
  for (const [place, flaw] of Object.values(flaws).entries()) {
    expect(claims[place]).toMatch(/^ ?"[^"]{30,}"/);
    expect(claims[place]).toContain(flaw);
  }
});
