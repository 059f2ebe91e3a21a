/** What changed since last year's file, on one sheet of A4. */
import { counted } from "../tables/number-format.js";
import { escapeHtml } from "../tables/escape-html.js";
import type { Course } from "./course.js";
import type { Moved, Since } from "./moved.js";
import { paperOf } from "./notes-html.js";
import { documentHtml, fitting, paragraph, sheet, short } from "./paper.js";

/** Lines of the sheet for trials, for slides, and for what no slide shows. */
const room = { trials: 9, slides: 23, elsewhere: 9 } as const;
/** Letters of a sentence before it is shortened: two lines at most. */
const mostLetters = 105;

const shown = ({ before, now, by }: Moved): string =>
  `${short(before, mostLetters)} → ${short(now, mostLetters)}${by === "" ? "" : ` (${by})`}`;

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
          ...fitting(
            since.studies.map(({ study, what }) => ({
              name: study,
              text: short(what, mostLetters),
            })),
            room.trials,
            "studies with changed rows",
          ),
          ...(since.studies.length > 0
            ? []
            : [paragraph(`No row of ${since.name} is known to have changed.`)]),
          `<h2>Slides whose number moved: ${slides} of ${course.slides.length}</h2>`,
          ...fitting(
            on.map((one) => ({
              name: `${one.place! + 1}. ${short(one.about, 42)}`,
              text: shown(one),
            })),
            room.slides + (off.length === 0 ? room.elsewhere : 0),
            "in the notes",
          ),
          ...(off.length === 0
            ? []
            : [
                `<h2>${counted(off.length, "conclusion")} moved that no slide shows</h2>`,
                ...fitting(
                  off.map((one) => ({ name: short(one.about, 42), text: shown(one) })),
                  room.elsewhere,
                  "in the answer to holdbook changes",
                ),
              ]),
          "</div>",
        ],
        "Before → now (the study whose rows move it most)",
      ),
    ],
    { type },
  );
};
