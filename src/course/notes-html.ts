/** Notes for the teacher, a page a slide. */
import { escapeHtml } from "../tables/escape-html.js";
import type { Course } from "./course.js";
import { documentHtml, paragraph, sheet, type Paper } from "./paper.js";
import type { SlideNotes } from "./slide.js";

/** The parts of the notes of a slide, each with its heading; what one says aloud comes first. */
export const noteParts = ({ moved, ...notes }: SlideNotes) =>
  [
    { title: "Say", texts: [notes.say], kind: "say" },
    { title: "The number", texts: [notes.number], kind: "" },
    { title: "Students ask", texts: [notes.asked, notes.reply], kind: "" },
    { title: "The trap", texts: [notes.trap], kind: "" },
    { title: "What moved", texts: moved === undefined ? [] : [moved], kind: "" },
    { title: "Source", texts: [notes.source], kind: "quiet" },
  ].filter(({ texts }) => texts.length > 0);

/** What stands beside a slide, under its headings. */
export const notesText = (notes: SlideNotes): string =>
  noteParts(notes)
    .map(
      ({ title, texts, kind }) =>
        `<h3>${title}</h3>${texts.map((text) => paragraph(text, kind)).join("")}`,
    )
    .join("\n");

/** What a document of the course says of its source. */
export const paperOf = ({ title, evidence: { source } }: Course): Paper => ({
  title,
  source: `${source.name}, fingerprint ${source.fingerprint.slice(0, 8)}`,
  invented: source.invented,
});

export const notesHtml = (course: Course, drawn: (id: string) => string, type = ""): string => {
  const paper = paperOf(course);
  const { length } = course.slides;
  return documentHtml(
    `Notes: ${course.title}`,
    course.slides.map(({ figure, message, notes }, place) =>
      sheet(
        paper,
        [
          `<div class="picture">${drawn(figure.data.id)}</div>`,
          `<h1 style="font-size:15pt;margin-top:4mm">${escapeHtml(message)}</h1>`,
          `<div class="tight">${notesText(notes)}</div>`,
        ],
        `Slide ${place + 1} of ${length}`,
      ),
    ),
    { type },
  );
};
