/** Of the invented register: what it was made from, and how far each answer missed. */
import {
  demoFamilies,
  demoReference,
  demoTruthDefaults,
  type DemoFamily,
  type DemoMuscleLength,
} from "../demo/demo-truth.js";
import {
  carryOverHalfWidth,
  demoReferenceDose,
  doseFactor,
  trueChangeWithinArm,
  type DemoDose,
} from "../demo/true-change.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { formatInterval, formatNumber } from "../tables/number-format.js";
import { scaleDisplay } from "../tables/scale-display.js";
import type { Setting, SlideDraft } from "./slide.js";

/** One answer beside the truth, both as people read them. */
export type Miss = Readonly<{
  of: string;
  answer: string;
  truth: string;
  /** Answer minus truth. */
  miss: string;
  inside: boolean;
}>;

const truth = demoTruthDefaults;
const { write, toShown } = scaleDisplay("log-ratio-of-means");

const middle = (row: OutcomeRow): number | undefined =>
  row.intensityPercent === undefined
    ? undefined
    : (row.intensityPercent + (row.intensityPercentHigh ?? row.intensityPercent)) / 2;

/** What an arm of the register did; undefined for one that is not told in full. */
const doseOfRow = (row: OutcomeRow): DemoDose | undefined => {
  const { holdSeconds, repetitions, sets, sessionsPerWeek, muscleLength, trainingStatus } = row;
  const effortPercent = middle(row);
  if (row.armKind !== "isometric" || effortPercent === undefined || holdSeconds === undefined)
    return undefined;
  if (repetitions === undefined || sessionsPerWeek === undefined) return undefined;
  return {
    ...demoReferenceDose,
    effortPercent,
    holdSeconds,
    tensionTimeSeconds: holdSeconds * repetitions * (sets ?? 1),
    sessionsPerWeek,
    muscleLength: (muscleLength ?? "middle") as DemoMuscleLength,
    trainingStatus: (trainingStatus ?? "untrained") as DemoDose["trainingStatus"],
    fastIntent: row.effortIntent === "as fast as possible",
  };
};

/** The true change from before to after behind some rows, on average; undefined where none is told in full. */
const trueAverage = (family: DemoFamily, rows: readonly OutcomeRow[]): number | undefined => {
  const changes = rows.flatMap((row) => {
    const dose = doseOfRow(row);
    const weeks = row.weekMeasured ?? row.weeks;
    return dose === undefined || weeks === undefined
      ? []
      : [trueChangeWithinArm(truth, family, dose, { weeks })];
  });
  return changes.length === 0
    ? undefined
    : changes.reduce((sum, one) => sum + one, 0) / changes.length;
};

type Range = Readonly<{ low: number; high: number }>;

const missOf = (
  of: string,
  estimate: number,
  { low, high }: Range,
  real: number,
  unit: string,
): Miss => {
  const text = (value: number): string => `${formatNumber(value, { digits: 1 })}${unit}`;
  return {
    of,
    answer: `${text(estimate)} (${formatInterval({ low, high }, { digits: 1 })})`,
    truth: text(real),
    miss: `${estimate > real ? "+" : ""}${formatNumber(estimate - real, { digits: 1 })}`,
    inside: low <= real && real <= high,
  };
};

/** Whether an interval ends at both sides. */
const isClosed = (
  interval: Readonly<{ low: number | null; high: number | null }>,
): interval is Range => interval.low !== null && interval.high !== null;

/** A miss of log ratios, in percent. */
const percentMiss = (of: string, estimate: number, { low, high }: Range, real: number): Miss =>
  missOf(of, toShown(estimate), { low: toShown(low), high: toShown(high) }, toShown(real), "%");

/** Every answer of the register that has a truth beside it. */
export const missesOf = async (setting: Setting): Promise<readonly Miss[]> => {
  const { ask, evidence, pool, variables, lead } = setting;
  const misses: Miss[] = [];
  for (const family of demoFamilies) {
    const own = pool.data.groups.find(({ id }) => id === family);
    if (own === undefined || !("estimate" in own) || own.unit !== null) continue;
    const used = new Set((await ask("pool", { outcome: family })).data.rowsUsed);
    const real = trueAverage(
      family,
      evidence.records.rows.filter(({ line }) => used.has(line)),
    );
    if (real !== undefined)
      misses.push(percentMiss(`Average, ${family}`, own.estimate, own.interval, real));
  }
  const intensity = variables.data.rows.find(
    ({ axis, family }) => axis.name === "intensityPercent" && family === lead.label,
  );
  if (
    lead.id === "strength" &&
    intensity?.within !== undefined &&
    intensity.compared !== undefined
  ) {
    const { low, high } = intensity.compared;
    const at = (effortPercent: number) =>
      trueChangeWithinArm(
        truth,
        "strength",
        { ...demoReferenceDose, effortPercent },
        { weeks: 12 },
      );
    misses.push(
      percentMiss(
        `Intensity, ${low} to ${high}% of MVC`,
        intensity.within.estimate,
        intensity.within.interval,
        at(high) - at(low),
      ),
    );
  }
  const [pairs] = (await ask("equal-tension", { outcome: lead.id })).data.answers;
  const alike = pairs?.headline.answer;
  if (lead.id === "strength" && alike?.kind === "told")
    misses.push(
      percentMiss("Longer holds at equal tension time", alike.estimate, alike.interval, 0),
    );
  for (const { answer } of (await ask("joint-angle", { outcome: "strength" })).data.answers)
    for (const { muscleLength, halfWidth } of answer.lengths)
      if (
        halfWidth.kind === "told" &&
        muscleLength in truth.carryOverDegrees &&
        isClosed(halfWidth.interval)
      )
        misses.push(
          missOf(
            `Half of the gain left, ${muscleLength} length`,
            halfWidth.degrees,
            halfWidth.interval,
            carryOverHalfWidth(truth, muscleLength as DemoMuscleLength),
            "°",
          ),
        );
  for (const { family, answer } of (await ask("time", { outcome: "strength" })).data.answers)
    if (answer.timeConstant.kind === "told" && isClosed(answer.timeConstant.interval))
      misses.push(
        missOf(
          `63% of the final gain, ${family}`,
          answer.timeConstant.weeks,
          answer.timeConstant.interval,
          truth.families.strength.weeksConstant,
          " weeks",
        ),
      );
  return misses;
};

/** What the register was made from, and the misses, a slide each. */
export const truthSlides = (
  { evidence, lead }: Setting,
  misses: readonly Miss[],
): readonly (SlideDraft & Readonly<{ id: string }>)[] => {
  const family = (demoFamilies as readonly string[]).includes(lead.id)
    ? (lead.id as DemoFamily)
    : "strength";
  const of = truth.families[family];
  const factor = doseFactor(truth, family, { ...demoReferenceDose, effortPercent: 50 });
  const inside = misses.filter((one) => one.inside).length;
  const name = evidence.source.name;
  const worst = [...misses].sort((a, b) => Number(a.inside) - Number(b.inside))[0]!;
  return [
    {
      id: "made-from",
      message: `What ${name} was made from: ${family}`,
      lines: [
        {
          name: "In the end",
          text: `${write(of.ceiling)}% over no training, at ${demoReference.effortPercent}% of MVC, holds of ${demoReference.holdSeconds} s, ${demoReference.tensionTimeSeconds} s of tension, ${demoReference.sessionsPerWeek} a week.`,
        },
        { name: "Weeks", text: `63% of it after ${of.weeksConstant} weeks.` },
        {
          name: "Intensity",
          text: `At 50% of MVC the gain is ${formatNumber(100 * factor, { digits: 0 })}% of that at ${demoReference.effortPercent}%.`,
        },
        {
          name: "Hold length",
          text: `At equal tension time the gain goes with seconds to the power ${of.holdPower}.`,
        },
        {
          name: "Muscle length",
          text: `Times ${of.lengthFactor.short} at short and ${of.lengthFactor.long} at long length; carried over with a spread of ${truth.carryOverDegrees.short}° and ${truth.carryOverDegrees.long}°.`,
        },
        {
          name: "Between studies",
          text: `A deviation of ${of.studyDeviation} on the scale of logarithms; people differ by ${of.responseDeviation}.`,
        },
      ],
      notes: {
        say: `${name} was made from rules, and these are they for ${family}.`,
        number: `In the end ${write(of.ceiling)}% over no training; 63% of it after ${of.weeksConstant} weeks.`,
        asked: `Does the length of a hold matter for ${family} in this made-up world?`,
        reply:
          of.holdPower === 0
            ? "No, not at equal tension time."
            : `Yes, to the power ${of.holdPower}.`,
        trap: `To take ${write(of.ceiling)}% for evidence: no trial stands behind it.`,
      },
    },
    {
      id: "missed",
      message: `How far the answers missed: the truth lies in ${inside} of ${misses.length} intervals`,
      lines: misses.map(({ of: what, answer, truth: real, miss, inside: isInside }) => ({
        name: what,
        text: `${answer}; truth ${real}, miss ${miss}${isInside ? "" : ", outside its interval"}.`,
      })),
      notes: {
        say: `Of ${misses.length} answers of ${name}, ${inside} hold the truth in their interval.`,
        number: misses.map(({ of: what, miss }) => `${what} ${miss}`).join("; ") + ".",
        asked: `How many of ${misses.length} intervals of 95% should hold the truth?`,
        reply: `${formatNumber(0.95 * misses.length, { digits: 1 })} on average; here ${inside}.`,
        trap: `${worst.of}: ${worst.answer}, truth ${worst.truth}. An interval that holds the truth is not a number that is right.`,
      },
    },
  ];
};
