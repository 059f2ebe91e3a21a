/** Notes for the teacher, a page a slide. */
import { escapeHtml } from "../tables/escape-html.js";
import type { Course } from "./course.js";
import { documentHtml, paragraph, sheet, type Paper } from "./paper.js";
import type { SlideNotes } from "./slide.js";

/** What stands beside a slide, under its headings. */
export const noteParts = (notes: SlideNotes): readonly string[] => [
  `<h3>Say</h3>${paragraph(notes.say, "say")}`,
  `<h3>The number</h3>${paragraph(notes.number)}`,
  `<h3>Students ask</h3>${paragraph(notes.asked)}${paragraph(notes.reply)}`,
  `<h3>The trap</h3>${paragraph(notes.trap)}`,
  `<h3>Source</h3>${paragraph(notes.source, "quiet")}`,
];

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
          `<div class="tight">${noteParts(notes).join("\n")}</div>`,
        ],
        `Slide ${place + 1} of ${length}`,
      ),
    ),
    { type },
  );
};
