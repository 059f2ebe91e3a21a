/** The key to the lessons: of every exercise the answer, its reason and the common wrong answer. */
import { documentHtml, paragraph } from "../course/paper.js";
import { escapeHtml } from "../tables/escape-html.js";
import { capital } from "../tables/number-format.js";
import type { Exercise } from "./exercise.js";
import { exercises } from "./exercises/exercises.js";
import { flaws } from "./exercises/flaws.js";
import { inlineHtml, type Lesson } from "./lesson-page.js";

const written = (value: number | string, { decimals = 0 }: Exercise): string =>
  typeof value === "number" ? value.toFixed(decimals).replace("-", "−") : `"${value}"`;

const row = (name: string, html: string): string =>
  `<div class="row"><b>${name}</b><span>${html}</span></div>`;

/** What stands between two marks in the words of a lesson. */
const wordsOf = ({ cells }: Lesson, pattern: RegExp): string => {
  const texts = cells.flatMap(({ cell_type: type, source }) =>
    type === "markdown" ? [source.join("")] : [],
  );
  return (pattern.exec(texts.join("\n\n"))?.[1] ?? "").replaceAll("\n", " ");
};

const exerciseHtml = (exercise: Exercise, lesson: Lesson): readonly string[] => {
  const { id, answer, reason, slips } = exercise;
  const asked = wordsOf(
    lesson,
    new RegExp(`\\*\\*${id.replace(".", "\\.")} Predict:\\*\\* ([^]*?)(?:\\n\\n|$)`),
  );
  return [
    `<h3>${id}</h3>`,
    `<p>${inlineHtml(capital(asked))}</p>`,
    row("Answer", `<strong>${escapeHtml(written(answer(), exercise))}</strong>`),
    row("Reason", escapeHtml(reason)),
    ...slips.map((slip, place) =>
      row(
        place === 0 ? "Common wrong answer" : "Also",
        escapeHtml(`${written(slip.answer(), exercise)}: ${slip.because}`),
      ),
    ),
  ];
};

/**
 * The key as a page for paper; every answer is worked out from the data when it is written.
 *
 * @param lessons in their order: the first is lesson 1
 */
export const teachersKey = (lessons: readonly Lesson[]): string =>
  documentHtml("Key to the lessons", [
    `<section class="sheet flows">`,
    "<h1>Key to the lessons</h1>",
    paragraph(
      "For the teacher. Answers are worked out from the data that come with the lessons; a learner who changes the data has other answers.",
    ),
    ...lessons.flatMap((lesson, place) => {
      const number = place + 1;
      const claim = wordsOf(
        lesson,
        /(?:## Find the flaw\n\n|\*\*Find the flaw:\*\* )(\*"[^*]*"\*)/,
      );
      return [
        `<h2>${inlineHtml(wordsOf(lesson, /^# (.*)$/m))}</h2>`,
        ...exercises
          .filter(({ id }) => id.startsWith(`${number}.`))
          .flatMap((exercise) => exerciseHtml(exercise, lesson)),
        ...(flaws[number] === undefined
          ? []
          : [
              "<h3>Find the flaw</h3>",
              `<p>${inlineHtml(claim)}</p>`,
              row("What is wrong", escapeHtml(flaws[number])),
            ]),
      ];
    }),
    "</section>",
  ]);
