/** What the file holds, and every effect made of it. */
import { contrastOption } from "../answers/effect-options.js";
import { valueLabel } from "../answers/option.js";
import type { Answer } from "../answers/answer.js";
import { folded, type Table } from "../tables/table.js";
import { askedContrasts, gainContrast } from "./pooled-parts.js";
import { showing, type PartMaker, type PlacedAnswer } from "./report-part.js";

/** The file: what became of its rows, its problems, and what has been studied. */
export const dataPart: PartMaker = async (ask) => ({
  id: "data",
  title: "The data",
  lead: [],
  appendix: true,
  answers: [{ id: "check", title: "The file", answer: rareFolded(await ask("check")) }],
});

/** Reasons that are read; rarer ones are looked up. */
const mostReasons = 12;

/** How often each column is coded, and rare fates of rows, are looked up, not read. */
const rareFolded = <Told extends Pick<Answer, "tables">>(answer: Told): Told => ({
  ...answer,
  tables: answer.tables.flatMap((table) => {
    if (table.id === "completeness") return [folded(table)];
    const { length } = table.rows;
    return table.id !== "row-fates-counted" || length <= mostReasons
      ? [table]
      : [
          {
            ...table,
            id: "row-fates-most",
            title: `${table.title}: the ${mostReasons} first of ${length} fates`,
            rows: table.rows.slice(0, mostReasons),
            notes: [],
          },
          folded(table),
        ];
  }),
});

/** The file on one page. */
export const briefPart: PartMaker = async (ask) => ({
  id: "brief-told",
  title: "Brief",
  lead: [],
  answers: [
    {
      id: "brief-answer",
      title: "What to prescribe",
      answer: await ask("brief", { contrast: await gainContrast(ask) }),
    },
  ],
});

/** What is new since an older file or report, where one is given. */
export const changesPart: PartMaker = async (ask, { since: older, statements, decisions }) =>
  older === undefined
    ? undefined
    : {
        id: "new",
        title: "What is new",
        lead: [],
        answers: [
          {
            id: "changes",
            title: `Since ${older.source.name}`,
            answer: await ask("changes", {
              ...{ older, statements, decisions },
              contrast: await gainContrast(ask),
            }),
          },
        ],
      };

/** Statements that people teach, where a file of them is given: which of them stand. */
export const statementsPart: PartMaker = async (ask, { statements }) =>
  statements === undefined
    ? undefined
    : {
        id: "statements",
        title: "Statements put to the test",
        lead: [],
        answers: [
          {
            id: "statements-told",
            title: "Which of them stand",
            answer: await ask("statements", { statements }),
          },
        ],
      };

/** Every study with its arms, outcomes and reference. */
export const studiesPart: PartMaker = async (ask) => ({
  id: "studies",
  title: "Included studies",
  lead: [],
  answers: [{ id: "studies-told", title: "Studies", answer: await ask("studies") }],
});

/** How sure each finding is, and by which rules that is proposed. */
export const surePart: PartMaker = async (ask, { decisions }) => {
  const answers: PlacedAnswer[] = [];
  for (const contrast of await askedContrasts(ask)) {
    if (contrast === "between-arms") continue;
    const answer = await ask("certainty", { contrast, decisions });
    const again = answers.length > 0;
    answers.push({
      id: `certainty-${contrast}`,
      title: `How sure, ${valueLabel(contrastOption, contrast)}`,
      answer: {
        ...answer,
        // The rules stand once, and open.
        tables: answer.tables.flatMap(({ place, ...table }) =>
          table.id === "certainty-rules"
            ? again
              ? []
              : [table]
            : place === "folded"
              ? []
              : [table],
        ),
      },
    });
  }
  return answers.length === 0
    ? undefined
    : { id: "certainty", title: "How sure", lead: [], answers };
};

/** Whether small studies show larger effects, and, where asked for, what each study left out would change. */
export const doubtsPart: PartMaker = async (ask, wishes) => ({
  id: "doubts",
  title: "Doubts",
  lead:
    wishes.full === true
      ? []
      : [
          "Each study left out in turn, and every way to analyse an average, are part of the full report (--full), and of the questions influence and sweep.",
        ],
  answers: [
    {
      id: "small-studies",
      title: "Small and large studies",
      answer: showing(await ask("small-studies"), [], wishes),
    },
    ...(wishes.full === true
      ? [
          { id: "influence", title: "Each study left out in turn", answer: await ask("influence") },
          {
            id: "sweep",
            title: "Every way to analyse it",
            answer: await ask("sweep", { contrast: await gainContrast(ask) }),
          },
        ]
      : []),
  ],
});

/** What trial would settle what is open, and a map of what nobody knows: simulated, so only where all is asked for. */
export const settlePart: PartMaker = async (ask, { full }) =>
  full !== true
    ? undefined
    : {
        id: "settle-told",
        title: "What trial would settle it",
        lead: [],
        appendix: true,
        answers: [
          {
            id: "settle",
            title: "Further trials",
            answer: await ask("settle", { contrast: await gainContrast(ask) }),
          },
        ],
      };

/** Tables that the pooled answers show group by group already are written beside the page. */
const beside = (table: Table): Table =>
  table.id.startsWith("effects-") ? { ...table, place: "file" } : table;

/** Every effect with what was assumed for it, contrast by contrast. */
export const effectsPart: PartMaker = async (ask) => {
  const answers = [];
  for (const contrast of await askedContrasts(ask)) {
    const answer = await ask("effects", { contrast });
    answers.push({
      id: `effects-${contrast}`,
      title: `Effects ${valueLabel(contrastOption, contrast)}`,
      answer: { ...answer, tables: answer.tables.map(beside) },
    });
  }
  return {
    id: "effects",
    title: "From rows to effects, and what was assumed",
    appendix: true,
    lead: ["Every effect stands with its route in tables/effects-….csv."],
    answers,
  };
};
