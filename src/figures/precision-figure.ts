import type { EffectScale } from "../effects/effect.js";
import { CallError } from "../errors.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { formatCount, formatNumber } from "../tables/number-format.js";
import { scaleDisplay, valueText } from "../tables/scale-display.js";
import { axisTicks, highest, lowest, roundValues } from "./axis-ticks.js";
import type { Figure } from "./figure.js";
import { panelDrawing, plainFrame, type Reach } from "./layer.js";
import { requireFinite } from "./require-finite.js";
import { studiesIn } from "./estimates-input.js";
import { themeConfig } from "./theme-config.js";
import { oneLine, wrapText } from "./wrap-text.js";

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
  effects: readonly PrecisionEffect[];
  pooled?: Readonly<{ estimate: number; interval: Interval }> | undefined;
  scale: EffectScale;
}>;

export const precisionInputDefaults = {
  id: "precision",
  title: "Do small studies tell the same story as large ones?",
} as const;

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

const width = 520;
const height = 340;
const where = "precisionFigure";

/** The ground where an effect lies within `distance` standard errors of no change, cut to the panel. */
const wedge = (
  distance: number,
  widest: number,
  [low, high]: readonly [number, number],
): readonly Reach[] =>
  [0, high / distance, -low / distance, widest]
    .filter((x) => x >= 0 && x <= widest)
    .sort((a, b) => a - b)
    .map((x) => ({ x, y: Math.min(high, distance * x), y2: Math.max(low, 0 - distance * x) }));

/** Moves labels apart, keeping their order, so that none is nearer than `apart` to the next. */
const spreadApart = <T extends Readonly<{ y: number }>>(
  labels: readonly T[],
  apart: number,
): readonly T[] => {
  const sorted = [...labels].sort((a, b) => a.y - b.y);
  const out: T[] = [];
  for (const label of sorted) {
    const before = out.at(-1);
    out.push(
      before !== undefined && label.y - before.y < apart
        ? { ...label, y: before.y + apart }
        : label,
    );
  }
  return out;
};

/**
 * Effects against their precision, over grounds that tell how far each lies from no change.
 *
 * Precision grows to the right, effects run up. Without small-study effects the points narrow evenly
 * towards the pooled line on the right. The grounds are the two-sided p of a single effect; when missing points
 * would lie where results are not significant, non-publication is one explanation, and otherwise
 * something else is likelier. The words beside the figure say what it cannot tell.
 *
 * @param input  effects with standard errors above 0
 * @throws {CallError} "no-effects", "not-finite", "standard-error"
 */
export const precisionFigure = (input: PrecisionInput): Figure => {
  const { effects, pooled } = input;
  const display = scaleDisplay(input.scale);
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
  const title = input.title ?? precisionInputDefaults.title;
  const widest = highest(effects.map(({ standardError }) => standardError)) * 1.06;
  // The ground on both sides of no change is shown, since missing effects would leave it empty.
  const ground = contours[1].distance * widest;
  const values = [-ground, ground, ...effects.map(({ estimate }) => estimate)];
  if (pooled !== undefined) values.push(pooled.interval.low, pooled.interval.high);
  const reach = highest(values) - lowest(values);
  const domain = [lowest(values) - 0.05 * reach, highest(values) + 0.05 * reach] as const;
  const [low, high] = domain;

  const draw = panelDrawing("precision", { width, height, x: [widest, 0], y: [high, low] });
  const effectTicks = axisTicks(domain, display, { length: height, labels: "beside" });
  const precisionTicks = roundValues(0, widest, 6);
  const precisionDigits = Math.max(
    ...precisionTicks.map((value) => (String(value).split(".")[1] ?? "").length),
  );
  const yOf = (value: number) => ((high - value) / (high - low)) * height;
  const xOf = (standardError: number) => (1 - standardError / widest) * width;
  const level = (value: number) => ({ x: widest, x2: 0, y: value, y2: value });
  const zoneCounts = zones.map((_, zone) => effects.filter((e) => zoneOf(e) === zone).length);

  const leftWidth = 58;
  const leftPanel = panelDrawing("effect axis", plainFrame(leftWidth, height));
  const rightWidth = 186;
  const rightPanel = panelDrawing("line labels", plainFrame(rightWidth, height));
  const footHeight = 40;
  const footPanel = panelDrawing(
    "precision axis",
    plainFrame(leftWidth + width + rightWidth, footHeight),
  );
  const keyPanel = panelDrawing("key", plainFrame(leftWidth + width + rightWidth, 46));
  const keyStep = 132;

  const lineLabels = spreadApart(
    [
      { y: yOf(0), text: "no change", pooledLabel: false },
      ...(pooled === undefined
        ? []
        : [
            {
              y: yOf(pooled.estimate),
              text: `average ${valueText(display, { estimate: pooled.estimate, ...pooled.interval })}`,
              pooledLabel: true,
            },
          ]),
    ],
    14,
  );

  const studies = studiesIn(effects);
  const counts = `${formatCount(effects.length)} ${effects.length === 1 ? "effect" : "effects"} from ${formatCount(studies)} ${studies === 1 ? "study" : "studies"}`;
  const fewStudies =
    studies < fewestStudiesForATest
      ? ` With ${formatCount(studies)} ${studies === 1 ? "study" : "studies"} no test of unevenness is given: under ten studies such a test tells too little.`
      : "";
  const description =
    `${oneLine(title)} ${counts}; of single effects, ` +
    zones
      .map((zone, index) => `${zoneCounts[index] ?? 0} with ${zone.replace(/^(\d)/, "p $1")}`)
      .join(", ") +
    (pooled === undefined
      ? "."
      : `. The average is ${valueText(display, { estimate: pooled.estimate, ...pooled.interval })}.`);

  return {
    id: input.id ?? precisionInputDefaults.id,
    title,
    caption:
      `${counts}. Each point is an effect; more precise effects lie further right. The denser the ground, the higher the two-sided p of a single effect against no change. ` +
      (pooled === undefined
        ? ""
        : "The full line is the pooled average, the broken lines its interval. ") +
      "If small studies tell the same story as large ones, the points narrow evenly towards the average on the right. " +
      "Points missing on one side can mean that small studies with unwelcome results stayed unpublished, above all where they are missing from the ground of high p. " +
      "It can as well mean that small studies trained other people or in other ways, that the standard error is tied to the size of the effect by its formula, or chance. The figure cannot tell these apart, and evenness does not prove that nothing is missing." +
      (fewStudies === "" ? " A test of unevenness needs at least ten studies." : fewStudies),
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width: leftWidth + width, fontSize: 16, lines: 3 })],
        subtitle: [
          ...wrapText(`${counts}.${fewStudies}`, {
            width: leftWidth + width + rightWidth,
            fontSize: 11.5,
            lines: 3,
          }),
        ],
      },
      spacing: 0,
      vconcat: [
        keyPanel.panel([
          keyPanel.words("key heading", "text-heading", [
            {
              x: leftWidth,
              y: 6,
              text: "Two-sided p of a single effect, and how many effects lie there",
            },
          ]),
          ...zones.map((_, index) =>
            keyPanel.boxes(`key ${index + 1}`, `contour-${index + 1}`, [
              {
                x: leftWidth + index * keyStep,
                x2: leftWidth + index * keyStep + 18,
                y: 17,
                y2: 31,
              },
            ]),
          ),
          keyPanel.lines(
            "key frames",
            "grid",
            zones.flatMap((_, index) => {
              const x = leftWidth + index * keyStep;
              return [
                { x, x2: x + 18, y: 17, y2: 17 },
                { x, x2: x + 18, y: 31, y2: 31 },
                { x, x2: x, y: 17, y2: 31 },
                { x: x + 18, x2: x + 18, y: 17, y2: 31 },
              ];
            }),
          ),
          keyPanel.words(
            "key words",
            "text-body",
            zones.map((zone, index) => ({
              x: leftWidth + index * keyStep + 24,
              y: 24,
              text: `${zone}: ${zoneCounts[index] ?? 0}`,
            })),
          ),
        ]),
        {
          spacing: 0,
          hconcat: [
            leftPanel.panel([
              leftPanel.words(
                "effects",
                "text-small",
                effectTicks.map(({ position, label }) => ({
                  x: leftWidth - 8,
                  y: yOf(position),
                  text: label,
                })),
                { align: "right" },
              ),
              leftPanel.words(
                "heading",
                "text-heading",
                [{ x: 8, y: height / 2, text: display.label }],
                { align: "center", angle: 270, limit: height },
              ),
            ]),
            draw.panel([
              draw.boxes("outer ground", "contour-4", [{ x: widest, x2: 0, y: high, y2: low }]),
              ...[2, 1, 0].map((index) =>
                draw.areas(
                  `ground ${zones[index] ?? ""}`,
                  `contour-${index + 1}`,
                  wedge(contours[index]?.distance ?? 0, widest, domain),
                ),
              ),
              draw.lines("frame", "grid", [
                { x: widest, x2: 0, y: low, y2: low },
                { x: widest, x2: widest, y: low, y2: high },
              ]),
              draw.lines("no change", "zero", [level(0)]),
              ...(pooled === undefined
                ? []
                : [
                    draw.lines("average", "pooled-line", [level(pooled.estimate)]),
                    draw.lines("interval of the average", "pooled-edge", [
                      level(pooled.interval.low),
                      level(pooled.interval.high),
                    ]),
                  ]),
              draw.points(
                "effects",
                "effect-point",
                effects.map(({ study, label, estimate, standardError }) => ({
                  x: standardError,
                  y: estimate,
                  full: oneLine(
                    `${study} ${label}: ${display.write(estimate)}${display.sign}, standard error ${formatNumber(standardError, { digits: 3 })}`,
                  ),
                })),
              ),
            ]),
            rightPanel.panel([
              rightPanel.words(
                "no change label",
                "text-body",
                lineLabels
                  .filter(({ pooledLabel }) => !pooledLabel)
                  .map(({ y, text }) => ({ x: 8, y, text })),
              ),
              rightPanel.words(
                "average label",
                "text-pooled-strong",
                lineLabels
                  .filter(({ pooledLabel }) => pooledLabel)
                  .map(({ y, text }) => ({ x: 8, y, text })),
                { limit: rightWidth - 8 },
              ),
            ]),
          ],
        },
        footPanel.panel([
          footPanel.lines(
            "marks",
            "grid",
            precisionTicks.map((value) => ({
              x: leftWidth + xOf(value),
              x2: leftWidth + xOf(value),
              y: 0,
              y2: 4,
            })),
          ),
          footPanel.words(
            "standard errors",
            "text-small",
            precisionTicks.map((value) => ({
              x: leftWidth + xOf(value),
              y: 12,
              text: formatNumber(value, { digits: precisionDigits }),
            })),
            { align: "center" },
          ),
          footPanel.words("heading", "text-heading", [
            {
              x: leftWidth,
              y: 32,
              text:
                display.spacing === "ratio" ? "Standard error of the log ratio" : "Standard error",
            },
          ]),
          footPanel.words(
            "direction",
            "text-small",
            [{ x: leftWidth + width, y: 32, text: "more precise \u2192" }],
            { align: "right" },
          ),
        ]),
      ],
      config: themeConfig("light"),
    },
    data: effects.map((effect) => ({
      study: effect.study,
      label: effect.label,
      estimate: effect.estimate,
      standardError: effect.standardError,
      shownEstimate: display.toShown(effect.estimate),
      ground: zones[zoneOf(effect)] ?? "",
    })),
  };
};
