/** The quiz on paper and as a notebook, and its key apart. */
import { escapeHtml } from "../tables/escape-html.js";
import { capital } from "../tables/number-format.js";
import type { Course } from "./course.js";
import { notebookText, type NotebookCell } from "./notebook-text.js";
import { paperOf } from "./notes-html.js";
import { documentHtml, paragraph, sheet } from "./paper.js";
import { quizLevels, type QuizItem } from "./quiz.js";

const numbered = (items: readonly QuizItem[]) =>
  items.map((item, place) => ({ ...item, number: place + 1 }));

const levels = (course: Course, one: (item: QuizItem & { number: number }) => string) => {
  const items = numbered(course.quiz);
  return quizLevels.flatMap((level) => {
    const own = items.filter((item) => item.level === level);
    return own.length === 0
      ? []
      : [
          `<h2>${escapeHtml(capital(level))}</h2>`,
          `<ol start="${own[0]!.number}">${own.map((item) => `<li>${one(item)}</li>`).join("\n")}</ol>`,
        ];
  });
};

const paperWith = (course: Course, title: string, body: readonly string[], type: string): string =>
  documentHtml(
    title,
    [sheet(paperOf(course), [`<h1>${escapeHtml(title)}</h1>`, ...body], title, "flows")],
    { type },
  );

/** The items with room to write. */
export const quizHtml = (course: Course, type = ""): string =>
  paperWith(
    course,
    `Quiz: ${course.title}`,
    levels(course, ({ question }) => `${escapeHtml(question)}<div class="blank"></div>`),
    type,
  );

/** The answers with their reasons. */
export const keyHtml = (course: Course, type = ""): string =>
  paperWith(
    course,
    `Key: ${course.title}`,
    levels(
      course,
      ({ question, answer, reason }) =>
        `${paragraph(question, "quiet")}${paragraph(answer, "say")}${paragraph(reason, "tight")}`,
    ),
    type,
  );

/**
 * The same items as a notebook: the figure asked about is drawn from the file, and an answer has a cell.
 *
 * @param files names of the tables in the folder `data` beside the notebook
 */
export const quizNotebook = (course: Course, files: readonly string[]): string => {
  const opened = files.map((name) => JSON.stringify(`data/${name}`));
  const [first = "", ...others] = opened;
  const cells = numbered(course.quiz).flatMap(
    ({ number, level, question, about }): readonly NotebookCell[] => [
      { kind: "markdown", lines: [`**${number}. ${capital(level)}.** ${question}`] },
      {
        kind: "code",
        lines: [
          ...(about === undefined
            ? []
            : [
                `const about${number} = await ask(${JSON.stringify(about.question)}, ${JSON.stringify(about.options)});`,
                `await showFigure(about${number}.figures[0]);`,
              ]),
          `const answer${number} = undefined; // yours`,
        ],
      },
    ],
  );
  return notebookText([
    {
      kind: "markdown",
      lines: [
        `# Quiz: ${course.title}`,
        "",
        ...(course.evidence.source.invented
          ? ["**Invented data: nothing here is evidence.**", ""]
          : []),
        "Predict, run, explain. The key is another file.",
      ],
    },
    {
      kind: "code",
      lines: [
        'import { display } from "tslab";',
        'import { openFile, ask, showOn, showFigure } from "holdbook/notebook";',
        "showOn(display);",
        `await openFile(${first}${others.length === 0 ? "" : `, [${others.join(", ")}]`});`,
      ],
    },
    ...cells,
  ]);
};
