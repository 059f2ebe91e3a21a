/** The brief: what to prescribe, how sure, what nobody has tested, on one page of its own. */
import { goalOrderWords } from "../answers/brief.js";
import type { AnswerTo } from "../answers/question.js";
import type { QuestionOf } from "../answers/question-list.js";
import { holdbookVersion } from "../answers/version.js";
import type { Figure } from "../figures/figure.js";
import { drawnFigures } from "../figures/figure-list.js";
import { escapeHtml } from "../tables/escape-html.js";
import { capital } from "../tables/number-format.js";
import { citationSentence } from "./citation-sentence.js";
import { reportCautions } from "./report-cautions.js";
import { answersTo, type Report } from "./report-part.js";

type Brief = AnswerTo<QuestionOf<"brief">>;

/** Goals that fit on one page; what is beyond is named. */
const goalsOnAPage = 5;

const paragraph = (text: string, kind = ""): string =>
  text === "" ? "" : `<p${kind === "" ? "" : ` class="${kind}"`}>${escapeHtml(text)}</p>`;

/** One row of the page: its name at the left, what is said of it at the right. */
const row = (name: string, said: readonly string[]): string =>
  `<div class="goal"><h3>${escapeHtml(name)}</h3><div>${said.join("\n")}</div></div>`;

const goalRows = ({ data: { goals, withoutAverage, untested } }: Brief): readonly string[] => {
  const more = [
    ...goals.slice(goalsOnAPage).map(({ outcome }) => outcome),
    ...withoutAverage.map((outcome) => `${outcome} (no average)`),
  ];
  return [
    ...goals
      .slice(0, goalsOnAPage)
      .map(({ outcome, prescribe, gains, sure, missing }) =>
        row(capital(outcome), [
          paragraph(prescribe, "headline"),
          paragraph(gains.join(" ")),
          paragraph(`How sure: ${sure}${missing === null ? "" : ` ${missing}`}`, "quiet"),
        ]),
      ),
    ...(more.length === 0
      ? []
      : [
          row("Also in the file", [
            paragraph(
              `${capital(more.join("; "))}.${goals.length > goalsOnAPage ? ` ${goalOrderWords}.` : ""}`,
              "quiet",
            ),
          ]),
        ]),
    ...(untested.length === 0 ? [] : [row("Nobody has tested", [paragraph(untested.join(" "))])]),
  ];
};

/**
 * The brief of a report as one section of HTML; nothing where it was lost.
 *
 * @param drawn a figure as HTML, or nothing where it was not drawn
 */
export const briefHtml = (report: Report, drawn: (figure: Figure) => string): string => {
  const [answer] = answersTo(report, "brief");
  if (answer === undefined) return "";
  const { data, figures, cautions } = answer;
  // One that takes several pages is too long for one; its first page would be a part.
  const those = (isSession: boolean): string =>
    figures
      .filter(({ name }) => (name === "sessions") === isSession)
      .map(drawnFigures)
      .flatMap((pages) => (pages.length === 1 ? pages : []))
      .map(drawn)
      .join("");
  const signs = cautions?.stopSigns;
  return [
    `<section id="brief" class="brief">`,
    paragraph(
      `Brief · isometric training · ${report.source.name} · Holdbook ${holdbookVersion}`,
      "kicker",
    ),
    `<h2>What to prescribe, how sure, and what nobody has tested</h2>`,
    ...(data.refusal === null ? goalRows(answer) : [paragraph(answer.headline, "headline")]),
    `<div class="pair">${those(false)}</div>`,
    `<div class="pair"><div>${those(true)}${paragraph(data.session ?? "", "quiet")}</div><div><h3>Cautions</h3>`,
    paragraph(
      signs === undefined
        ? ""
        : `${signs.title}: ${signs.signs.join("; ")}. Ask a clinician with any condition, symptom or doubt. Nothing here is a clearance; local rules come first.`,
    ),
    paragraph(reportCautions[1] ?? "", "quiet"),
    `</div></div>`,
    paragraph(`${data.counts}. How to cite: ${citationSentence(report.source)}`, "foot quiet"),
    `</section>`,
  ].join("\n");
};
