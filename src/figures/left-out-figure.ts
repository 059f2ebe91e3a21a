import { contrastShortLabel } from "../effects/scale-label.js";
import { CallError } from "../errors.js";
import type { LeftOutTrial } from "../projection/left-out-in-turn.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import { capital, counted } from "../tables/number-format.js";
import { leftOutSentence } from "../tables/projection-basis-table.js";
import { scaleDisplay } from "../tables/scale-display.js";
import { axisTicks, highest, lowest } from "./axis-ticks.js";
import type { Figure } from "./figure.js";
import { panelDrawing, plainFrame } from "./layer.js";
import { themeConfig } from "./theme-config.js";
import { clipText, oneLine, wrapText } from "./wrap-text.js";

export type LeftOutFigureInput = Readonly<{
  id: string;
  prepared: Pick<ReadyProjection, "goal" | "contrast" | "leftOut">;
}>;

const row = 19;
const names = 190;
const plot = 380;
const words = 190;
const width = names + plot + words;
const head = 8;
const foot = 40;
const display = scaleDisplay("log-ratio-of-means");
const shown = (value: number): string => `${display.write(value)}%`;
const rangeWords = ({ low, high }: LeftOutTrial): string => `${shown(low)} to ${shown(high)}`;

/**
 * Each trial left out in turn: a row with the range that the others give for it, and a mark where it came out. A filled
 * mark lies inside its range, an open one outside. Rows rise with what was expected.
 *
 * @throws {CallError} "no-studies"
 */
export const leftOutFigure = ({ id, prepared }: LeftOutFigureInput): Figure => {
  const { goal, contrast, leftOut } = prepared;
  const trials = [...leftOut.trials].sort((a, b) => b.estimate - a.estimate);
  if (trials.length === 0) {
    throw new CallError({
      code: "no-studies",
      where: "leftOutFigure",
      needs: "at least one trial",
      got: "none",
    });
  }
  const height = head + row * trials.length;
  const ends = trials.flatMap(({ low, high, found }) => [low, high, found, 0]);
  const air = 0.03 * (highest(ends) - lowest(ends));
  const domain = [lowest(ends) - air, highest(ends) + air] as const;
  const at = (value: number): number =>
    names + ((value - domain[0]) / (domain[1] - domain[0])) * plot;
  const middle = (i: number): number => head + (i + 0.5) * row;
  const ticks = axisTicks(domain, display, { length: plot });
  const draw = panelDrawing("left out", plainFrame(width, height + foot));
  const title = `Do the trials foretell each other? ${capital(goal)}`;
  const sentence = leftOutSentence(leftOut);
  const marks = (inside: boolean) =>
    trials.flatMap((trial, i) =>
      trial.inside === inside
        ? [
            {
              x: at(trial.found),
              y: middle(i),
              full: oneLine(
                `${trial.study}: found ${shown(trial.found)}, expected ${rangeWords(trial)}`,
              ),
            },
          ]
        : [],
    );
  const description = oneLine(
    `${title}. ${sentence} ${trials
      .filter(({ inside }) => !inside)
      .map(
        (trial) =>
          `${trial.study} found ${shown(trial.found)} and ${rangeWords(trial)} was expected.`,
      )
      .join(" ")}`,
  );
  return {
    id,
    title,
    caption:
      `${sentence} A line is the 95% range that the other ${counted(trials.length - 1, "trial")} give for the mean of a trial's arms, its own error in it (${contrastShortLabel(contrast)}); ` +
      "the mark is what it found, open where it lies outside. Trials that share people are left out together.",
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width, fontSize: 16, lines: 3 })],
        subtitle: [...wrapText(sentence, { width, fontSize: 11.5, lines: 3 })],
      },
      spacing: 0,
      vconcat: [
        draw.panel([
          draw.boxes(
            "bands",
            "band",
            trials.flatMap((_, i) =>
              i % 2 === 0 ? [{ x: 0, x2: width, y: head + i * row, y2: head + (i + 1) * row }] : [],
            ),
          ),
          draw.lines(
            "grid",
            "grid",
            ticks.map(({ position }) => ({
              x: at(position),
              x2: at(position),
              y: head,
              y2: height,
            })),
          ),
          draw.lines("no change", "zero", [{ x: at(0), x2: at(0), y: head, y2: height }]),
          draw.words(
            "trials",
            "text-body",
            trials.map(({ study }, i) => ({
              x: 6,
              y: middle(i),
              text: clipText(oneLine(study), 30),
              full: oneLine(study),
            })),
            { limit: names - 12 },
          ),
          draw.boxes(
            "ranges given",
            "effect-middle",
            trials.map(({ low, high }, i) => ({
              x: at(low),
              x2: at(high),
              y: middle(i) - 1.5,
              y2: middle(i) + 1.5,
            })),
          ),
          draw.boxes(
            "middles",
            "effect-middle",
            trials.map(({ estimate }, i) => ({
              x: at(estimate) - 1,
              x2: at(estimate) + 1,
              y: middle(i) - 5,
              y2: middle(i) + 5,
            })),
          ),
          draw.points("found inside", "pair-higher", marks(true)),
          draw.points("found outside", "pair-higher-open", marks(false)),
          draw.words(
            "numbers",
            "text-quiet",
            trials.map((trial, i) => ({
              x: names + plot + 12,
              y: middle(i),
              text: `${shown(trial.found)} ${trial.inside ? "in" : "outside"} ${rangeWords(trial)}`,
            })),
            { limit: words - 12 },
          ),
          draw.words(
            "gains",
            "text-small",
            ticks.map(({ position, label }) => ({ x: at(position), y: height + 12, text: label })),
            { align: "center" },
          ),
          draw.words(
            "heading",
            "text-heading",
            [{ x: names + plot / 2, y: height + 30, text: display.label }],
            { align: "center" },
          ),
        ]),
      ],
      config: themeConfig("light"),
    },
    data: trials.map(({ study, low, estimate, high, found, inside }) => ({
      study,
      low,
      expected: estimate,
      high,
      found,
      inside: inside ? "yes" : "no",
      lowPercent: display.toShown(low),
      expectedPercent: display.toShown(estimate),
      highPercent: display.toShown(high),
      foundPercent: display.toShown(found),
    })),
  };
};
