import type { DoseCurve } from "../dose/dose-response.js";
import { doseShown, doseSpan, doseTitle, kebabName } from "../tables/dose-table.js";
import { capital, confidenceWords, counted, sharePercent } from "../tables/number-format.js";
import { scaleDisplay, valueText } from "../tables/scale-display.js";
import { namedDose } from "../tables/shown-dose.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { gainChart, runsOutWords } from "./gain-chart.js";
import type { GainPoint } from "./gain-panel.js";
import { drawnChart } from "./row-chart.js";
import { oneLine } from "./wrap-text.js";

/** A change at a dose that has no weight. */
export type UnweightedDose = Readonly<{
  study: string;
  arm: string;
  dose: number;
  estimate: number;
}>;

export type DoseCurveInput = Readonly<{
  /** File-name form; from family and axis where not given. */
  id?: string;
  title?: string;
  /** Outcome family, for the words. */
  family: string;
  answer: DoseCurve;
  /** Effects whose interval stands on a borrowed spread, by their ids. */
  borrowed?: readonly string[];
  unweighted?: readonly UnweightedDose[];
}>;

/** Shapes with less weight are not drawn on their own. */
const drawnWeight = 0.1;
/** From so many times the lowest dose on, low doses crowd on an even axis. */
const crowded = 6;
/** Half the width of a 95% interval in standard errors. */
const reach = 1.96;

type Arm = {
  study: string;
  arm: string;
  dose: number;
  isMidpoint: boolean;
  spread: GainPoint["spread"];
  estimates: number[];
  errors: number[];
};

/** An arm's effects at one dose as one mark, at their mean. */
const armsOf = ({ answer, borrowed = [], unweighted = [] }: DoseCurveInput): readonly Arm[] => {
  const found = new Map<string, Arm>();
  const add = (one: Omit<Arm, "estimates" | "errors">, estimate: number, error?: number): void => {
    const key = JSON.stringify([one.study, one.arm, one.dose, one.spread]);
    const arm = found.get(key) ?? { ...one, estimates: [], errors: [] };
    arm.estimates.push(estimate);
    if (error !== undefined) arm.errors.push(error);
    found.set(key, arm);
  };
  for (const { effectId, estimate, standardError, study, arm, dose, isMidpoint } of answer.points)
    add(
      { study, arm, dose, isMidpoint, spread: borrowed.includes(effectId) ? "borrowed" : "own" },
      estimate,
      standardError,
    );
  for (const { study, arm, dose, estimate } of unweighted)
    add({ study, arm, dose, isMidpoint: false, spread: "none" }, estimate);
  return [...found.values()];
};

const mean = (values: readonly number[]): number =>
  values.reduce((total, value) => total + value, 0) / values.length;

/**
 * The gain along a dose: the averaged curve with its bands, arms at their mean, and what joins arms of one study.
 *
 * Where low doses crowd, the axis runs by square roots. Where no comparison behind the curve reaches, the ground is
 * grey and the curve dotted. What runs out of the drawing ends in a triangle.
 */
export const doseCurveFigure = (input: DoseCurveInput, room: Room = roomOf()): Figure => {
  const { answer, family } = input;
  const { axis, curve, support, readOffs, scale } = answer;
  const display = scaleDisplay(scale);
  const shown = (value: number): number => display.toShown(value);
  const unweighted = input.unweighted ?? [];
  const arms = armsOf(input);
  const doses = [support.lowest, support.highest, ...unweighted.map(({ dose }) => dose)];
  const [lowest, highest] = [Math.min(...doses), Math.max(...doses)];
  const byRoot = axis.kind === "number" && lowest > 0 && highest / lowest > crowded;
  const air = byRoot
    ? 0.03 * (Math.sqrt(highest) - Math.sqrt(lowest))
    : 0.03 * (highest - lowest) || 1;
  const domain = byRoot
    ? ([Math.max(0, Math.sqrt(lowest) - air) ** 2, (Math.sqrt(highest) + air) ** 2] as const)
    : axis.kind === "levels"
      ? ([-0.25, 1.25] as const)
      : ([lowest - air, highest + air] as const);
  const confidence = confidenceWords(answer.confidence);
  const inside = curve.filter(({ supported }) => supported);
  const labels = new Map(answer.shapes.map((one) => [one.name, one.label]));
  const weighed = [...answer.shapeCurves]
    .sort((a, b) => b.weight - a.weight)
    .map((one) => ({
      ...one,
      label: `${labels.get(one.shape) ?? one.shape} ${sharePercent(one.weight)}`,
    }));
  const heaviest = weighed
    .slice(0, 3)
    .map(({ label }) => label)
    .join(", ");
  const chart = gainChart(
    {
      gainTitle: display.label,
      x: {
        title: `${capital(axis.label)}${axis.unit === "" || axis.unit === "weeks" ? "" : `, ${axis.unit}`}`,
        domain,
        ...(byRoot ? { scale: "sqrt" } : {}),
        ...(axis.levels === undefined ? {} : { levels: axis.levels }),
        whole: axis.unit === "",
      },
      names: {
        curve: "average",
        each: `${confidence}, each dose`,
        whole: `${confidence}, whole curve`,
      },
      panels: [
        {
          name: "dose",
          points: arms.map(({ study, arm, dose, isMidpoint, spread, estimates, errors }) => {
            const middle = mean(estimates);
            return {
              x: dose,
              gain: shown(middle),
              ...(spread === "borrowed"
                ? {
                    low: shown(middle - reach * mean(errors)),
                    high: shown(middle + reach * mean(errors)),
                  }
                : {}),
              spread,
              series: study,
              full: oneLine(
                `${study}, ${arm}: ${namedDose(dose, axis)}${isMidpoint ? " (midpoint of a range)" : ""}, ${display.write(middle)}${display.sign}${estimates.length === 1 ? "" : `, mean of ${estimates.length} effects`}`,
              ),
            };
          }),
          curve: curve.map(({ dose, estimate, interval, simultaneous, supported }) => ({
            x: dose,
            gain: shown(estimate),
            low: shown(interval.low),
            high: shown(interval.high),
            wholeLow: shown(simultaneous.low),
            wholeHigh: shown(simultaneous.high),
            reached: supported,
          })),
          thin: weighed
            .filter(({ weight }) => weight >= drawnWeight)
            .map(({ label, heights }) => ({
              label,
              places: inside.map(({ dose }, place) => ({ x: dose, gain: shown(heights[place]!) })),
            })),
        },
      ],
    },
    room,
  );
  const title = input.title ?? doseTitle(answer, family);
  const counts = `${counted(answer.effects, "effect")} from ${counted(answer.studies, "study", "studies")}`;
  const { from, to, added } = readOffs.whole;
  const evidence = capital(answer.evidenceWords);
  const said = `Change of the gain${axis.levels === undefined ? ", from" : ":"} ${doseSpan(axis, { low: from, high: to })}: ${doseShown(added, scale, `${confidence} interval `)}. ${counts}. ${evidence}.`;
  const end = (place: number) => {
    const { dose, estimate, interval } = inside.at(place)!;
    return `at ${namedDose(dose, axis)} the curve says ${valueText(display, { estimate, ...interval })}`;
  };
  const description = oneLine(
    `${title}. ${counts}; ${answer.evidenceWords}. From low to high: ${end(0)}, ${end(-1)}. Weights of the shapes: ${heaviest}.${readOffs.best.kind === "told" ? "" : ` ${readOffs.best.reason}.`}`,
  );
  const beyond = inside.length < curve.length;
  const spreads = new Set(arms.map(({ spread }) => spread));
  return {
    id: input.id ?? `dose-${kebabName(family)}-${kebabName(axis.name)}`,
    title,
    brief: `Points: arms; lines join arms of one study.${beyond ? " Dotted: nothing was compared there." : ""}${chart.runsOut ? ` ${runsOutWords}` : ""}`,
    caption: [
      `Points: arms, each at the mean of its effects at a dose${unweighted.length > 0 ? ", those without a spread shown and not weighted" : ""}; lines join arms of one study.`,
      `Thick: average of the shapes by their weights (${heaviest}). Thin full lines around it: ${confidence} interval at each dose, the choice of shape in it; broken lines: the band that holds the whole curve.`,
      ...(room.size === "page" && answer.shapeCurves.length > 1
        ? ["Hair lines: single shapes with a weight of 10% or more."]
        : []),
      ...(beyond ? ["Grey ground, dotted: no comparison behind the curve reaches there."] : []),
      ...(chart.runsOut ? [runsOutWords] : []),
      ...(byRoot ? ["The axis of doses runs by square roots."] : []),
      ...(spreads.size > 1
        ? []
        : spreads.has("own")
          ? ["All arms have a spread of their own."]
          : []),
    ].join(" "),
    ...drawnChart(chart, { text: [title], subtitle: [said], description }),
    data: [
      ...curve.map((point) => ({
        kind: point.supported ? "curve" : "curve beyond the comparisons",
        study: "",
        arm: "",
        dose: point.dose,
        estimate: point.estimate,
        low: point.interval.low,
        high: point.interval.high,
        wholeLow: point.simultaneous.low,
        wholeHigh: point.simultaneous.high,
        shown: shown(point.estimate),
      })),
      ...[
        ...answer.points.map((point) => ({ ...point, kind: "effect" })),
        ...unweighted.map((point) => ({ ...point, kind: "not weighted" })),
      ].map(({ kind, study, arm, dose, estimate }) => ({
        kind,
        study,
        arm,
        dose,
        estimate,
        low: null,
        high: null,
        wholeLow: null,
        wholeHigh: null,
        shown: shown(estimate),
      })),
    ],
  };
};
