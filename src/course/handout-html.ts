/** The handout: four pages of A4, what to take home. */
import { escapeHtml } from "../tables/escape-html.js";
import { capital } from "../tables/number-format.js";
import { citationSentence } from "../report/citation-sentence.js";
import { reportCautions } from "../report/report-cautions.js";
import type { Course } from "./course.js";
import { gapLines } from "./evidence-slides.js";
import { paperOf } from "./notes-html.js";
import { documentHtml, fitting, paragraph, row, sheet, short } from "./paper.js";
import { readingLines } from "./reading.js";

/** Goals, works and gaps that have room; what is beyond is counted. */
const mostGoals = 5;
const mostWorks = 6;
const mostLines = 6;

/** Words of the trade on the handout; the same in every course. */
export const definitions: readonly (readonly [string, string])[] = [
  ["Interval", "Where the average of such studies lies, given these studies and the assumptions."],
  [
    "Range of a further study",
    "Where one more study of the kind would fall; wider, as studies differ.",
  ],
  ["Before to after", "The change of those who trained, with practice at the test in it."],
  ["Against no exercise", "The same less the change of people who did not train."],
  [
    "Inside studies",
    "Doses compared between groups of one study, which chance may have made alike.",
  ],
  ["Between studies", "Studies of one dose against studies of another, which differ in much else."],
  ["Cannot be told", "Nobody compared it, or too few did; another thing than no difference."],
];

/** Lines that page one has for what single trials compared, and that each goal above them takes. */
const linesForTrials = 37;
const linesOfGoal = 14;

/** Slides on what a dose does. */
const onDoses = [
  ...["within-between", "intensity", "hold-length", "equal-tension"],
  ...["joint-angle", "weeks", "compare"],
];

/** Slides whose pictures stand on the second page. */
const pictured = ["average", "intensity", "hold-length", "compare", "held", "within-between"];

/** The rows of lines that a slide shows, where it is no drawing. */
const linesOf = ({ slides }: Course, id: string) => {
  const figure = slides.find((slide) => slide.id === id)?.figure;
  return figure?.name === "lines" ? figure.data.rows : [];
};

/** The handout of a course, always four pages. */
export const handoutHtml = (course: Course, drawn: (id: string) => string, type = ""): string => {
  const { title, brief, slides, evidence } = course;
  const paper = paperOf(course);
  const { goals, withoutAverage, counts } = brief.data;
  const byHand = slides.find(({ id }) => id === "by-hand");
  const works = readingLines(evidence.records.rows);
  const pictures = pictured
    .flatMap((id) => slides.find((slide) => slide.id === id) ?? [])
    .slice(0, 6);
  const pages = [
    [
      `<p class="kicker">Handout · isometric dosing</p>`,
      `<h1>${escapeHtml(title)}</h1>`,
      paragraph(`${counts}.`, "quiet"),
      ...goals
        .slice(0, mostGoals)
        .flatMap(({ outcome, prescribe, gains, sure }) => [
          `<h2>${escapeHtml(capital(outcome))}</h2>`,
          paragraph(short(prescribe, 420)),
          paragraph(gains.join(" ")),
          paragraph(short(`How sure: ${sure}`, 360), "quiet"),
        ]),
      ...(goals.length > 0 ? [] : [paragraph(brief.headline)]),
      ...(goals.length > 2
        ? []
        : [
            `<h2>What single trials compared</h2>`,
            ...fitting(
              slides
                .filter(({ id, told }) => !told && onDoses.includes(id))
                .map(({ message, notes }) => ({
                  name: message.split(":")[0]!,
                  text: short(notes.number, 210),
                })),
              linesForTrials - linesOfGoal * goals.length,
              "on the slides",
            ),
          ]),
      ...(withoutAverage.length + Math.max(0, goals.length - mostGoals) === 0
        ? []
        : [
            paragraph(
              short(
                `Also in the file: ${[...goals.slice(mostGoals).map(({ outcome }) => outcome), ...withoutAverage].join("; ")}.`,
                300,
              ),
              "quiet",
            ),
          ]),
    ],
    [
      `<h1>Six pictures</h1>`,
      `<div class="pair">`,
      ...pictures.map(
        ({ figure, notes }) =>
          `<div><div class="picture">${drawn(figure.data.id)}</div>${paragraph(short(notes.number, 230), "tight")}</div>`,
      ),
      `</div>`,
    ],
    [
      `<h1>${escapeHtml(byHand?.message ?? "One trial by hand")}</h1>`,
      ...linesOf(course, "by-hand").map(({ name, text }) => row(name, short(text, 300))),
      paragraph(byHand?.notes.reply ?? "", "quiet"),
      `<h2>Now you: another row of the file</h2>`,
      row("Before, after", "") + `<div class="blank"></div>`,
      row("Change in percent", "") + `<div class="blank"></div>`,
      row("Logarithm of the ratio", "") + `<div class="blank"></div>`,
      `<h2>Words</h2>`,
      ...definitions.map(([name, text]) => row(name, text)),
    ],
    [
      `<h1>What nobody knows</h1>`,
      ...gapLines(brief)
        .slice(0, mostLines)
        .map(({ name, text }) => row(name, short(text, 190))),
      `<h2>Cautions</h2>`,
      ...reportCautions.slice(0, 2).map((one) => paragraph(one, "tight")),
      ...(brief.cautions?.stopSigns === undefined
        ? []
        : [
            paragraph(
              `${brief.cautions.stopSigns.title}: ${brief.cautions.stopSigns.signs.join("; ")}.`,
              "tight",
            ),
          ]),
      `<h2>To read</h2>`,
      ...works.slice(0, mostWorks).map(({ study, why }) => row(study, short(why, 110))),
      ...(works.length > mostWorks
        ? [paragraph(`${works.length - mostWorks} more in reading.md.`, "quiet")]
        : []),
      paragraph(`To cite: ${citationSentence(evidence.source)}`, "quiet"),
    ],
  ];
  return documentHtml(
    `Handout: ${title}`,
    pages.map((page, place) => sheet(paper, page, `Page ${place + 1} of ${pages.length}`)),
    { type },
  );
};
