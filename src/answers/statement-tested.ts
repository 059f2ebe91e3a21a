/** What a file holds for and against one statement: each claim asks the question that has its numbers. */
import { fewestStatementStudies, sideOf } from "../certainty/statement-verdict.js";
import { doseAxisNames, type DoseAxisName } from "../dose/dose-axes.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import { grouped } from "../records/grouped.js";
import { effectInputs, inputSubset, studyAverage } from "../synthesis/effect-inputs.js";
import { symmetricInterval } from "../synthesis/inference.js";
import { averageOf, averageShape } from "./average.js";
import { linesOf, type Evidence } from "./evidence.js";
import { unweightedOf } from "./headline-selection.js";
import { resolvedOptions } from "./option.js";
import { angleTested, courseTested, enduranceTested } from "./statement-courses.js";
import { curveTested, doseTested, equalTested, movingTested } from "./statement-doses.js";
import type { Compared, StatementReading } from "./statement-form.js";
import {
  asLiteral,
  groundOf,
  literalInterval,
  toldAs,
  untested,
  type Asking,
  type Ground,
  type StatementChoices,
  type Tested,
  type TrialBeside,
} from "./statement-ground.js";

const needed = fewestStatementStudies.average;

/** Every study of an average by its own interval; rows without a weight are silent. */
const studiesBeside = (
  { group, literal, claimed }: Ground,
  confidence: number,
): readonly TrialBeside[] => {
  const inputs = effectInputs(group.headline);
  const names = new Map(group.headline.effects.map(({ cohort, study }) => [cohort, study]));
  const weighted = [...names].map(([cohort, study]): TrialBeside => {
    const { estimate, variance } = studyAverage(
      inputSubset(inputs, (effect) => effect.study === cohort),
      {},
    );
    const interval = literalInterval(
      literal,
      symmetricInterval(estimate, Math.sqrt(variance), Infinity, confidence),
    );
    const value = asLiteral(literal, estimate);
    return { study, value, interval, side: sideOf(interval, claimed) };
  });
  const unweighted = [...grouped(unweightedOf(group.headline, group), ({ study }) => study)];
  return [
    ...weighted,
    ...unweighted.map(([study, [first]]): TrialBeside => ({
      ...{ study, value: asLiteral(literal, first!.estimate), interval: null, side: "neither" },
    })),
  ];
};

/** An average before to after or against no exercise, beside a direction, an amount or a range. */
const averageTested = (asking: Asking): Tested => {
  const { reading, options } = asking;
  const compared = contrastShortLabel(options.contrast);
  const ground = groundOf(asking, compared, needed);
  if (!("group" in ground)) return ground;
  const { group, literal, claimed } = ground;
  const { headline } = group;
  const base = {
    about: `${group.label}, ${compared}`,
    unit: literal.unit,
    claimed,
    studies: new Set(headline.effects.map(({ cohort }) => cohort)).size,
    needed,
    trials: studiesBeside(ground, options.confidence),
    lines: linesOf(headline),
  };
  const pooled = averageOf(
    { ...effectInputs(headline), ready: false },
    { ...resolvedOptions(averageShape, {}), ...options },
  );
  if (pooled.kind === "refusal") return { ...base, why: pooled.reason };
  const { predictionInterval, estimate, interval, heterogeneity } = pooled.result;
  const told = toldAs(literal, pooled.result);
  const further = predictionInterval === null ? null : literalInterval(literal, predictionInterval);
  return {
    ...base,
    ...told,
    further,
    settle: {
      on: "average",
      ...{ group, set: headline, amount: ground.amount },
      side: (own) => sideOf(literalInterval(literal, own.interval), claimed),
      ...(reading.claim === "range"
        ? {
            cannot:
              "a range is claimed of every trial to come as well, and only the average is asked again with trials added",
          }
        : {}),
    },
    toRate: {
      ...{ effects: headline.effects, estimate, interval, range: predictionInterval },
      iSquaredPercent: heterogeneity.iSquaredPercent ?? null,
      amount: Number.isFinite(ground.amount) ? ground.amount : undefined,
    },
    side: (confidence) => {
      const side = sideOf(told.interval(confidence), claimed);
      // A range is claimed of trials to come as well as of their average.
      if (reading.claim !== "range" || side !== "inside") return side;
      return further !== null && sideOf(further, claimed) === "inside" ? side : "neither";
    },
  };
};

const isDose = (compared: Compared): compared is DoseAxisName =>
  (doseAxisNames as readonly string[]).includes(compared);

/**
 * How a statement is asked of a file: its own conditions come on top of those of all.
 *
 * @param options of all statements of the file
 */
export const askingOf = (
  evidence: Evidence,
  reading: StatementReading,
  options: StatementChoices,
): Asking => {
  const where = [options.where, reading.where].filter((part) => part !== undefined).join(", ");
  return {
    evidence,
    reading,
    options: {
      ...options,
      where: where === "" ? undefined : where,
      scale: reading.unit === "%" ? "log-ratio-of-means" : "raw-mean-difference",
      contrast:
        reading.compared === "against no exercise" ? "against-control" : "change-within-arm",
    },
  };
};

/**
 * What a file has for and against a statement.
 *
 * Doses are compared inside studies only: studies against each other differ in everything else too.
 *
 * @source none: an order of questions; see each
 */
export const testedStatement = (asking: Asking): Tested => {
  const { compared, claim, equal, outcome } = asking.reading;
  if (claim === "endurance") return enduranceTested(asking);
  if (claim === "time course") return courseTested(asking);
  if (claim === "joint angle") return angleTested(asking);
  if (compared === "people")
    return untested(
      `${outcome}, one group of people against another`,
      fewestStatementStudies["head to head"],
      "Holdbook compares what was trained and not who trained",
    );
  if (compared === "isometric or dynamic") return movingTested(asking);
  if (!isDose(compared)) return averageTested(asking);
  if (claim === "threshold" || claim === "enough" || claim === "optimum")
    return curveTested(asking, compared);
  return equal === undefined ? doseTested(asking, compared) : equalTested(asking, compared);
};
