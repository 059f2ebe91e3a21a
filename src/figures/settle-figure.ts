/** How likely further trials decide a question: a line for each size of group, rising with the number of trials. */
import { counted, formatNumber } from "../tables/number-format.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { panelDrawing } from "./layer.js";
import { drawnChart } from "./row-chart.js";
import { oneLine } from "./wrap-text.js";

export type SettleInput = Readonly<{
  id: string;
  about: string;
  simulations: number;
  chances: readonly Readonly<{ trials: number; people: number; share: number; error: number }>[];
  /** Of one trial with people without end. */
  boundless: number;
}>;

const percent = (share: number): string => `${formatNumber(100 * share, { digits: 0 })}%`;

/**
 * Chance to decide (up) by number of trials (along, evenly spaced), a line for each size of group with its name at the end;
 * a broken line shows what one trial with people without end would do.
 */
export const settleFigure = (
  { id, about, simulations, chances, boundless }: SettleInput,
  room: Room = roomOf(),
): Figure => {
  const [column, slide] = [room.size === "column", room.size === "slide"];
  const counts = [...new Set(chances.map(({ trials }) => trials))];
  const sizes = [...new Set(chances.map(({ people }) => people))];
  const [left, right] = [44, column ? 62 : 96];
  const width = Math.min(room.width, 620);
  const height = slide ? 150 : column ? 220 : 260;
  const [plot, floor] = [width - left - right, height - 34];
  const along = (trials: number): number =>
    left + 14 + (counts.indexOf(trials) * (plot - 28)) / Math.max(1, counts.length - 1);
  const up = (share: number): number => 8 + (1 - share) * (floor - 8);
  const draw = panelDrawing("chances", { width, height, x: [0, width], y: [0, height] });
  const marks = [0, 0.25, 0.5, 0.75, 1];
  const points = chances.map(({ trials, people, share, error }) => ({
    x: along(trials),
    y: up(share),
    size: String(people),
    full: `${counted(trials, "trial")} of ${people} a group: ${percent(share)}, Monte Carlo error ${formatNumber(100 * error, { digits: 1 })} points`,
  }));
  const last = counts.at(-1)!;
  // More people never decide less, so the largest groups are named first, from the highest line down.
  const top = Math.min(...points.filter(({ x }) => x === along(last)).map(({ y }) => y));
  const first = Math.min(top, floor - 13 * (sizes.length - 1));
  const ends = [...sizes].reverse().map((people, place) => ({
    x: width - right + 8,
    y: first + 13 * place,
    text: column ? `${people} each` : `${people} a group`,
  }));
  const panel = draw.panel([
    draw.lines(
      "grid",
      "grid",
      marks.map((share) => ({ x: left, x2: width - right, y: up(share), y2: up(share) })),
    ),
    draw.words(
      "marks",
      "text-small",
      marks.map((share) => ({ x: left - 6, y: up(share), text: percent(share) })),
      { align: "right" },
    ),
    draw.words(
      "trials",
      "text-small",
      counts.map((trials) => ({ x: along(trials), y: floor + 12, text: String(trials) })),
      { align: "center" },
    ),
    draw.words("what trials", "text-heading", [{ x: left, y: height - 6, text: "further trials" }]),
    draw.lines("boundless", "computed-broken", [
      { x: left, x2: width - right, y: up(boundless), y2: up(boundless) },
    ]),
    ...sizes.map((people) =>
      draw.paths(
        `of ${people}`,
        "computed-line",
        points.filter(({ size }) => size === String(people)),
      ),
    ),
    draw.points("chances", "runs-on", points),
    draw.words("sizes", "text-pooled", ends),
  ]);
  const of = (trials: number, people: number) =>
    chances.find((one) => one.trials === trials && one.people === people)!.share;
  const [few, many] = [sizes[Math.min(1, sizes.length - 1)]!, sizes.at(-1)!];
  const title = `${about}: five more trials of ${few} a group would decide it with a chance of ${percent(of(5, few))}, ten of ${many} with ${percent(of(last, many))}.`;
  const description = oneLine(
    `${title} ${chances.map(({ trials, people, share }) => `${trials} of ${people}: ${percent(share)}`).join("; ")}. One trial with people without end: ${percent(boundless)}.`,
  );
  const error = Math.max(...chances.map((one) => one.error));
  return {
    id,
    title,
    caption: `Up: the chance that the question is decided, whichever way; along: how many trials more. Broken: one trial with people without end, ${percent(boundless)}. From ${simulations} simulated futures, in which the truth is drawn from what today's studies leave open; Monte Carlo error up to ${formatNumber(100 * error, { digits: 1 })} points.`,
    ...drawnChart(
      { view: { hconcat: [panel] }, width, height: height + (slide ? 20 : 30) },
      { text: [title], description },
    ),
    data: chances.map(({ trials, people, share, error: own }) => ({
      trials,
      people,
      chance: share,
      monteCarloError: own,
    })),
  };
};
