import { strToU8, zipSync, type Zippable } from "fflate";
import { courseFiles } from "../../course/course-files.js";
import { courseOn, type Course } from "../../course/course.js";
import { defaultOutline, outlineText, readOutline } from "../../course/outline.js";
import { withoutType } from "../../host/figure-svg.js";
import { partsOf, type OpenFile } from "../open-file.js";
import { openFile, type Bench, type Job } from "./bench.js";
import { hashed, olderOnPage } from "./open-job.js";

/** What a course is made from, beside the open file. */
export type CourseAsked = Readonly<{
  options: Readonly<Record<string, unknown>>;
  /** The outline as its text; every slide where it is empty. */
  outline: string;
  /** What changed since this file is told too. */
  older?: OpenFile | undefined;
}>;

/** What the page shows of a course. */
export type CourseMade = Pick<Course, "title" | "slides" | "since"> &
  Readonly<{ outcome: string; items: number; outline: string }>;

/** The course on the open file, made once: it is shown first and may be saved later. */
const courseIn = async (
  bench: Bench,
  { options, outline, older }: CourseAsked,
  tell: (line: string) => void,
): Promise<Course> => {
  const evidence = openFile(bench);
  const key = `${evidence.source.fingerprint} ${JSON.stringify(options)} ${older === undefined ? "" : hashed(older.bytes)} ${outline}`;
  if (bench.course?.key !== key)
    bench.course = {
      key,
      course: await courseOn(evidence, {
        outline: outline === "" ? defaultOutline : readOutline(outline),
        shared: options,
        ...(older === undefined ? {} : { since: await olderOnPage(older) }),
        tell,
        help: bench.help,
      }),
    };
  return bench.course.course;
};

/** The slides with their notes, and the outline as it was read. */
export const courseJob: Job<CourseAsked, CourseMade> = async (bench, asked, tell) => {
  const { title, slides, since, lead, quiz, outline } = await courseIn(bench, asked, tell);
  return {
    title,
    slides,
    ...(since === undefined ? {} : { since }),
    outcome: lead.label,
    items: quiz.length,
    outline: outlineText(outline),
  };
};

const printing =
  "A page cannot print by itself: open slides, notes, handout, quiz and key in a browser and print each as PDF; sizes and pages are set.\n";

/** The whole course as one file, with the files that the command line writes but its PDFs. */
export const courseFilesJob: Job<
  CourseAsked &
    Readonly<{
      file: OpenFile;
      type: string;
      /** Slides as SVG by the id of their figure. */
      drawings: Readonly<Record<string, string>>;
      /** SVG and PNG of each slide by their names in the folder. */
      pictures: Readonly<Record<string, string | Uint8Array>>;
    }>,
  Uint8Array<ArrayBuffer>
> = async (bench, { file, type, drawings, pictures, ...asked }, tell) => {
  const course = await courseIn(bench, asked, tell);
  tell("packing");
  // A name out of a project leads nowhere but into this folder.
  const tables = partsOf(file).map(({ name, bytes }) => ({
    name: name.replace(/^.*[\\/]/, ""),
    bytes,
  }));
  const folder: Zippable = { "to-print.txt": strToU8(printing) };
  const drawn = (id: string): string => withoutType(drawings[id] ?? "");
  const names = tables.map(({ name }) => name);
  for (const { name, content } of courseFiles(course, drawn, type, names))
    folder[name] = strToU8(content);
  for (const { name, bytes } of tables) folder[`quiz/data/${name}`] = bytes;
  for (const [name, content] of Object.entries(pictures))
    // A PNG is packed already.
    folder[name] =
      typeof content === "string" ? strToU8(content) : [content, { level: 0 as const }];
  // The same course gives the same bytes: the date is the first that a zip holds wherever one is.
  return zipSync(folder, { mtime: "1980-01-02" });
};
