import type { EffectScale } from "../effects/effect.js";
import { CallError } from "../errors.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { capital, counted, formatNumber } from "../tables/number-format.js";
import { scaleDisplay, valueText } from "../tables/scale-display.js";
import { highest } from "./extremes.js";
import { studiesIn } from "./estimates-input.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { gainChart } from "./gain-chart.js";
import { spreadOf } from "./gain-panel.js";
import { requireFinite } from "./require-finite.js";
import { drawnChart } from "./row-chart.js";
import { oneLine } from "./wrap-text.js";

/** One effect and its standard error, both on the analysis scale. */
export type PrecisionEffect = Readonly<{
  study: string;
  /** As in the figure of estimates. */
  cohort?: string;
  label: string;
  estimate: number;
  standardError: number;
}>;

export type PrecisionInput = Readonly<{
  id?: string;
  title?: string;
  /** What the effects are of, for the words. */
  family?: string;
  effects: readonly PrecisionEffect[];
  /** Places among them of those on a borrowed spread. */
  borrowed?: readonly number[];
  pooled?: Readonly<{ estimate: number; interval: Interval }> | undefined;
  scale: EffectScale;
}>;

export const precisionInputDefaults = { id: "precision" } as const;

/** Fewest studies with which a test of unevenness is worth reading. */
export const fewestStudiesForATest = 10;

/** Two-sided p of 0.10, 0.05 and 0.01, as distances from no change in standard errors (normal). */
const contours = [
  { p: 0.1, distance: 1.6448536269514722 },
  { p: 0.05, distance: 1.959963984540054 },
  { p: 0.01, distance: 2.5758293035489004 },
] as const;

const zones = ["p over 0.10", "0.05 to 0.10", "0.01 to 0.05", "p under 0.01"] as const;

const zoneOf = ({ estimate, standardError }: PrecisionEffect): number => {
  const distance = Math.abs(estimate) / standardError;
  const inside = contours.findIndex((contour) => distance < contour.distance);
  return inside === -1 ? contours.length : inside;
};

/** The value in the middle, or between the two there. */
const median = (values: readonly number[]): number => {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length / 2;
  return (sorted[Math.ceil(half) - 1]! + sorted[Math.floor(half)]!) / 2;
};

const where = "precisionFigure";

/**
 * Effects against their standard error, between lines that tell how far each lies from no change.
 *
 * Precision grows to the left, effects run up. Without small-study effects the points narrow evenly
 * towards the average on the left. The lines are two-sided p of a single effect; when missing points
 * would lie where results are not significant, non-publication is one explanation, and otherwise
 * something else is likelier. The words beside the figure say what it cannot tell.
 *
 * @param input  effects with standard errors above 0
 * @throws {CallError} "no-effects", "not-finite", "standard-error"
 */
export const precisionFigure = (input: PrecisionInput, room: Room = roomOf()): Figure => {
  const { effects, pooled, borrowed = [] } = input;
  const display = scaleDisplay(input.scale);
  const shown = (value: number): number => display.toShown(value);
  if (effects.length === 0) {
    throw new CallError({ code: "no-effects", where, needs: "at least one effect", got: "none" });
  }
  for (const { study, estimate, standardError } of effects) {
    const place = `${where} (study ${JSON.stringify(study)})`;
    requireFinite(place, { estimate, "standard error": standardError });
    if (!(standardError > 0)) {
      throw new CallError({
        code: "standard-error",
        where: place,
        needs: "a standard error above 0",
        got: String(standardError),
      });
    }
  }
  if (pooled !== undefined) {
    requireFinite(`${where} (pooled)`, {
      estimate: pooled.estimate,
      "interval low": pooled.interval.low,
      "interval high": pooled.interval.high,
    });
  }
  const widest = highest(effects.map(({ standardError }) => standardError)) * 1.06;
  const steps = Array.from({ length: 25 }, (_, i) => (i / 24) * widest);
  const line = (distance: number, label: string) => ({
    label,
    places: steps.map((error) => ({ x: error, gain: shown(distance * error) + 0 })),
  });
  const chart = gainChart(
    {
      gainTitle: display.label,
      x: {
        title: `Standard error${room.size === "column" ? "" : `${display.spacing === "ratio" ? " of the log ratio" : ""} (more precise to the left)`}`,
        domain: [0, widest],
      },
      // The ground on both sides of no change is shown, since missing effects would leave it empty.
      inside: [-1, 1].map((side) => shown(side * contours[1].distance * widest)),
      thinAlways: true,
      names: { curve: "average", each: "its interval" },
      panels: [
        {
          name: "precision",
          points: effects.map(({ study, label, estimate, standardError }, place) => ({
            x: standardError,
            gain: shown(estimate),
            ...spreadOf(
              { effectId: String(place), estimate, variance: standardError ** 2 },
              borrowed.map(String),
              shown,
            ),
            series: `${place}`,
            full: oneLine(
              `${study} ${label}: ${display.write(estimate)}${display.sign}, standard error ${formatNumber(standardError, { digits: 3 })}`,
            ),
          })),
          curve:
            pooled === undefined
              ? []
              : [0, widest].map((x) => ({
                  x,
                  gain: shown(pooled.estimate),
                  low: shown(pooled.interval.low),
                  high: shown(pooled.interval.high),
                  reached: true,
                })),
          thin: contours.flatMap(({ p, distance }) => [
            line(distance, `p ${p.toFixed(2)}`),
            line(-distance, ""),
          ]),
        },
      ],
    },
    room,
  );
  const zoneCounts = zones.map((_, zone) => effects.filter((e) => zoneOf(e) === zone).length);
  const studies = studiesIn(effects);
  const counts = `${counted(effects.length, "effect")} from ${counted(studies, "study", "studies")}`;
  const fewStudies =
    studies < fewestStudiesForATest
      ? ` With ${counted(studies, "study", "studies")} no test of unevenness is given: under ten studies such a test tells too little.`
      : "";
  const apart = zoneCounts[2]! + zoneCounts[3]!;
  // The middle effect of the more and of the less precise half; what lies on the border belongs to neither.
  const border = median(effects.map(({ standardError }) => standardError));
  const halves = [-1, 1].map((side) =>
    effects.filter(({ standardError }) => side * (standardError - border) > 0),
  );
  const inMiddle = (half: readonly PrecisionEffect[]): string =>
    `${display.write(median(half.map(({ estimate }) => estimate)))}${display.sign}`;
  const title =
    input.title ??
    `${capital(input.family ?? "all effects")}: ${
      halves.every(({ length }) => length > 2)
        ? `the more precise half of ${effects.length} effects has its middle at ${inMiddle(halves[0]!)}, the other half at ${inMiddle(halves[1]!)}`
        : `${apart} of ${counted(effects.length, "effect")} ${apart === 1 ? "differs" : "differ"} from no change by ${apart === 1 ? "itself" : "themselves"}`
    }`;
  const said = `${counts}; ${apart} ${apart === 1 ? "differs" : "differ"} from no change by ${apart === 1 ? "itself" : "themselves"}. Two-sided p of a single effect: ${zones.map((zone, index) => `${zone.replace(/^p /, "")}: ${zoneCounts[index]!}`).join("; ")}.${fewStudies}`;
  const average =
    pooled === undefined
      ? ""
      : ` The average is ${valueText(display, { estimate: pooled.estimate, ...pooled.interval })}.`;
  const description = oneLine(`${title}. ${said}${average}`);
  return {
    id: input.id ?? precisionInputDefaults.id,
    title,
    brief:
      "Points: effects. Hair lines: where the two-sided p of one effect against no change is 0.10, 0.05, 0.01.",
    caption:
      "Each point is an effect; more precise effects lie further left. Hair lines: where the two-sided p of a single effect against no change is 0.10, 0.05 and 0.01, the outermost the smallest. " +
      (pooled === undefined ? "" : `Thick: the average, thin lines its interval.${average} `) +
      "If small studies tell the same story as large ones, the points narrow evenly towards the average on the left. " +
      "Points missing on one side can mean that small studies with unwelcome results stayed unpublished, above all where they are missing between the lines of p 0.10. " +
      "It can as well mean that small studies trained other people or in other ways, that the standard error is tied to the size of the effect by its formula, or chance. The figure cannot tell these apart, and evenness does not prove that nothing is missing." +
      (fewStudies === "" ? " A test of unevenness needs at least ten studies." : fewStudies),
    ...drawnChart(chart, { text: [title], subtitle: [said], description }),
    data: effects.map((effect) => ({
      study: effect.study,
      label: effect.label,
      estimate: effect.estimate,
      standardError: effect.standardError,
      shownEstimate: shown(effect.estimate),
      ground: zones[zoneOf(effect)] ?? "",
    })),
  };
};
