/** The pages and texts of a course by their names in its folder, the same whichever door writes them. */
import { changedHtml } from "./changed-html.js";
import { handoutHtml } from "./handout-html.js";
import { notesHtml } from "./notes-html.js";
import { outlineText } from "./outline.js";
import { keyHtml, quizHtml, quizNotebook } from "./quiz-html.js";
import { readingText } from "./reading.js";
import { slidesHtml } from "./slides-html.js";
import type { Course } from "./course.js";
import type { ReportFile } from "../report/report-files.js";

/** "slides/04-average": the place and the name of a slide, as its picture is called, without ending. */
export const pictureName = (place: number, { id }: Readonly<{ id: string }>): string =>
  `slides/${String(place + 1).padStart(2, "0")}-${id}`;

/**
 * Every file of a course but pictures and the tables themselves.
 *
 * @param drawn the picture of a slide as SVG without its type, by the id of its figure
 * @param type  the style sheet of the type
 * @param names of the tables beside the notebook
 */
export const courseFiles = (
  course: Course,
  drawn: (id: string) => string,
  type: string,
  names: readonly string[],
): readonly ReportFile[] => {
  const { source, records } = course.evidence;
  const { since } = course;
  return [
    { name: "slides/slides.html", content: slidesHtml(course, drawn, type) },
    { name: "notes/notes.html", content: notesHtml(course, drawn, type) },
    { name: "handout/handout.html", content: handoutHtml(course, drawn, type) },
    { name: "quiz/quiz.html", content: quizHtml(course, type) },
    { name: "quiz/key.html", content: keyHtml(course, type) },
    { name: "quiz/quiz.ipynb", content: quizNotebook(course, names) },
    ...(since === undefined
      ? []
      : [{ name: "what-changed.html", content: changedHtml(course, since, type) }]),
    { name: "reading.md", content: readingText(source.name, records.rows) },
    { name: "outline.json", content: outlineText(course.outline) },
  ];
};
