/** Slides on what trials say of a dose: each variable, its single trials where nothing can be pooled, angle and weeks. */
import type { Answer } from "../answers/answer.js";
import {
  comparedVariables,
  variableLabel,
  type ComparedVariable,
} from "../answers/compared-variables.js";

import type { TrialComparison } from "../answers/trial-comparisons.js";
import { comparisonWords } from "../answers/trial-comparisons-shown.js";
import { fewestStudiesWithin } from "../dose/identifiability.js";
import type { VariableRow } from "../dose/variable-table.js";
import { grouped } from "../records/grouped.js";
import { doseSpan } from "../tables/dose-table.js";
import { capital, counted } from "../tables/number-format.js";
import { verdictWords } from "../tables/variables-table.js";
import {
  firstSentence,
  plainAnswer,
  shownValue,
  variableOf,
  type Setting,
  type SlideDraft,
  type SlideMaker,
} from "./slide.js";

/** A variable's slopes inside studies and between them, each with what stands behind it. */
const slopes = (row: VariableRow, setting: Setting): string => {
  const told = (one: VariableRow["within"], studies: number, where: string): readonly string[] =>
    one === undefined
      ? []
      : [`${where} ${counted(studies, "study", "studies")} ${shownValue(one, setting.variables)}`];
  const parts = [
    ...told(row.within, row.studiesWithin, "inside"),
    ...told(row.between, row.studies, "between"),
  ];
  const reach = row.compared ?? row.span;
  return parts.length === 0
    ? `${capital(row.axis.label)}: no slope.`
    : `${capital(row.axis.label)}${reach === undefined || row.axis.kind === "levels" ? "" : `, ${doseSpan(row.axis, reach)}`}: ${parts.join("; ")}.`;
};

/** How many studies compared a variable in their own arms, as a student asks it. */
const asksHowMany = (setting: Setting, name: string) => {
  const row = variableOf(setting, name);
  const label = row?.axis.label ?? name;
  return {
    asked: `How many of ${counted(row?.studies ?? 0, `${setting.lead.label} study`, `${setting.lead.label} studies`)} compared ${label} in their own arms?`,
    reply:
      row === undefined
        ? `None with a weight; ${fewestStudiesWithin} are needed for an average.`
        : `${row.studiesWithin} of ${row.studies}; ${fewestStudiesWithin} are needed. Verdict: ${verdictWords(row)}.`,
    trap:
      row === undefined
        ? `To set studies of ${setting.evidence.source.name} with much ${label} against others with little: they differ in people, muscles and tests too.`
        : `${slopes(row, setting)} Only what is inside studies is protected by their randomisation.`,
  };
};

/** What single trials compared of a variable, where the file as a whole cannot answer. */
export const trialsSlide = async (
  setting: Setting,
  variable: Exclude<ComparedVariable, "movement">,
  refused: string,
  answer: SlideDraft["answer"],
): Promise<SlideDraft> => {
  const { ask, lead } = setting;
  const label = variableLabel(variable);
  const trials = await ask("single-trials", { on: [variable] });
  const own = trials.data.groups.filter(({ id }) => id === lead.id);
  const group = own[0] ?? trials.data.groups[0];
  const comparisons = (group?.comparisons ?? []) as unknown as readonly TrialComparison[];
  const figure = trials.figures.find(
    ({ name, data }) =>
      name === "single-trials" && group !== undefined && data.family === group.outcome,
  );
  const words = comparisons.map((one) => `${comparisonWords(one)}.`);
  const found = `${counted(comparisons.length, "comparison")} in single trials`;
  const where = group === undefined || group.id === lead.id ? "" : `, of ${group.outcome}`;
  return {
    message:
      comparisons.length === 0
        ? `${capital(label)} and ${lead.label}: cannot be told, and no trial here compared it`
        : `${capital(label)} and ${lead.label}: cannot be told; ${found}${where}`,
    figure: comparisons.length === 0 ? undefined : figure,
    lines:
      words.length > 0
        ? comparisons.map((one) => ({
            name: one.study,
            text: comparisonWords(one)
              .slice(one.study.length)
              .replace(/^[,\s]+/, ""),
          }))
        : [
            { name: "Asked", text: firstSentence(refused) },
            {
              name: "Trained",
              text: trainedSpan(setting, variable),
            },
            {
              name: "Would tell",
              text: `${counted(fewestStudiesWithin, "trial")} that give two groups of one study different ${label}, all else equal.`,
            },
          ],
    answer: plainAnswer(comparisons.length === 0 && answer !== undefined ? answer : trials),
    notes: {
      say: refused,
      number: words[0] ?? trainedSpan(setting, variable),
      ...asksHowMany(setting, variable),
    },
    told: false,
  };
};

const trainedSpan = (setting: Setting, variable: string): string => {
  const row = variableOf(setting, variable);
  return row?.span === undefined
    ? `${counted(setting.evidence.records.rows.length, "row")} of ${setting.evidence.source.name}, none with two such groups.`
    : `${capital(row.axis.label)} of ${doseSpan(row.axis, row.span)} in ${counted(row.studies, "study", "studies")}, ${row.studiesWithin} of them in arms of their own.`;
};

/** A slide on one dose: its curve where arms of the same study carry it, otherwise the single trials. */
export const doseSlide =
  (variable: "intensityPercent" | "holdSeconds"): SlideMaker =>
  async (setting) => {
    const { ask, lead } = setting;
    const answer = await ask("dose", { outcome: lead.id, on: [variable] });
    const figure = answer.figures.find(({ name }) => name === "dose-curve");
    const enough = (variableOf(setting, variable)?.studiesWithin ?? 0) >= fewestStudiesWithin;
    if (answer.data.refusal !== null || figure === undefined || !enough)
      return trialsSlide(setting, variable, answer.headline, plainAnswer(answer));
    return {
      figure,
      answer: plainAnswer(answer),
      notes: {
        say: answer.headline,
        number: answer.sentences.find((one) => /\d+ effects? of/.test(one)) ?? answer.headline,
        ...asksHowMany(setting, variable),
      },
    };
  };

/** Which variables single trials compared in their own arms, where no slope can be had. */
const insideSlide = async (
  { ask, lead, evidence }: Setting,
  { headline, ...answer }: Answer,
): Promise<SlideDraft> => {
  const trials = await ask("single-trials", { on: comparedVariables });
  const all = trials.data.groups
    .filter(({ id }) => id === lead.id)
    .flatMap(({ comparisons }) => comparisons as unknown as readonly TrialComparison[]);
  const studies = new Set(all.map(({ study }) => study)).size;
  const byVariable = [...grouped(all, ({ label }) => label)].sort(
    ([, a], [, b]) => b.length - a.length,
  );
  const [first] = byVariable;
  return {
    message: `${capital(lead.label)}, inside studies: ${counted(byVariable.length, "variable")} compared, by ${counted(studies, "trial")} in all`,
    lines: byVariable.map(([label, own]) => ({
      name: capital(label),
      text: `${[...new Set(own.map(({ study }) => study))].join(", ")}; with other things alike in ${own.filter(({ alsoDiffer }) => alsoDiffer.length === 0).length} of ${own.length}.`,
    })),
    answer: { headline, ...answer },
    notes: {
      say: headline,
      number: `${counted(all.length, "comparison")} of ${counted(byVariable.length, "variable")} inside ${counted(studies, "trial")}.`,
      asked: `Which variable was compared inside most trials of ${evidence.source.name}?`,
      reply:
        first === undefined
          ? `None for ${lead.label}.`
          : `${capital(first[0])}, by ${[...new Set(first[1].map(({ study }) => study))].join(", ")}.`,
      trap: `To set the studies of ${evidence.source.name} against one another: ${fewestStudiesWithin} that compare a variable in their own arms are needed.`,
    },
    told: false,
  };
};

/** Inside studies against between them. */
export const withinBetweenSlide: SlideMaker = async (setting) => {
  const { ask, lead } = setting;
  const answer = await ask("variables", { outcome: lead.id });
  const rows = answer.data.rows.filter(({ family }) => family === lead.label);
  const most = [...rows].sort((a, b) => b.studiesWithin - a.studiesWithin)[0];
  const figure = answer.figures.find(({ name }) => name === "variables");
  if (figure === undefined || most === undefined) return insideSlide(setting, answer);
  return {
    figure,
    answer: plainAnswer(answer),
    notes: {
      say: answer.headline,
      number: slopes(most, setting),
      asked: `Which variable was compared inside most studies?`,
      reply: `${capital(most.axis.label)}, inside ${most.studiesWithin} of ${most.studies}: ${verdictWords(most)}.`,
      trap: `Of ${counted(rows.length, "variable")} here ${rows.filter(({ studiesWithin }) => studiesWithin < fewestStudiesWithin).length} rest on fewer than ${fewestStudiesWithin} studies inside; a hollow bar compares studies, not people drawn by lot.`,
    },
  };
};

export const equalTensionSlide: SlideMaker = async (setting) => {
  const { ask, lead } = setting;
  const answer = await ask("equal-tension", { outcome: lead.id });
  const figure = answer.figures.find(({ name }) => name === "equal-tension");
  if (answer.data.refusal !== null || figure === undefined)
    return trialsSlide(
      setting,
      "tensionTimePerSessionSeconds",
      answer.headline,
      plainAnswer(answer),
    );
  const [pairs] = answer.data.answers;
  return {
    figure,
    answer: plainAnswer(answer),
    notes: {
      say: answer.headline,
      number: answer.sentences[0] ?? answer.headline,
      asked: `How many pairs of equal tension time are there, and how many are alike otherwise?`,
      reply:
        pairs === undefined
          ? answer.headline
          : `${counted(pairs.pairs.length, "pair")} in ${counted(pairs.studies, "study", "studies")}; ${pairs.pairs.filter(({ alsoDiffer }) => alsoDiffer.length === 0).length} differ in nothing else that is coded.`,
      trap:
        pairs === undefined
          ? answer.headline
          : `${pairs.pairs.filter(({ alsoDiffer }) => alsoDiffer.length > 0).length} of these pairs differ in something else as well; equal tension is not equal work where intensity differs.`,
    },
  };
};

export const jointAngleSlide: SlideMaker = async (setting) => {
  const { ask, lead } = setting;
  const answer = await ask("joint-angle", { outcome: lead.id });
  const figure =
    answer.figures.find(({ name }) => name === "joint-angle") ??
    answer.figures.find(({ name }) => name === "test-angle");
  const lengths = answer.data.answers[0]?.answer.lengths ?? [];
  if (answer.data.refusal !== null || figure === undefined || lengths.length === 0)
    return trialsSlide(setting, "muscleLength", answer.headline, plainAnswer(answer));
  const behind = lengths
    .map(
      ({ muscleLength, effects, studies }) =>
        `${muscleLength}: ${counted(effects, "effect")} of ${counted(studies, "study", "studies")}`,
    )
    .join("; ");
  return {
    figure,
    answer: plainAnswer(answer),
    notes: {
      say: answer.headline,
      number: answer.sentences.find((one) => /muscle length trained/.test(one)) ?? behind,
      asked: "On how much does each width rest?",
      reply: `${capital(behind)}.`,
      trap: `A gain tested at one angle only says nothing of others: ${lengths.filter(({ studies }) => studies < fewestStudiesWithin).length} of ${counted(lengths.length, "training length")} here rest on fewer than ${fewestStudiesWithin} studies.`,
    },
  };
};

export const weeksSlide: SlideMaker = async (setting) => {
  const { ask, lead } = setting;
  const answer = await ask("time", { outcome: lead.id });
  const figure = answer.figures.find(({ name }) => name === "time-course");
  const [own] = answer.data.answers;
  if (answer.data.refusal !== null || figure === undefined || own?.answer.span === undefined)
    return trialsSlide(setting, "weeks", answer.headline, plainAnswer(answer));
  const { studies, people, span } = own.answer;
  return {
    figure,
    answer: plainAnswer(answer),
    notes: {
      say: answer.headline,
      number: answer.sentences[0] ?? answer.headline,
      asked: `How many studies measured more than once in training?`,
      reply: `${counted(studies, "study", "studies")} with ${people} people, from week ${span.first} to week ${span.last}.`,
      trap: `Before week ${span.first} and after week ${span.last} nobody measured; the line there is the model's, and no trial's.`,
    },
  };
};
