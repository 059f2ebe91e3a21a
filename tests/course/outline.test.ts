import { expect, test } from "vitest";
import { courseOn } from "../../src/course/course.js";
import { defaultOutline, readOutline } from "../../src/course/outline.js";
import { evidence } from "./courses-under-test.js";

test("outline: what is written beside a course is read back as it was", () => {
  expect(readOutline(JSON.stringify(defaultOutline))).toEqual(defaultOutline);
});

test.each([
  ["[", "a file of JSON"],
  ["{}", "slides"],
  ['{"slides": []}', "slides"],
  ['{"slides": [{"slide": "averge"}]}', "did you mean average?"],
  ['{"slides": [{"slide": "average", "tilte": "A"}]}', 'slide 1, got "tilte"; did you mean title?'],
  [
    '{"slides": [{"slide": "hold"}, {}]}',
    '"slide" or "question" in slide 2, one of the two, got neither',
  ],
  ['{"slides": [{"question": "hold"}]}', "the session that slide 1 asks about"],
  ['{"slides": [{"question": "pol"}]}', "did you mean pool?"],
  ['{"slides": [{"slide": "hold", "options": {}}]}', 'beside a "question"'],
  ['{"weeks": 900, "slides": [{"slide": "hold"}]}', "another value at weeks"],
])("outline: %s is refused with the place and the mend", (json, words) => {
  expect(() => readOutline(json)).toThrow(words);
});

test("outline: a teacher's slide, title and trap stand in the course", async () => {
  const outline = readOutline(
    JSON.stringify({
      title: "Term two",
      outcome: "size",
      slides: [
        { slide: "average", title: "Muscles grow", trap: "Mind the scanner." },
        { question: "influence", options: { outcome: "size" } },
      ],
    }),
  );
  const course = await courseOn(evidence.three, { outline });
  expect(course.title).toBe("Term two");
  expect(course.lead.id).toBe("size");
  expect(course.slides.map(({ message }) => message)[0]).toBe("Muscles grow");
  expect(course.slides[0]!.notes.trap).toBe("Mind the scanner.");
  expect(course.slides[1]!.id).toBe("influence");
  await expect(
    courseOn(evidence.three, { outline: { ...outline, outcome: "sise" } }),
  ).rejects.toThrow("did you mean size?");
});
