/** What further trials could settle: whether an average is a gain that counts, or what a variable changes; each asked again with trials added. */
import type { FurtherTrials, ToldByStudy } from "../certainty/further-trials.js";
import { truthSampler } from "../certainty/further-trials.js";
import { axisTraits, doseAxisOf, type DoseAxisName } from "../dose/dose-axes.js";
import { doseData, doseDataOf, type DoseData } from "../dose/dose-data.js";
import { trustedFreedom } from "../dose/identifiability.js";
import { mixedModel } from "../dose/mixed-model.js";
import { equivalenceConfidence, holmAdjusted, verdictOf } from "../dose/verdict.js";
import { withinBetweenSlopeOf } from "../dose/within-between-slope.js";
import type { EffectSet } from "../effects/effect.js";
import { cholesky, solveCholesky } from "../numeric/cholesky.js";
import { dot } from "../numeric/matrix.js";
import { effectInputs, inputSubset, studyAverage } from "../synthesis/effect-inputs.js";
import type { EffectInputs } from "../synthesis/effect-inputs.js";
import { coefficient, symmetricInterval } from "../synthesis/inference.js";
import type { Coefficient, Interval } from "../synthesis/synthesis-results.js";
import type { SynthesisEffect } from "../synthesis/synthesis-input.js";

/** How a trial is made: in two groups of people or the two limbs of each, at which part of the span, with what share of the difference. */
export type TrialDesign = Readonly<{
  limbs: boolean;
  /** Places along the span of doses, 0 its lower end and 1 its upper. */
  from: number;
  to: number;
  /** Of the difference at the usual number of weeks. */
  share: number;
}>;
export const usualDesign: TrialDesign = { limbs: false, from: 0, to: 1, share: 1 };

/** Rows of one simulated trial: effects, and the correlation between the errors of its two arms. */
type AddedTrial = Readonly<{
  effects: readonly Readonly<{ estimate: number; variance: number; dose: number }>[];
  covariance: number;
}>;

/** What is asked, as it stands and with trials added. */
export type SettleTarget = Readonly<{
  /** Studies that tell it today. */
  studies: number;
  /** Today's answer on the effects' scale, over the whole span; undefined where there is none. */
  today: Coefficient | undefined;
  decided: string | undefined;
  /** Doses set against each other; undefined of an average. */
  span: Interval | undefined;
  /** Sampling variance of one person's effect. */
  perPerson: number;
  make: (design: TrialDesign) => FurtherTrials<AddedTrial>;
}>;

const middleOf = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? NaN;
};

/** The middle of what one person's error would be: variance times people, effect by effect. */
const perPersonOf = ({ effects }: EffectSet): number =>
  middleOf(effects.map(({ variance, participants }) => variance * participants));

const variancesAt = (inputs: EffectInputs): Readonly<Record<string, number>> => {
  const n = inputs.effects.length;
  return mixedModel(inputs.effects, inputs.covariances).fit({
    rows: n,
    columns: 1,
    values: new Float64Array(n).fill(1),
  }).varianceByLevel;
};

/** Inputs with the rows of further trials. */
const withTrials = (inputs: EffectInputs, added: readonly AddedTrial[]): EffectInputs => {
  const effects: SynthesisEffect[] = [...inputs.effects];
  const covariances = [...inputs.covariances];
  for (const [place, { effects: own, covariance }] of added.entries()) {
    const first = effects.length;
    const study = `further trial ${place + 1}`;
    own.forEach(({ estimate, variance }, arm) =>
      effects.push({
        effectId: `${study} / ${arm}`,
        study,
        arm: `${study} / ${arm}`,
        estimate,
        variance,
      }),
    );
    if (covariance > 0 && own.length === 2)
      covariances.push({
        indices: [first, first + 1],
        values: [own[0]!.variance, covariance, covariance, own[1]!.variance],
      });
  }
  return { effects, covariances };
};

const starting = (
  model: ReturnType<typeof mixedModel>,
  variances: Readonly<Record<string, number>>,
) => model.levels.map((level) => variances[level] ?? 0);

/** The average with its cluster-robust error, as every average of a headline is made. */
const averageWith = (
  inputs: EffectInputs,
  variances: Readonly<Record<string, number>>,
  confidence: number,
): Coefficient | undefined => {
  const n = inputs.effects.length;
  const model = mixedModel(inputs.effects, inputs.covariances);
  const design = { rows: n, columns: 1, values: new Float64Array(n).fill(1) };
  const fit = model.fit(design, { start: starting(model, variances) });
  const robust = model.robust(design, fit);
  const freedom = robust?.degreesOfFreedom([1]) ?? 0;
  return robust === undefined || !(freedom >= 1)
    ? undefined
    : coefficient(
        "average",
        fit.coefficients[0]!,
        Math.sqrt(robust.covariance.values[0]!),
        freedom,
        confidence,
      );
};

/** What an answer decides, by itself and by how many studies stand behind it; undefined where it stays open. */
export type Decide = (told: Coefficient | undefined, studies: number) => string | undefined;

const averageDecision = (told: Coefficient | undefined, amount: number): string | undefined =>
  told === undefined
    ? undefined
    : told.interval.low > amount
      ? "a gain that counts"
      : told.interval.high < amount
        ? "no gain that counts"
        : undefined;

/**
 * Whether an average is a gain that counts: decided where its interval lies on one side of the amount.
 *
 * @param decide another decision about the average
 * @source none: the pooled answer asked again
 */
export const averageTarget = (
  set: EffectSet,
  {
    amount,
    confidence,
    decide = (told) => averageDecision(told, amount),
  }: Readonly<{ amount: number; confidence: number; decide?: Decide | undefined }>,
): SettleTarget => {
  const inputs = effectInputs(set);
  const names = [...new Set(inputs.effects.map(({ study }) => study))];
  const variances = inputs.effects.length < 2 ? {} : variancesAt(inputs);
  const { study: _between, ...inside } = variances;
  const within = Object.values(inside).reduce((sum, part) => sum + part, 0);
  const studies = names.map((name): ToldByStudy =>
    studyAverage(
      inputSubset(inputs, ({ study }) => study === name),
      inside,
    ),
  );
  const perPerson = perPersonOf(set);
  const today = names.length < 2 ? undefined : averageWith(inputs, variances, confidence);
  const truth = truthSampler(studies, { mean: 2 * amount, spread: amount });
  return {
    studies: names.length,
    today,
    decided: decide(today, names.length),
    span: undefined,
    perPerson,
    make: ({ share }) => ({
      truth,
      draws: 2,
      trialOf: (found, [arm, error], people) => ({
        effects: [
          {
            estimate:
              share * found + Math.sqrt(within) * arm! + Math.sqrt(perPerson / people) * error!,
            variance: perPerson / people,
            dose: 0,
          },
        ],
        covariance: 0,
      }),
      decide: (added) =>
        decide(
          averageWith(withTrials(inputs, added), variances, confidence),
          names.length + added.length,
        ),
    }),
  };
};

/** The difference over the span that one study finds between its own arms; undefined where it has one dose. */
const lineOf = (
  { effects, covariances }: EffectInputs,
  doses: readonly number[],
  stretch: number,
): ToldByStudy | undefined => {
  if (new Set(doses).size < 2) return undefined;
  const n = effects.length;
  const values = new Float64Array(n * n);
  effects.forEach(({ variance }, i) => (values[i * n + i] = variance));
  for (const { indices, values: known } of covariances)
    indices.forEach((a, i) =>
      indices.forEach((b, j) => (values[a * n + b] = known[i * indices.length + j]!)),
    );
  const factor = cholesky({ rows: n, columns: n, values });
  if (factor === undefined) return undefined;
  const [ones, own] = [new Float64Array(n).fill(1), Float64Array.from(doses)];
  const estimates = effects.map(({ estimate }) => estimate);
  const [wOnes, wOwn] = [solveCholesky(factor, ones), solveCholesky(factor, own)];
  const centre = dot(wOnes, own) / dot(wOnes, ones);
  const information = dot(wOwn, own) - centre * dot(wOnes, own);
  if (!(information > 0)) return undefined;
  const slope = (dot(wOwn, estimates) - centre * dot(wOnes, estimates)) / information;
  return { estimate: slope * stretch, variance: stretch ** 2 / information };
};

/**
 * What a variable changes over the span that was compared: decided where its verdict is favoured, no difference that
 * counts, or a difference smaller than counts. Others of the table stand as they are.
 *
 * @param limbs  correlation between the changes of two limbs of one person
 * @param others p values of the table's other questions
 * @param decide another decision about the difference over the span
 * @source none: the verdict asked again; whether a bend hides a difference is not
 */
export const verdictTarget = (
  set: EffectSet,
  name: DoseAxisName,
  {
    amount,
    confidence,
    limbs,
    others,
    span: asked,
    decide,
  }: Readonly<{
    amount: number;
    confidence: number;
    limbs: number;
    others: readonly number[];
    /** Doses set against each other where the file compares none. */
    span?: Interval | undefined;
    decide?: Decide | undefined;
  }>,
): SettleTarget => {
  const axis = doseAxisOf(name);
  const { byRatio, noChoice = false } = axisTraits(name);
  const data: DoseData = doseData(set, axis);
  const { support } = data;
  const isRatio = byRatio && support.lowest > 0;
  const measure = (dose: number): number => (isRatio ? Math.log(dose) : dose);
  const span = support.linked ?? asked ?? { low: support.lowest, high: support.highest };
  const [low, stretch] = [measure(span.low), measure(span.high) - measure(span.low)];
  const doses = Array.from(data.doses, measure);
  const inputs: EffectInputs = { effects: data.effects, covariances: data.covariances };
  const variances = inputs.effects.length < 2 ? {} : variancesAt(inputs);
  const names = [...new Set(inputs.effects.map(({ study }) => study))];
  const told = names.flatMap((study) => {
    const keep = ({ study: one }: SynthesisEffect): boolean => one === study;
    const own = doses.filter((_, place) => keep(inputs.effects[place]!));
    return lineOf(inputSubset(inputs, keep), own, stretch) ?? [];
  });
  const slopeWith = (added: readonly AddedTrial[]) => {
    const all = withTrials(inputs, added);
    const { within } = withinBetweenSlopeOf(
      doseDataOf({
        ...{ axis, ...all },
        doses: [...doses, ...added.flatMap(({ effects }) => effects.map(({ dose }) => dose))],
      }),
      {
        confidence,
        prepared: () => {
          const model = mixedModel(all.effects, all.covariances);
          return { model, start: starting(model, variances) };
        },
      },
    );
    if (within.kind === "refusal") return undefined;
    const { estimate, standardError, degreesOfFreedom } = within.robust;
    return coefficient(
      name,
      estimate * stretch,
      standardError * stretch,
      degreesOfFreedom,
      confidence,
    );
  };
  const decisionOf = (answer: Coefficient | undefined): string | undefined => {
    if (answer === undefined) return undefined;
    const { estimate, standardError, degreesOfFreedom } = answer;
    const inner = symmetricInterval(
      estimate,
      standardError,
      degreesOfFreedom,
      equivalenceConfidence,
    );
    const { verdict, side } = verdictOf({
      within: answer,
      between: undefined,
      amount,
      adjustedP: holmAdjusted([answer.p, ...others])[0]!,
      allInside: inner.low > -amount && inner.high < amount && degreesOfFreedom >= trustedFreedom,
      isChoice: !noChoice,
      level: 1 - confidence,
    });
    return verdict === "favoured"
      ? `${side} is favoured`
      : verdict === "no difference that counts" || verdict === "a difference, smaller than counts"
        ? verdict
        : undefined;
  };
  const today = slopeWith([]);
  const decidedBy = decide ?? decisionOf;
  const perPerson = perPersonOf(set);
  const base = middleOf(inputs.effects.map(({ estimate }) => estimate)) || 0;
  const between = Math.sqrt(variances["study"] ?? 0);
  const truth = truthSampler(told, { mean: 2 * amount, spread: amount });
  return {
    studies: told.length,
    today,
    decided: decidedBy(today, told.length),
    span,
    perPerson,
    make: ({ limbs: ofOnePerson, from, to, share }) => ({
      truth,
      draws: 3,
      trialOf: (found, [study, first, second], people) => {
        const variance = perPerson / people;
        const shared = ofOnePerson ? limbs : 0;
        const level = base + between * study!;
        const arm = (place: number, error: number) => ({
          estimate: level + share * found * (place - 0.5) + Math.sqrt(variance) * error,
          variance,
          dose: low + place * stretch,
        });
        return {
          effects: [
            arm(from, first!),
            arm(to, shared * first! + Math.sqrt(1 - shared ** 2) * second!),
          ],
          covariance: shared * variance,
        };
      },
      decide: (added) => decidedBy(slopeWith(added), told.length + added.length),
    }),
  };
};
