import { createHash } from "node:crypto";
import { expect, test } from "vitest";
import { cautionsWith } from "../../src/answers/profile.js";
import { figuresAt } from "../../src/figures/figure-list.js";
import { handoutHtml } from "../../src/course/handout-html.js";
import { keyHtml, quizNotebook } from "../../src/course/quiz-html.js";
import { quizLevels } from "../../src/course/quiz.js";
import { escapeHtml } from "../../src/tables/escape-html.js";
import { notesHtml } from "../../src/course/notes-html.js";
import { slideScript, slidesHtml } from "../../src/course/slides-html.js";
import { reportCautions } from "../../src/report/report-cautions.js";
import type { Course } from "../../src/course/course.js";
import { courseOf, evidence } from "./courses-under-test.js";

const courses = {
  library: await courseOf("library"),
  demo: await courseOf("demo"),
  three: await courseOf("three"),
} as const;

/** Everything a slide and its notes say, sentence by sentence. */
const sentencesOf = ({ slides, quiz }: Course): ReadonlySet<string> =>
  new Set(
    [
      ...quiz.flatMap(({ question, answer, reason }) => [question, answer, reason]),
      ...slides.flatMap(({ message, notes, figure }) => [
        message,
        ...Object.values(notes),
        ...(figure.name === "lines" ? figure.data.rows.map(({ text }) => text) : []),
      ]),
    ].flatMap((text) => text.split(/(?<=[.?!]) (?=[\p{Lu}†])/u)),
  );

/** Sentences that teach a word or protect a person are the same in every course, and are the only ones. */
const theSame = [
  ...reportCautions,
  ...cautionsWith([]).stopSigns.signs,
  "Is this a clearance for a client?",
  "Only what is inside studies is protected by their randomisation.",
].join(" ");

test.each(Object.entries(courses))(
  "%s: at least sixteen slides, each one picture of 1920 × 1080 with one message",
  (name, course) => {
    expect(course.slides.length).toBeGreaterThanOrEqual(16);
    for (const { id, figure, message, notes } of course.slides) {
      const [drawn] = figuresAt("slide")(figure);
      expect(drawn!.picture, id).toMatchObject({ points: [1920, 1080] });
      expect(message.length, `${name} ${id}: ${message}`).toBeLessThan(135);
      for (const [part, text] of Object.entries(notes))
        expect(text.trim(), `${id} ${part}`).not.toBe("");
    }
  },
);

test("no sentence of a course would be the same for another file, but for cautions", () => {
  const [library, demo, three] = [courses.library, courses.demo, courses.three].map(sentencesOf);
  const shared = [...library!].filter((one) => demo!.has(one) && three!.has(one));
  const cautions = (one: string): boolean =>
    one
      .replace(/\.$/, "")
      .split("; ")
      .every((part) => theSame.includes(part));
  expect(shared.filter((one) => !cautions(one))).toEqual([]);
  expect(shared.length).toBeGreaterThan(0);
});

test.each(Object.entries(courses))("%s: no two slides say the same", (_name, { slides }) => {
  expect(new Set(slides.map(({ message }) => message)).size).toBe(slides.length);
});

test("an effect whose row prints no spread stands on a slide without an interval, and is not counted", () => {
  // Balshaw 2016 prints 23% and 17% without a spread; Kubo 2001 prints both.
  const { figure } = courses.three.slides.find(({ id }) => id === "average")!;
  const [drawn] = figuresAt("slide")(figure);
  const said = JSON.stringify(drawn!.specification);
  expect(said).toContain("17.0% (no interval)");
  expect(said).not.toContain("(17.0 to 17.0)");
  expect(said).toContain("2 effects from 1 study, and 2 without a spread and in no average");
});

test("a slide that the file cannot answer says so and shows what single trials compared", () => {
  const intensity = courses.library.slides.find(({ id }) => id === "intensity")!;
  expect(intensity.told).toBe(false);
  expect(intensity.message).toContain("cannot be told");
  expect(intensity.figure.name).toBe("single-trials");
});

test("the page of slides allows its own script and no other, and holds the notes", () => {
  const hash = createHash("sha256").update(slideScript.text).digest("base64");
  expect(slideScript.hash).toBe(hash);
  const html = slidesHtml(courses.demo, (id) => `<svg data-id="${id}"></svg>`);
  expect(html).toContain(`script-src 'sha256-${hash}'`);
  expect(html.match(/<svg data-id=/g)).toHaveLength(courses.demo.slides.length);
  const notes = notesHtml(courses.demo, () => "<svg></svg>");
  expect(notes.match(/class="sheet"/g)).toHaveLength(courses.demo.slides.length);
  expect(notes.match(/class="invented"/g)).toHaveLength(courses.demo.slides.length);
  expect(evidence.demo.source.invented).toBe(true);
});

test.each(Object.entries(courses))(
  "%s: a quiz of twenty items in three levels, each once, with answer and reason",
  (_name, { quiz }) => {
    expect(quiz).toHaveLength(20);
    expect(new Set(quiz.map(({ question }) => question)).size).toBe(20);
    for (const level of quizLevels)
      expect(quiz.filter((item) => item.level === level).length).toBeGreaterThanOrEqual(6);
    for (const { answer, reason } of quiz) {
      expect(answer).not.toMatch(/NaN|undefined|null/);
      expect(reason.trim()).not.toBe("");
    }
  },
);

test("a change in percent asked in the quiz is the hand's arithmetic of the printed means", () => {
  const items = courses.library.quiz.flatMap(({ question, answer }) => {
    const found = /was ([\d.]+) before and ([\d.]+) after/.exec(question);
    return found === null ? [] : [{ before: Number(found[1]), after: Number(found[2]), answer }];
  });
  expect(items.length).toBeGreaterThan(1);
  for (const { before, after, answer } of items)
    expect(Number(answer.replace("−", "-").replace("%.", ""))).toBeCloseTo(
      100 * (after / before - 1),
      1,
    );
});

test("the quiz as a notebook holds no answer; the key holds each with its reason", () => {
  const notebook = quizNotebook(courses.three, ["three.csv"]);
  const key = keyHtml(courses.three);
  for (const { question, answer, reason } of courses.three.quiz) {
    expect(notebook).toContain(JSON.stringify(question).slice(1, -1));
    expect(notebook).not.toContain(JSON.stringify(reason).slice(1, -1));
    expect(key).toContain(escapeHtml(answer));
    expect(key).toContain(escapeHtml(reason));
  }
});

test("the demonstration says what it was made from, and how far each answer missed its truth", () => {
  // 16° and 40° of spread, s·√(2 ln 2): 18.84° and 47.10°; 4 weeks; no effect of hold length at equal tension.
  const truths = new Map(courses.demo.misses.map(({ of, truth }) => [of, truth]));
  expect(truths.get("Half of the gain left, short length")).toBe("18.8°");
  expect(truths.get("Half of the gain left, long length")).toBe("47.1°");
  expect(truths.get("63% of the final gain, strength")).toBe("4.0 weeks");
  expect(truths.get("Longer holds at equal tension time")).toBe("0.0%");
  expect(courses.demo.slides.slice(-2).map(({ id }) => id)).toEqual(["made-from", "missed"]);
  expect(courses.library.misses).toEqual([]);
});

test.each(Object.entries(courses))("%s: the handout has four pages", (_name, course) => {
  const html = handoutHtml(course, () => "<svg></svg>");
  expect(html.match(/class="sheet"/g)).toHaveLength(4);
});
