/** The whole file on one page: for each goal what to prescribe, how sure that is, and what nobody has tested. */
import * as z from "zod";
import type { VariableRow } from "../dose/variable-table.js";
import { fewestStudiesWithin } from "../dose/identifiability.js";
import type { Contrast } from "../effects/effect.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import { isTraining } from "../effects/match-comparator.js";
import type { NamedFigure } from "../figures/figure-list.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { familyNotCoded } from "../records/outcome-families.js";
import { prescriptionOf } from "../records/prescription-of.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { doseSpan, trustedFreedom } from "../tables/dose-table.js";
import { capital, counted, formatNumber } from "../tables/number-format.js";
import { verdictWords } from "../tables/variables-table.js";
import type { AnswerDraft } from "./answer.js";
import { noEffects } from "./average.js";
import { check } from "./check.js";
import { comparedVariables, notCoded, variableLabel } from "./compared-variables.js";
import { effectShape, gainContrastOption } from "./effect-options.js";
import { chosenRows, linesOf, type Evidence } from "./evidence.js";
import { pool } from "./pool.js";
import {
  averageWords,
  fewStudiesSentence,
  furtherStudySentence,
  groupHeadline,
  type PreparedGroup,
} from "./pool-words.js";
import { askedOf } from "./prepared.js";
import { question, type Options, type Tell } from "./question.js";
import { pooledContrasts } from "./row-fates.js";
import { judgedSession, sessionsFigures } from "./session.js";
import { trialComparisons, type TrialComparison } from "./trial-comparisons.js";
import { comparisonWords } from "./trial-comparisons-shown.js";
import { clearest, onePerPair } from "./trials-beside.js";
import { variables } from "./variables.js";

const briefShape = { ...effectShape, contrast: gainContrastOption };

/** What the file bears of one goal, each a sentence or two; what it cannot say is null. */
const goalSchema = z.object({
  id: z.string(),
  outcome: z.string(),
  /** What to prescribe, as far as doses were compared. */
  prescribe: z.string(),
  /** Gains, the one asked for first. */
  gains: z.array(z.string()),
  sure: z.string(),
  /** What is missing for more, and what a single trial compared. */
  missing: z.string().nullable(),
});
export type BriefGoal = z.infer<typeof goalSchema>;

/** Doses by which a programme is told. */
const programme = ["intensityPercent", "holdSeconds", "sessionsPerWeek", "weeks"];

const nameOf = ({ axis, compared, span }: VariableRow): string => {
  const reach = compared ?? span;
  return reach === undefined || axis.kind === "levels"
    ? axis.label
    : `${axis.label} (${doseSpan(axis, reach)})`;
};

const isUnsure = ({ within }: VariableRow): boolean =>
  within !== undefined && within.degreesOfFreedom < trustedFreedom;

/** What trials set against each other say of the doses; where they say nothing, what was trained. */
const prescribed = (rows: readonly VariableRow[]): string => {
  const of = (verdict: string) => rows.filter((row) => row.verdict.verdict === verdict);
  const list = (verdict: string, words: string, one = nameOf) => {
    const some = of(verdict);
    return some.length === 0 ? [] : [`${words}${some.map(one).join("; ")}.`];
  };
  const sided = (row: VariableRow): string =>
    `${nameOf(row)}, ${verdictWords(row).replace("worth testing: ", "")}`;
  const told = [
    ...list("favoured", "", (row) => capital(sided(row))),
    ...list("no difference that counts", "No difference that counts, so either can be chosen: "),
    ...list("a difference, smaller than counts", "A difference smaller than counts: ", sided),
  ];
  const trained = rows
    .filter(({ axis, span }) => programme.includes(axis.name) && span !== undefined)
    .map(({ axis, span }) => `${axis.label} ${doseSpan(axis, span!)}`)
    .join(", ");
  const range = trained === "" ? "" : ` The gain belongs to what was trained: ${trained}.`;
  return [
    ...(told.length === 0 ? [`Which dose is best cannot be told from this file.${range}`] : told),
    ...list(
      "worth testing",
      "Worth testing, and no advice yet: ",
      (row) => `${sided(row)}${isUnsure(row) ? " (few degrees of freedom)" : ""}`,
    ),
  ].join(" ");
};

/** What would have to be there for a verdict, and the single trial that says most. */
const missing = (
  rows: readonly VariableRow[],
  comparisons: readonly TrialComparison[],
): string | null => {
  const own = onePerPair(comparisons);
  const lead = clearest(own);
  const inside = rows.filter(({ studiesWithin }) => studiesWithin > 0);
  const enough = inside.filter(({ studiesWithin }) => studiesWithin >= fewestStudiesWithin);
  const single =
    lead === undefined
      ? ""
      : ` Single trials: ${comparisonWords(lead)}${own.length === 1 ? "" : `; ${own.length - 1} more`}.`;
  if (enough.length > 0) {
    const untold = enough.filter(({ verdict }) =>
      ["cannot be told", "cannot be separated"].includes(verdict.verdict),
    ).length;
    return untold === 0
      ? null
      : `Of ${counted(enough.length, "variable")} that ${fewestStudiesWithin} studies or more compared in their own arms, ${untold} cannot be told.${untold === enough.length ? single : ""}`;
  }
  const counts =
    inside.length === 0
      ? "no row with a weight does"
      : inside
          .map(({ axis, studiesWithin }) => `${axis.label}: ${studiesWithin}`)
          .slice(0, 3)
          .join(", ");
  return `Missing: ${fewestStudiesWithin} studies that compare one dose in their own arms (${counts}).${single}`;
};

/** Why an average is to be trusted or not, in words. */
const sureness = ({ headline, inDoubt, group }: PreparedGroup): string => {
  const average = headline();
  if (average.kind === "refusal") return `Cannot be told: ${average.reason}.`;
  const { interval, predictionInterval, studies } = average.result;
  const spans = ({ low, high }: { low: number; high: number }): boolean => low <= 0 && high >= 0;
  const doubt = inDoubt();
  return [
    spans(interval)
      ? "The interval holds no change too."
      : `The whole interval is ${interval.low > 0 ? "an improvement" : "a loss"}.`,
    furtherStudySentence(average.result, group.headline.set),
    ...(predictionInterval !== null && spans(predictionInterval) ? ["It holds losses too."] : []),
    ...fewStudiesSentence(studies),
    ...(doubt === undefined
      ? []
      : [`Line ${doubt.line} (${doubt.study}) rules the average, and its spread is in doubt.`]),
  ].join(" ");
};

/** What no two arms of one study differ in, and how far training and people reach. */
const untested = (
  rows: readonly OutcomeRow[],
  comparisons: readonly TrialComparison[],
): readonly string[] => {
  const tested = new Set<string>(comparisons.map(({ variable }) => variable));
  const labels = comparedVariables
    .filter((name) => name !== notCoded && !tested.has(name))
    .map(variableLabel);
  const most = (of: (row: OutcomeRow) => number | undefined): number | undefined =>
    rows.reduce<number | undefined>((high, row) => {
      const value = of(row);
      return value === undefined || (high !== undefined && high >= value) ? high : value;
    }, undefined);
  const [weeks, years] = [most((row) => row.weeks), most((row) => row.ageMeanYears)];
  const number = (value: number): string =>
    formatNumber(value, { digits: Number.isInteger(value) ? 0 : 1 });
  return [
    ...(labels.length === 0 ? [] : [`No trial of this file compared: ${labels.join(" · ")}.`]),
    ...(weeks === undefined ? [] : [`Nobody trained for more than ${number(weeks)} weeks.`]),
    ...(years === undefined ? [] : [`No group was older than ${number(years)} years on average.`]),
  ];
};

/** The session of the largest training group that can be drawn to scale, and whether it can be held. */
const usedSession = (rows: readonly OutcomeRow[]) => {
  const [largest] = rows
    .flatMap((row) => {
      const prescription = prescriptionOf(row);
      if (prescription === undefined) return [];
      const session = judgedSession(prescription);
      return session.timeline === undefined ? [] : [{ row, prescription, session }];
    })
    .sort((a, b) => (b.row.nEnd ?? 0) - (a.row.nEnd ?? 0));
  if (largest === undefined) return { words: null, figures: [] };
  const { row, prescription, session } = largest;
  const name = `${row.study}, ${row.arm}`;
  return {
    words: `A session that was trained (${name}): ${writePrescription(prescription)}. ${session.words}`,
    figures: sessionsFigures(
      "A session that was trained, to scale",
      [{ name, prescription, session }],
      "brief-session",
    ),
  };
};

/** Rows that are drawn beside others on one page. */
const rowsOnAPage = { estimates: 16, "single-trials": 6 } as const;

/** The figures that matter most, of those that other questions name: doses, the overview or what was studied, a session. */
const threeFigures = (
  doses: readonly NamedFigure[],
  evidence: readonly NamedFigure[],
  session: readonly NamedFigure[],
): readonly NamedFigure[] => {
  const fits = ({ name, data }: NamedFigure): boolean =>
    name === "estimates"
      ? data.effects.length <= rowsOnAPage[name]
      : name !== "single-trials" || data.rows.length <= rowsOnAPage[name];
  return [doses, evidence, session].flatMap((some) => some.filter(fits).slice(0, 1));
};

const dataShape = {
  goals: z.array(goalSchema),
  /** Kinds of outcome without an average, by name. */
  withoutAverage: z.array(z.string()),
  untested: z.array(z.string()),
  session: z.string().nullable(),
  counts: z.string(),
};
type Draft = AnswerDraft<z.infer<z.ZodObject<typeof dataShape>>>;

const gainOf = (one: PreparedGroup | undefined, contrast: Contrast): readonly string[] => {
  const average = one?.headline();
  return average?.kind === "average"
    ? [
        `${capital(contrastShortLabel(contrast))}: ${averageWords(average.result, one!.group.headline.set)}.`,
      ]
    : [];
};

/**
 * Kinds of outcome as goals, in the order of the families: those tested by holding or by no contraction at all; after them other ways of testing, and what belongs to no family.
 */
const inOrder = (groups: readonly PreparedGroup[]): readonly PreparedGroup[] => {
  const isGoal = ({ group: { kind } }: PreparedGroup): boolean =>
    kind?.testMode === "isometric" && kind.family !== "other" && kind.family !== familyNotCoded;
  return [...groups.filter(isGoal), ...groups.filter((one) => !isGoal(one))];
};

/** How goals are ordered, as it is said where not all of them fit on a page. */
export const goalOrderWords =
  "Goals stand in the order of the kinds of outcome, isometric tests first and other ways of testing after them";

const made = (evidence: Evidence, options: Options<typeof briefShape>, tell: Tell): Draft => {
  const asked = [...new Set([options.contrast, ...pooledContrasts])].map((contrast) => ({
    contrast,
    ...askedOf(pool, evidence, { ...options, contrast }, tell),
  }));
  const main = asked.find(({ prepared }) => prepared.groups.length > 0) ?? asked[0]!;
  const { contrast } = main;
  const other = asked.find((one) => one !== main)!;
  const told = askedOf(variables, evidence, { ...options, contrast }, tell).answer();
  const file = askedOf(check, evidence, options, tell).answer();
  const trials = trialComparisons(evidence, options);
  const { groups, set, rows: unweighted } = main.prepared;
  const averaged = inOrder(groups.filter(({ headline }) => headline().kind === "average"));
  const goals = averaged.map((one): BriefGoal => {
    const { id, label } = one.group;
    const own = told.data.rows.filter(({ family }) => family === label);
    const beside = other.prepared.groups.find(({ group }) => group.id === id);
    return {
      id,
      outcome: label,
      prescribe: prescribed(own),
      gains: [...gainOf(one, contrast), ...gainOf(beside, other.contrast)],
      sure: sureness(one),
      missing: missing(
        own,
        trials.comparisons.filter(({ group }) => group === id),
      ),
    };
  });
  const withoutAverage = groups.flatMap((one) => (averaged.includes(one) ? [] : [one.group.label]));
  const rows = chosenRows(evidence, options.where).filter(isTraining);
  const nobody = untested(rows, trials.comparisons);
  const [[first], [leading], [goal]] = [groups, averaged, goals];
  const session = usedSession(
    leading?.group.headline.set?.effects.map(({ row }) => row).filter(isTraining) ?? rows,
  );
  const overview = leading && main.answer({ outcome: leading.group.id }).figures;
  return {
    headline:
      goal !== undefined
        ? `${capital(goal.outcome)}: ${goal.prescribe}`
        : first === undefined
          ? `No average, so no advice.${unweighted}`
          : groupHeadline(first, main.options),
    sentences: [
      ...goals.flatMap(({ outcome, prescribe, gains, sure, missing: lacking }, place) => [
        `${place === 0 ? "" : `${capital(outcome)}: ${prescribe} `}${gains.join(" ")}`,
        `How sure, ${outcome}: ${sure}${lacking === null ? "" : ` ${lacking}`}`,
      ]),
      ...(withoutAverage.length === 0
        ? []
        : [`No average over studies of: ${withoutAverage.join("; ")}.`]),
      ...nobody,
      ...(session.words === null ? [] : [session.words]),
    ],
    figures: threeFigures(
      told.figures ?? [],
      [...(overview ?? []).filter(({ name }) => name !== "precision"), ...(file.figures ?? [])],
      session.figures,
    ),
    notes: told.notes ?? [],
    prescriptions: [],
    refusal: goal === undefined ? noEffects : undefined,
    untold: told.untold ?? [],
    data: {
      scale: set?.scale ?? null,
      contrast,
      confidence: options.confidence,
      rowsUsed: linesOf({
        effects: averaged.flatMap(({ group }) => group.headline.set?.effects ?? []),
      }),
      goals,
      withoutAverage: [...withoutAverage],
      untested: [...nobody],
      session: session.words,
      counts: file.data.counts,
    },
  };
};

/** For each goal what to prescribe as far as the file bears it, how sure, and what nobody has tested. */
export const brief = question({
  id: "brief",
  options: briefShape,
  choices: [],
  data: dataShape,
  prepare: (evidence, options, tell) => {
    tell("the brief");
    return made(evidence, options, tell);
  },
  answer: (draft: Draft) => draft,
});
