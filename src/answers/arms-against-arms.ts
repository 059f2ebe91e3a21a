/** Why differences between training arms are not averaged; what single trials compared stands instead. */
import { refusal } from "../errors.js";
import { comparisonCounts } from "./trial-comparisons-shown.js";
import { capital } from "../tables/number-format.js";
import type { EffectChoices } from "./effect-options.js";
import type { Evidence } from "./evidence.js";
import { askedOf } from "./prepared.js";
import { singleTrials } from "./single-trials.js";

const arbitrary = refusal(
  "arbitrary-sign",
  "which of two training arms comes first is arbitrary, so their differences have no sign in common",
);

/** What can be asked instead, each with one sign in every study. */
const instead =
  "What can be asked: dose and variables take every study's difference in one direction of a variable, isometric-or-dynamic takes isometric minus dynamic, and single-trials lists every comparison.";

/**
 * What every question about averages says of differences between training arms: no average, and every comparison.
 *
 * @param options rows and assumptions, and the kind of outcome where one was asked for
 */
export const armsAgainstArms = (
  evidence: Evidence,
  options: EffectChoices & Readonly<{ outcome?: string | undefined; confidence: number }>,
) => {
  const {
    tables = [],
    figures = [],
    sentences = [],
    data,
  } = askedOf(singleTrials, evidence, options).answer();
  const all = data.groups.flatMap(({ comparisons }) => comparisons);
  return {
    headline: `No average between training arms: ${arbitrary.reason}. ${
      all.length === 0
        ? "No study of this file has two training arms that were tested alike."
        : `${capital(comparisonCounts(all))}: each stands below by itself.`
    }`,
    sentences: [instead, ...sentences],
    tables,
    figures,
    refusal: arbitrary,
    rowsUsed: data.rowsUsed ?? [],
  };
};

/** An answer about averages, or what is said in its place where arms were to be compared with arms. */
export const orArmsApart = <Draft extends Readonly<{ data: object }>>(
  draft: Draft,
  apart: ReturnType<typeof armsAgainstArms> | undefined,
): Draft => {
  if (apart === undefined) return draft;
  const { rowsUsed, ...part } = apart;
  return { ...draft, ...part, data: { ...draft.data, rowsUsed } };
};
