import { createHash } from "node:crypto";
import { expect, test } from "vitest";
import { cautionsWith } from "../../src/answers/profile.js";
import { figuresAt } from "../../src/figures/figure-list.js";
import { notesHtml } from "../../src/course/notes-html.js";
import { slideScript, slidesHtml } from "../../src/course/slides-html.js";
import { reportCautions } from "../../src/report/report-cautions.js";
import type { Course } from "../../src/course/course.js";
import { courses, evidence } from "./courses-under-test.js";

/** Everything a slide and its notes say, sentence by sentence. */
const sentencesOf = ({ slides }: Course): ReadonlySet<string> =>
  new Set(
    slides
      .flatMap(({ message, notes, figure }) => [
        message,
        ...Object.values(notes),
        ...(figure.name === "lines" ? figure.data.rows.map(({ text }) => text) : []),
      ])
      .flatMap((text) => text.split(/(?<=[.?!]) (?=[\p{Lu}†])/u)),
  );

/** Sentences that teach a word or protect a person are the same in every course, and are the only ones. */
const theSame = [
  ...reportCautions,
  ...cautionsWith([]).stopSigns!.signs,
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
