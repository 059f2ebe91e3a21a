/** What the doses of training have to say: which variables matter, curves, and three questions of their own. */
import type { Answer } from "../answers/answer.js";
import type { DoseTold } from "../answers/one-dose.js";
import { contrastOption } from "../answers/effect-options.js";
import { valueLabel } from "../answers/option.js";
import { capital } from "../tables/number-format.js";
import { folded, type Table } from "../tables/table.js";
import { askedContrasts, gainContrast } from "./pooled-parts.js";
import {
  showing,
  type Ask,
  type PartMaker,
  type PlacedAnswer,
  type ReportWishes,
} from "./report-part.js";

/** The gain asked for, where the file has it, else the first there is: in each, every arm has its own dose. */
const doseContrast = async (ask: Ask) => {
  const wished = await gainContrast(ask);
  const found = (await askedContrasts(ask)).filter((one) => one !== "between-arms");
  return found.find((one) => one === wished) ?? found[0];
};

/** Of a file that holds many kinds of outcome the figures of the first three; what single trials compared is looked up. */
const firstFigures = <Told extends Pick<Answer, "figures" | "tables">>(
  answer: Told,
  { allFigures }: ReportWishes,
): Told =>
  allFigures === true
    ? answer
    : {
        ...answer,
        figures: answer.figures.slice(0, 3),
        tables: answer.tables.map((table) => (isOfDoses(table) ? table : folded(table))),
      };

/** The table of protocol variables, one for each kind of outcome, with the rules of its verdicts. */
export const variablesPart: PartMaker = async (ask, wishes) => {
  const contrast = await doseContrast(ask);
  if (contrast === undefined) return undefined;
  const answer = firstFigures(await ask("variables", { contrast }), wishes);
  // Where nothing is pooled, what single trials compared is still drawn.
  return answer.data.refusal !== null && answer.figures.length === 0
    ? undefined
    : {
        id: "variables",
        title: "Which variables matter",
        lead: [],
        answers: [
          { id: "variables-told", title: capital(valueLabel(contrastOption, contrast)), answer },
        ],
      };
};

/** Families whose curves are drawn, and how many curves of each at most. */
const curvesOf: Readonly<Record<string, number>> = { strength: 2, size: 2, tendon: 1 };

/** The doses drawn: those compared inside studies, or the first one told between studies where there is none. */
const drawnDoses = (told: readonly DoseTold[], most: number): readonly DoseTold[] => {
  const inside = told.filter(({ evidence }) => evidence === "within studies").slice(0, most);
  return inside.length > 0 || most === 0
    ? inside
    : told.filter(({ evidence }) => evidence === "between studies only").slice(0, 1);
};

/** Whether a table is not that of single trials, which stands with the variables. */
const isOfDoses = ({ id }: Table): boolean => !id.startsWith("single-trials");

/** How the gain follows the doses that the file can tell most about, and what it cannot tell. */
export const dosePart: PartMaker = async (ask) => {
  const contrast = await doseContrast(ask);
  if (contrast === undefined) return undefined;
  const overview = await ask("dose", { contrast });
  const answers: PlacedAnswer[] = [];
  // Tables that only say what is missing are looked up, not read.
  const silent = new Set(
    overview.data.groups
      .filter(({ told }) => (told ?? []).every(({ evidence }) => evidence !== "within studies"))
      .map(({ id }) => `${id}-doses-told`),
  );
  for (const { id, outcome, family, testMode, told } of overview.data.groups) {
    const most = testMode === "isometric" ? (curvesOf[family] ?? 0) : 0;
    for (const { axis, label } of drawnDoses(told ?? [], most)) {
      const answer = await ask("dose", { contrast, outcome: id, on: [axis] });
      if (answer.data.refusal !== null) continue;
      const figures = answer.figures.filter(({ name }) => name === "dose-curve");
      answers.push({
        id: `dose-${id}-${axis}`,
        title: `${capital(outcome)} and ${label}`,
        answer: { ...answer, figures, tables: answer.tables.filter(isOfDoses) },
      });
    }
  }
  return {
    id: "dose-response",
    title: "How the gain follows the dose",
    lead: [
      answers.length === 0
        ? "No dose of this file can be set against the gain; the tables say what is missing for each."
        : "Curves are drawn for the doses that the most studies compare between their own arms; doses that only tell studies apart come after them, because such studies differ in much else. The tables at the end say what there is for every dose.",
    ],
    answers: [
      ...answers,
      {
        id: "doses-told",
        title: "What the file can tell about each dose",
        answer: {
          ...overview,
          figures: overview.figures.filter(({ name }) => name === "doses-together").slice(0, 1),
          tables: overview.tables
            .filter(isOfDoses)
            .map((table) => (silent.has(table.id) ? folded(table) : table)),
        },
      },
    ],
  };
};

/** Four questions of their own: holding against moving, carry-over between joint angles, the course over weeks, equal tension otherwise. */
export const specialQuestionsPart: PartMaker = async (ask, wishes) => {
  const contrast = await doseContrast(ask);
  if (contrast === undefined) return undefined;
  const moving = await ask("isometric-or-dynamic");
  const answers: readonly PlacedAnswer[] = [
    // Of a file in which every arm held there is nothing to say.
    ...(moving.data.groups.length === 0
      ? []
      : [
          {
            id: "isometric-or-dynamic",
            title: "Isometric or dynamic",
            answer: showing(
              firstFigures(moving, wishes),
              ["estimates", "single-trials"],
              wishes,
              1,
            ),
          },
        ]),
    {
      id: "joint-angle",
      title: "Carry-over between joint angles",
      answer: showing(await ask("joint-angle", { contrast }), ["joint-angle"], wishes, 1),
    },
    {
      id: "time",
      title: "The course over the weeks",
      answer: showing(await ask("time", { contrast }), ["time-course"], wishes, 1),
    },
    {
      id: "equal-tension",
      title: "Equal tension, given otherwise",
      answer: showing(await ask("equal-tension", { contrast }), ["equal-tension"], wishes, 2),
    },
  ];
  return moving.data.groups.length === 0 &&
    answers.every(({ answer }) => answer.figures.length === 0)
    ? undefined
    : {
        id: "special-questions",
        title: "Isometric or dynamic, equal tension, joint angle, time",
        lead: [
          "Do groups that held gain more than groups that moved? Does the same work do the same when it is given in longer holds, or at a higher intensity? How far does a gain carry over to angles that were not trained? How does it grow over the weeks? Each is asked inside studies only; where a file cannot answer, that is the answer.",
        ],
        answers,
      };
};
