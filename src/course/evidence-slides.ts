/** Slides on the file as a whole: what was studied, one effect by hand, the average, its doubts, what nobody knows, sources. */
import type { NamedText } from "../figures/lines-figure.js";
import { sentencesOf } from "../figures/wrap-text.js";
import { readingList } from "../report/references.js";
import { reportCautions } from "../report/report-cautions.js";
import { capital, counted, formatNumber } from "../tables/number-format.js";
import {
  averageOf,
  firstSentence,
  plainAnswer,
  shownValue,
  type Setting,
  type SlideDraft,
  type SlideMaker,
} from "./slide.js";
import { readingLines } from "./reading.js";

/** The average of the kind of outcome spoken about, in its own words. */
const gains = ({ brief, lead }: Setting): readonly string[] =>
  brief.data.goals.find(({ id }) => id === lead.id)?.gains ?? [];

export const studiedSlide: SlideMaker = async ({ ask, evidence }) => {
  const answer = await ask("check");
  const { rows } = evidence.records;
  const coded = rows.filter(({ intensityPercent }) => intensityPercent !== undefined).length;
  const held = rows.filter(({ holdSeconds }) => holdSeconds !== undefined).length;
  const studies = new Set(rows.map(({ study }) => study)).size;
  return {
    figure: answer.figures.find(({ name }) => name === "evidence-map"),
    lines: [
      { name: "Rows", text: answer.data.counts },
      { name: "Intensity", text: `Coded on ${coded} of ${counted(rows.length, "row")}.` },
      { name: "Hold length", text: `Coded on ${held} of ${counted(rows.length, "row")}.` },
    ],
    message: `${counted(studies, "paper")}, ${counted(rows.length, "row")}: what was studied`,
    answer: plainAnswer(answer),
    notes: {
      say: answer.headline,
      number: `${answer.data.counts}.`,
      asked: `On how many of ${rows.length} rows are intensity and hold length coded at all?`,
      reply: `Intensity on ${coded} and hold length on ${held} of ${rows.length}.`,
      trap: `${rows.length - Math.min(coded, held)} of ${rows.length} rows lack one of the two: what is not coded is missing from the map, which does not mean that it was not done.`,
    },
  };
};

/** One effect of the file from the printed numbers to the percentage. */
export const byHandSlide: SlideMaker = async ({ ask, lead }) => {
  const answer = await ask("made", { outcome: lead.id });
  const { effect } = answer.data;
  if (effect === null || effect === undefined)
    return {
      message: `No effect of ${lead.label} can be made by hand`,
      lines: [{ name: "Why", text: answer.headline }],
      answer: plainAnswer(answer),
      notes: {
        say: answer.headline,
        number: answer.headline,
        asked: `What does a row of ${lead.label} lack?`,
        reply: answer.headline,
        trap: answer.headline,
      },
      told: false,
    };
  const [column] = effect.printed.columns.slice(2);
  const printed = effect.printed.rows.map(
    (row) => `${row["title"]!.toLowerCase()} ${row[column!.key]!}`,
  );
  const steps = effect.working?.arms.flatMap(({ steps: own }) => own) ?? [];
  const last = steps.at(-1);
  return {
    message: `By hand: ${effect.name}: ${effect.shown}`,
    lines: [
      { name: "As printed", text: `${capital(printed.join("; "))}.` },
      ...steps.map(({ formula, numbers, result }) => ({
        name: formula,
        text: numbers === result ? result : `${numbers} = ${result}`,
      })),
    ],
    caption: effect.route,
    answer: plainAnswer(answer),
    notes: {
      say: `${effect.name} comes to ${effect.shown}: ${effect.route}.`,
      number: effect.shown,
      asked: `Where are the numbers behind ${effect.shown} printed?`,
      reply: `${effect.source}, ${effect.place}.`,
      trap:
        effect.notes[0] ??
        (last === undefined
          ? `${effect.route}: the row prints no means to check it by.`
          : `To stop before the last step: ${last.formula} gives ${last.result}.`),
    },
  };
};

export const averageSlide: SlideMaker = async (setting) => {
  const { ask, lead, brief } = setting;
  const answer = await ask("pool", { outcome: lead.id });
  const goal = brief.data.goals.find(({ id }) => id === lead.id);
  const [before = answer.headline, against] = gains(setting);
  const range = answer.sentences.find((one) => one.includes("ange of a further study"));
  return {
    figure: answer.figures.find(({ name }) => name === "estimates"),
    message:
      answer.data.refusal === null ? undefined : `${capital(lead.label)}: no average over studies`,
    lines: [{ name: "Why", text: answer.headline }],
    answer: plainAnswer(answer),
    notes: {
      say: answer.headline,
      number: before,
      asked: `Where would one more study fall beside these ${averageOf(setting)?.studies ?? 0}?`,
      reply: range ?? goal?.sure ?? answer.headline,
      trap:
        against === undefined
          ? `To call this the gain from training: ${before} No average of ${lead.label} against no exercise stands beside it.`
          : `To call this the gain from training: ${before} ${against}`,
    },
    told: answer.data.refusal === null,
  } as SlideDraft;
};

/** Some sentences of an answer on the kind of outcome spoken about, which the slide names already. */
const withoutName = (text: string, { label }: Setting["lead"], sentences = 1): string => {
  const said = sentencesOf(text).slice(0, sentences).join(" ");
  return said.startsWith(capital(label)) ? capital(said.replace(/^[^:]*: /, "")) : said;
};

/** How certain the average is: its rating, every way to analyse it, each study left out, small studies, and what more trials would do. */
export const sureSlide: SlideMaker = async (setting) => {
  const { ask, lead, brief, pool, evidence } = setting;
  const { label, id: outcome } = lead;
  const own = averageOf(setting);
  const influence = await ask("influence", { outcome });
  const small = await ask("small-studies", { outcome });
  const goal = brief.data.goals.find(({ id }) => id === outcome);
  const sure = goal?.sure ?? (await ask("pool", { outcome })).headline;
  const settled = await ask("settle", { on: "average" });
  const of = capital(label);
  const [group] = influence.data.groups;
  const trials = settled.headline.startsWith(of)
    ? [{ name: "Further trials", text: withoutName(settled.headline, lead) }]
    : [];
  const smallLine = {
    name: "Small studies",
    text: withoutName(small.headline, lead).replace(/ \(slope .*\)/, ""),
  };
  if (own === undefined)
    return {
      message: `${of}: no average of ${evidence.source.name} to be sure of`,
      lines: [
        { name: "The average", text: sure },
        smallLine,
        ...trials,
        ...(goal === undefined || goal.missing === null
          ? []
          : [{ name: "Missing", text: goal.missing }]),
      ],
      answer: plainAnswer(influence),
      notes: {
        say: sure,
        number: trials[0]?.text ?? sure,
        asked: `What keeps ${evidence.source.name} from an average of ${label}?`,
        reply: firstSentence(sure),
        trap: small.headline,
      },
      told: false,
    };
  const rated = await ask("certainty", { outcome });
  const swept = await ask("sweep", { outcome });
  const certainty = rated.data.groups.find(({ id }) => id === outcome)?.certainty;
  return {
    message: `${of}, ${shownValue(own, pool)}: ${certainty === undefined || certainty === null ? "how certain cannot be told" : `certainty is ${certainty}`}`,
    lines: [
      { name: "Certainty", text: withoutName(rated.headline, lead) },
      { name: "The average", text: sure },
      { name: "Ways to analyse", text: withoutName(swept.headline, lead) },
      { name: "Without one study", text: withoutName(influence.headline, lead, 2) },
      smallLine,
      ...trials,
    ],
    answer: plainAnswer(rated),
    notes: {
      say: rated.headline,
      number: `${sure} ${swept.headline}`,
      asked: `Which of ${own.studies} studies moves the average most when it is left out?`,
      reply:
        group === undefined || !("movesMost" in group) || group.movesMost === null
          ? influence.headline
          : `${group.movesMost}.${group.restsOn.length === 0 ? "" : ` The conclusion rests on ${group.restsOn.join(", ")}.`}`,
      trap: small.headline,
    },
  };
};

/** Statements that are taught, put to the test: those a file can say something to, and how many it cannot. */
export const statementsSlide: SlideMaker = async ({ ask, evidence }) => {
  const answer = await ask("statements");
  const { statements } = answer.data;
  const told = statements
    .map((one) => ({
      ...one,
      said: answer.sentences.find((text) => text.includes(one.statement)) ?? one.statement,
    }))
    .filter(
      ({ verdict, studies = 0, about }) =>
        verdict !== null &&
        verdict !== "not testable with this file" &&
        studies > 0 &&
        !(about ?? "").includes("not by this file"),
    )
    .sort((a, b) => verdictOrder.indexOf(a.verdict!) - verdictOrder.indexOf(b.verdict!));
  const of = counted(statements.length, "statement");
  const [first] = told;
  return {
    message: `Of ${of}, ${evidence.source.name} can say something to ${told.length}`,
    lines:
      told.length === 0
        ? [
            {
              name: "Not testable",
              text: `${of} of common practice; ${evidence.source.name} bears on none.`,
            },
          ]
        : told.map(({ verdict, said, statement, ...trials }) => ({
            name: capital(verdict!),
            text:
              told.length <= mostInFull
                ? said.slice(verdict!.length + 2)
                : `${statement} ${(["for", "against", "silent"] as const).map((side) => `${trials[side]?.length ?? 0} ${side}`).join(", ")}.`,
          })),
    answer: plainAnswer(answer),
    notes: {
      say: answer.headline,
      number: first?.said ?? answer.headline,
      asked: `Why does ${evidence.source.name} say nothing to ${statements.length - told.length} of ${of}?`,
      reply: answer.headline,
      trap: `To teach a statement because it is not refuted: ${statements.length - told.length} of ${of} cannot be tested by ${evidence.source.name}.`,
    },
    told: told.length > 0,
  };
};

/** Statements that are told in full beside one another. */
const mostInFull = 3;

/** What says most first. */
const verdictOrder: readonly string[] = ["supported", "against", "mixed", "undecided"];

/** What no trial of the file compared, and how far its people and weeks reach. */
export const gapLines = ({ data }: Setting["brief"]): readonly NamedText[] => [
  ...data.untested.map((text, at) => ({ name: at === 0 ? "Nobody knows" : "", text })),
  ...(data.withoutAverage.length === 0
    ? []
    : [{ name: "No average", text: `${capital(data.withoutAverage.join("; "))}.` }]),
  ...data.goals.flatMap(({ outcome, missing }) =>
    missing === null ? [] : [{ name: capital(outcome), text: missing }],
  ),
];

/** Protocols that nobody studied for each goal, and what trials there would decide; the gaps themselves where none can be mapped. */
export const unknownSlide: SlideMaker = async ({ ask, brief, variables, evidence }) => {
  const { name } = evidence.source;
  const { untested, withoutAverage, goals } = brief.data;
  const [first = `${name} compares every variable that it codes.`] = untested;
  const settled = await ask("settle", { on: "average" });
  const { cells, people, several } = settled.data.notKnown;
  const empty = cells.filter(({ studies }) => studies === 0);
  const [best] = empty
    .filter(({ decides }) => decides !== null)
    .sort((a, b) => b.decides!.several - a.decides!.several);
  const wanted = variables.sentences.find((one) => one.startsWith("To read first"));
  const figure = settled.figures.find((one) => one.name === "not-known");
  return {
    figure,
    ...(figure === undefined
      ? {
          message: `What nobody knows: ${counted(untested.length + withoutAverage.length, "gap")} of ${name}`,
          lines: gapLines(brief),
        }
      : {}),
    answer: plainAnswer(settled),
    notes: {
      say: first,
      number:
        cells.length === 0
          ? (untested.at(-1) ?? first)
          : `Nobody studied ${empty.length} of ${counted(cells.length, "combination")} of intensity, hold length and goal.`,
      asked: `What should be read or tested next to fill the gaps of ${name}?`,
      reply:
        best === undefined
          ? (wanted ?? goals.find(({ missing }) => missing !== null)?.missing ?? first)
          : `${several} trials of ${people} a group at ${best.intensity} with holds of ${best.hold} would decide ${best.decides!.variable} for ${best.goal} with a chance of ${formatNumber(100 * best.decides!.several, { digits: 0 })}%.`,
      trap: `To take "not compared" for "no difference": ${first}`,
    },
  };
};

/** Cautions, the same wherever a session is named; beside them what this file adds. */
export const cautionsSlide: SlideMaker = ({ brief, evidence }) => {
  const block = brief.cautions;
  const signs = block?.stopSigns;
  const people = brief.data.untested.filter((one) => /Nobody|No group/.test(one));
  return Promise.resolve({
    message: `Cautions, before a session of ${evidence.source.name} is tried`,
    lines: [
      ...(signs === undefined ? [] : [{ name: signs.title, text: `${signs.signs.join("; ")}.` }]),
      { name: "Ask a clinician", text: reportCautions[0]! },
      { name: "Breathe", text: reportCautions[1]! },
      ...people.map((text, at) => ({ name: at === 0 ? "Beyond this file" : "", text })),
    ],
    answer: plainAnswer(brief),
    notes: {
      say: reportCautions[1]!,
      number: people.join(" ") || `${brief.data.counts}.`,
      asked: "Is this a clearance for a client?",
      reply: reportCautions[0]!,
      trap: reportCautions[4]!,
    },
  });
};

export const sourcesSlide: SlideMaker = ({ evidence }) => {
  const list = readingList(evidence.records.rows);
  const lines = readingLines(evidence.records.rows);
  const studies = new Set(evidence.records.rows.map(({ study }) => study)).size;
  return Promise.resolve({
    message: `${counted(studies, "study", "studies")} behind ${evidence.source.name}, and what each brings`,
    lines: lines.map(({ study, why }) => ({ name: study, text: why })),
    notes: {
      say: `${counted(list.references.length, "work")} stand behind ${counted(studies, "study", "studies")} of ${evidence.source.name}.`,
      number: `${counted(evidence.records.rows.length, "row")} of ${counted(studies, "study", "studies")}.`,
      asked: `Which of ${counted(list.references.length, "work")} should I read first?`,
      reply:
        lines[0] === undefined ? "The file names no work." : `${lines[0].study}: ${lines[0].why}`,
      trap:
        list.notes.map(({ message }) => `${capital(message)}.`).join(" ") ||
        `${evidence.source.name} gives a reference for each of its studies; read the paper before quoting its row.`,
    },
  });
};
