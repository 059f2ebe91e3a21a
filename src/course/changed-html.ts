/** What changed since last year's file, on one sheet of A4. */
import { counted } from "../tables/number-format.js";
import { escapeHtml } from "../tables/escape-html.js";
import type { Course } from "./course.js";
import type { Moved, Since } from "./moved.js";
import { paperOf } from "./notes-html.js";
import { documentHtml, paragraph, row, sheet, short } from "./paper.js";

/** What has room on the sheet; what is beyond is counted. */
const mostStudies = 9;
const mostMoved = 11;
const mostElsewhere = 6;
/** Letters of a sentence before it is shortened: two lines at most. */
const mostLetters = 105;

const shown = ({ before, now, by }: Moved): string =>
  `${short(before, mostLetters)} → ${short(now, mostLetters)}${by === "" ? "" : ` (${by})`}`;

const rest = (all: number, most: number, where: string): readonly string[] =>
  all > most ? [paragraph(`${all - most} more ${where}.`, "quiet")] : [];

/** The sheet: which trials came, what moved on which slide, and what moved on none. */
export const changedHtml = (course: Course, since: Since, type = ""): string => {
  const on = since.moved.filter(({ place }) => place !== undefined);
  const off = since.moved.filter(({ place }) => place === undefined);
  const slides = new Set(on.map(({ place }) => place)).size;
  const title = `What changed since ${since.name}`;
  return documentHtml(
    `${title}: ${course.title}`,
    [
      sheet(
        paperOf(course),
        [
          `<div class="tight"><h1>${escapeHtml(title)}</h1>`,
          paragraph(since.headline),
          `<h2>Trials</h2>`,
          ...since.studies
            .slice(0, mostStudies)
            .map(({ study, what }) => row(study, short(what, mostLetters))),
          ...rest(since.studies.length, mostStudies, "studies with changed rows"),
          ...(since.studies.length > 0
            ? []
            : [paragraph(`No row of ${since.name} is known to have changed.`)]),
          `<h2>Slides whose number moved: ${slides} of ${course.slides.length}</h2>`,
          ...on
            .slice(0, mostMoved)
            .map((one) => row(`${one.place! + 1}. ${short(one.about, 46)}`, shown(one))),
          ...rest(on.length, mostMoved, "in the notes"),
          ...(off.length === 0
            ? []
            : [
                `<h2>${counted(off.length, "conclusion")} moved that no slide shows</h2>`,
                ...off.slice(0, mostElsewhere).map((one) => row(short(one.about, 46), shown(one))),
                ...rest(off.length, mostElsewhere, "in the answer to holdbook changes"),
              ]),
          "</div>",
        ],
        "Before → now (the study whose rows move it most)",
      ),
    ],
    { type },
  );
};
