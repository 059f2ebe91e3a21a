/** How well trials foretell each other: each left out in turn, what the others give for it, and what it found. */
import { contrastShortLabel } from "../effects/scale-label.js";
import { CallError } from "../errors.js";
import type { LeftOutTrial } from "../projection/left-out-in-turn.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import { capital, counted } from "../tables/number-format.js";
import { leftOutSentence } from "../tables/projection-basis-table.js";
import { scaleDisplay } from "../tables/scale-display.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { drawnChart, rowChart, slideRows } from "./row-chart.js";
import { clipText, oneLine } from "./wrap-text.js";

export type LeftOutFigureInput = Readonly<{
  id: string;
  prepared: Pick<ReadyProjection, "goal" | "contrast" | "leftOut">;
}>;

const kinds = ["what it found", "expected from the others"] as const;
const display = scaleDisplay("log-ratio-of-means");
const shown = (value: number): string => `${display.write(value)}%`;
const rangeWords = ({ low, high }: LeftOutTrial): string => `${shown(low)} to ${shown(high)}`;

/**
 * Each trial left out in turn: a row with the range that the others give for it, and a dot where it came out; a word
 * says which came out outside. Rows rise with what was expected.
 *
 * @throws {CallError} "no-studies"
 */
export const leftOutFigure = (
  { id, prepared }: LeftOutFigureInput,
  room: Room = roomOf(),
): Figure => {
  const { goal, contrast, leftOut } = prepared;
  const trials = [...leftOut.trials].sort((a, b) => b.estimate - a.estimate);
  if (trials.length === 0)
    throw new CallError({
      code: "no-studies",
      where: "the figure of trials left out in turn",
      needs: "at least one trial",
      got: "none",
    });
  // A slide keeps those outside their range, and then those that were foretold most narrowly.
  const rank = ({ inside, low, high }: LeftOutTrial): number => (inside ? high - low : 0);
  const kept = new Set(
    [...trials]
      .sort((a, b) => rank(a) - rank(b))
      .slice(0, room.size === "slide" ? slideRows : Infinity),
  );
  const drawn = trials.filter((trial) => kept.has(trial));
  const chart = rowChart(
    {
      rows: drawn.map((trial) => ({
        label: clipText(oneLine(trial.study), 40),
        low: display.toShown(trial.low),
        estimate: display.toShown(trial.estimate),
        high: display.toShown(trial.high),
        dot: display.toShown(trial.found),
        kind: kinds[1],
        word: `${shown(trial.found)}${trial.inside ? "" : ", outside"}${room.size === "slide" ? "" : ` ${trial.inside ? "in" : "of"} ${rangeWords(trial)}`}`,
        strong: !trial.inside,
      })),
      kinds,
      pooled: kinds[1],
      axisTitle: display.label,
    },
    room,
  );
  const title = `${capital(goal)}: ${leftOut.inside} of ${counted(trials.length, "trial")} came out inside the range that the others give.`;
  const sentence = leftOutSentence(leftOut);
  const more = trials.length - drawn.length;
  const notShown =
    more === 0
      ? ""
      : `${counted(more, "more trial")} inside ${more === 1 ? "its" : "their"} range not shown.`;
  const brief =
    `Bar: 95% range from the others, with the trial's own error; dot: found. ${notShown}`.trim();
  const said = `${sentence} ${notShown}`.trim();
  const description = oneLine(
    `${title} ${sentence} ${trials
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
    brief,
    caption: `A bar is the 95% range that the other ${counted(trials.length - 1, "trial")} give for the mean of a trial's arms, its own error in it (${contrastShortLabel(contrast)}), with its middle cut out; the dot is what it found. Trials that share people are left out together.`,
    ...drawnChart(chart, { text: [title], subtitle: [said], description }),
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
