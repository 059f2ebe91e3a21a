/** `holdbook course FILE -o DIR`: slides, notes, a handout, a quiz and a reading list on a file. */
import { basename, dirname, join } from "node:path";
import { effectShape } from "../answers/effect-options.js";
import { courseOn, type Course } from "../course/course.js";
import { courseFiles, pictureName } from "../course/course-files.js";
import { defaultOutline, readOutline } from "../course/outline.js";
import { figuresAt } from "../figures/figure-list.js";
import { fontFaces } from "../host/figure-fonts.js";
import { withoutType } from "../host/figure-svg.js";
import { freeMemory } from "../host/free-memory.js";
import { chromiumHere, printPage } from "../host/print-page.js";
import { readBytes } from "../host/read-bytes.js";
import { checkFolder, writeFolder, type Draft } from "../host/write-whole.js";
import { citationSentence } from "../report/citation-sentence.js";
import { wrapToWidth } from "../tables/display-width.js";
import { counted } from "../tables/number-format.js";
import { drawFiles } from "./figure-files.js";
import { helpingThreads } from "./helping-threads.js";
import { placeOptions, withOutput, type TypedPlace } from "./output-place.js";
import { sharedOptions, withOptions } from "./question-command.js";
import { openOlder, openTyped } from "./read-input.js";
import type { CommandRegistration, Terminal } from "./terminal.js";
import { withFiles, type TypedFiles } from "./typed-files.js";

const putCourse = async (
  draft: Draft,
  course: Course,
  paths: readonly string[],
  terminal: Terminal,
): Promise<boolean> => {
  const { slides } = course;
  const drawings = await drawFiles(
    draft,
    (function* () {
      for (const [place, slide] of slides.entries())
        for (const figure of figuresAt("slide")(slide.figure).slice(0, 1))
          yield { figure, name: pictureName(place, slide) };
    })(),
    terminal,
  );
  freeMemory();
  const svgs = new Map<string, string>();
  for (const [id, path] of drawings)
    svgs.set(id, withoutType(new TextDecoder().decode(await readBytes(path))));
  const drawn = (id: string): string => svgs.get(id) ?? "";
  const type = fontFaces();
  const names = paths.map((path) => basename(path));
  const files = courseFiles(course, drawn, type, names);
  for (const { name, content } of files) await draft.put(name, content);
  for (const [at, path] of paths.entries())
    await draft.put(`quiz/data/${names[at]!}`, await readBytes(path));
  const printer = await (terminal.printer ?? chromiumHere)();
  if (printer === undefined) return false;
  let all = true;
  for (const { name } of files) {
    if (!name.endsWith(".html")) continue;
    const pdf = await draft.place(name.replace(/html$/, "pdf"));
    terminal.progress(`printing ${name}`);
    all = (await printPage(printer, join(dirname(pdf), basename(name)), pdf)) && all;
  }
  return all;
};

export const courseCommand: CommandRegistration = (program, terminal) => {
  const command = withOutput(
    withOptions(
      withFiles(
        program
          .command("course")
          .description("a half-day course on your file: slides, notes, handout, quiz, reading list")
          .argument("<file>", "a table in the codebook's columns"),
      ),
      effectShape,
    ),
    "where the course goes (default: holdbook-course)",
  );
  command
    .option("--outline <file>", "slides, sessions and sentences of your own, as JSON")
    .option(
      "--since <file>",
      "last year's file, or the results.json of its report: a sheet of what changed, and a line in each note that moved",
    )
    .action(
      async (
        path: string,
        typed: Readonly<Record<string, unknown>> &
          TypedPlace &
          TypedFiles &
          Readonly<{ outline?: string; since?: string }>,
      ) => {
        const { output: directory = "holdbook-course" } = typed;
        const place = placeOptions("course", path, directory, typed);
        await checkFolder(directory, place);
        const outline =
          typed.outline === undefined
            ? defaultOutline
            : readOutline(new TextDecoder().decode(await readBytes(typed.outline)));
        terminal.progress(`reading ${path}`);
        const course = await courseOn(await openTyped(path, typed, terminal), {
          outline,
          shared: sharedOptions(typed),
          ...(typed.since === undefined ? {} : { since: await openOlder(typed.since) }),
          tell: terminal.progress,
          help: helpingThreads(),
        });
        let isPrinted = false;
        await writeFolder(
          directory,
          async (draft) => {
            isPrinted = await putCourse(draft, course, [path, ...(typed.with ?? [])], terminal);
          },
          place,
        );
        const untold = course.slides.filter(({ told }) => !told);
        terminal.out(
          [
            `${counted(course.slides.length, "slide")} about ${course.lead.label} are ${directory}/slides/slides.html (arrow keys, n for notes), each also a picture beside it; notes, a page a slide, are ${directory}/notes/notes.html.`,
            `The handout of four pages is ${directory}/handout/handout.html, the quiz of ${counted(course.quiz.length, "item")} ${directory}/quiz/quiz.html and quiz.ipynb, its key ${directory}/quiz/key.html, what to read ${directory}/reading.md.`,
            ...(course.since === undefined
              ? []
              : [
                  `What changed since ${course.since.name}, on one sheet: ${directory}/what-changed.html. ${counted(new Set(course.since.moved.flatMap(({ place }) => place ?? [])).size, "slide")} moved, as the notes say.`,
                ]),
            ...(course.misses.length === 0
              ? []
              : [
                  `The data are invented: the truth lies in ${course.misses.filter(({ inside }) => inside).length} of ${course.misses.length} intervals, as the last slides show.`,
                ]),
            ...(untold.length === 0
              ? []
              : [
                  `This file cannot answer ${counted(untold.length, "slide")}, which ${untold.length === 1 ? "says" : "say"} so and ${untold.length === 1 ? "shows" : "show"} what single trials compared: ${untold.map(({ id }) => id).join(", ")}.`,
                ]),
            isPrinted
              ? "All of it is printed as PDF beside."
              : "No Chromium here could print; print the pages from a browser.",
            `To change slides, sessions or sentences, edit ${directory}/outline.json and give it with --outline.`,
            `To cite: ${citationSentence(course.evidence.source)}`,
          ]
            .map((text) => wrapToWidth(text, terminal.width).join("\n"))
            .join("\n\n"),
        );
      },
    );
};
