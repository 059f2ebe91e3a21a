/** What single trials compared: for every variable and kind of outcome, the arms of one study set against each other. */
import * as z from "zod";
import { refusal } from "../errors.js";
import { placeOfPrescription } from "../projection/support.js";
import { grouped } from "../records/grouped.js";
import { capital, counted } from "../tables/number-format.js";
import { folded } from "../tables/table.js";
import { intervalSchema } from "./answer.js";
import { otherNames } from "./dose-options.js";
import { assumptionShape, confidenceOption, rowShape } from "./effect-options.js";
import type { Evidence } from "./evidence.js";
import { namedOne, option, readAs, someOf } from "./option.js";
import { outcomeOption } from "./outcome-groups.js";
import { question, type Options } from "./question.js";
import { readProtocol } from "./session.js";
import { allComparedVariables, comparedVariables, variableLabel } from "./compared-variables.js";
import {
  trialComparisons,
  type ComparedGroup,
  type TrialComparison,
  type TrialComparisons,
} from "./trial-comparisons.js";
import {
  aloneOf,
  citationNotes,
  comparisonCounts,
  comparisonsFigures,
  comparisonsTable,
  drawnOf,
  nearestFirst,
  nearnessOf,
  ownComparisons,
  type AskedPlace,
} from "./trial-comparisons-shown.js";

const shape = {
  outcome: outcomeOption,
  on: option(
    someOf(allComparedVariables, {
      ...otherNames,
      ...Object.fromEntries(comparedVariables.map((name) => [name, [variableLabel(name)]])),
    }).default(comparedVariables),
    { help: "variables compared (all unless told)", value: "<variables>", seldom: true },
  ),
  protocol: option(z.array(z.string()).readonly().default([]), {
    help: "protocols asked about, each in quotation marks: how far the compared arms lie from them",
    operand: "many",
  }),
  ...rowShape,
  confidence: confidenceOption,
  ...assumptionShape,
};

/** A table of more rows is read when asked for. */
const longTable = 24;

const letters = "ABCDEF";

/** Protocols as places on the dose axes. */
const askedPlaces = (protocols: readonly string[]): readonly AskedPlace[] =>
  protocols.map((written, index) => ({
    name: letters[index] ?? String(index + 1),
    place: placeOfPrescription(readProtocol(written, undefined), undefined, undefined),
  }));

/** The groups a person names. */
export const chosenTrials = (
  { groups }: Pick<TrialComparisons, "groups">,
  wanted: string | undefined,
): readonly ComparedGroup[] => {
  if (wanted === undefined) return groups;
  const names = groups.flatMap(({ id, label, family, outcome }) => [
    id,
    label,
    family,
    ...(outcome === undefined ? [] : [outcome]),
  ]);
  const name = readAs("--outcome", () => namedOne(wanted, [...new Set(names)]));
  const own = groups.filter(
    ({ id, label, outcome }) => id === name || label === name || outcome === name,
  );
  return own.length > 0 ? own : groups.filter(({ family }) => family === name);
};

/** Which variables the trials of a kind of outcome compared, most first. */
const groupSentence = (
  { label }: ComparedGroup,
  comparisons: readonly TrialComparison[],
): string => {
  const own = ownComparisons(comparisons);
  const byVariable = [...grouped(own, (one) => one.label)].map(([name, some]) => {
    const trials = new Set(some.map(({ cohort }) => cohort)).size;
    return { words: `${name} (${counted(trials, "trial")})`, trials };
  });
  const alone = aloneOf(own);
  const drawn = drawnOf(comparisons);
  return `${capital(label)}: ${byVariable
    .sort((a, b) => b.trials - a.trials)
    .map(({ words }) => words)
    .join(", ")}. ${
    alone.length === 0
      ? "No two arms are coded as different in one thing only."
      : `${alone.length} of ${own.length} comparisons differ in that one thing only, as far as it is coded.`
  }${drawn.length < own.length ? ` ${drawn.length} of them are drawn; the table holds all.` : ""}`;
};

/** Every comparison of arms inside single trials. */
export const singleTrials = question({
  id: "single-trials",
  options: shape,
  choices: ["outcome", "protocol"],
  data: {
    protocols: z.array(z.string()),
    groups: z.array(
      z.looseObject({
        id: z.string(),
        outcome: z.string(),
        family: z.string(),
        comparisons: z.array(
          z.looseObject({
            variable: z.string(),
            label: z.string(),
            study: z.string(),
            citation: z.string(),
            unit: z.string(),
            lower: z.looseObject({
              arm: z.string(),
              line: z.number(),
              dose: z.string(),
              gain: z.number().nullable(),
              interval: intervalSchema.nullable(),
              wanted: z.string(),
            }),
            higher: z.looseObject({ arm: z.string(), line: z.number(), dose: z.string() }),
            difference: z.number().nullable(),
            interval: intervalSchema.nullable(),
            alsoDiffer: z.array(z.string()),
            unknown: z.array(z.string()),
            nearness: z
              .object({ names: z.array(z.string()), distances: z.array(z.number()) })
              .nullable(),
          }),
        ),
      }),
    ),
  },
  prepare: (evidence: Evidence, options: Options<typeof shape>, tell) => {
    tell("arms of single trials");
    return trialComparisons(evidence, options, options.on);
  },
  answer: (found, { outcome, protocol, confidence }) => {
    const asked = askedPlaces(protocol);
    const groups = chosenTrials(found, outcome)
      .map((group) => ({
        group,
        comparisons: nearestFirst(
          found.comparisons.filter((one) => one.group === group.id),
          asked,
        ),
      }))
      .filter(({ comparisons }) => comparisons.length > 0);
    const all = groups.flatMap(({ comparisons }) => comparisons);
    const nothing = refusal(
      "no-pairs",
      "no study of this file has two training arms that were tested alike",
    );
    return {
      headline:
        all.length === 0
          ? `No comparison: ${nothing.reason}.`
          : `${capital(comparisonCounts(all))}. Nothing is pooled here: each trial speaks for itself.`,
      sentences: groups.map(({ group, comparisons }) => groupSentence(group, comparisons)),
      tables: groups.map(({ group, comparisons }) => {
        const plain = comparisonsTable(group, comparisons, confidence, asked);
        const table = { ...plain, notes: [...plain.notes, ...citationNotes(comparisons)] };
        return table.rows.length > longTable ? folded(table) : table;
      }),
      figures: groups.flatMap(({ group, comparisons }) =>
        comparisonsFigures(group, comparisons, confidence),
      ),
      refusal: all.length === 0 ? nothing : undefined,
      data: {
        confidence,
        rowsUsed: [...new Set(all.flatMap(({ lower, higher }) => [lower.line, higher.line]))].sort(
          (a, b) => a - b,
        ),
        protocols: protocol,
        groups: groups.map(({ group: { label, ...group }, comparisons }) => ({
          ...group,
          outcome: label,
          comparisons: comparisons.map((one) => ({
            ...one,
            nearness: nearnessOf(one, asked) ?? null,
          })),
        })),
      },
    };
  },
});
