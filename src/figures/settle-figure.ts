/** How likely further trials decide a question: a panel for each number of trials, in it a bar for each size of group. */
import { counted, formatNumber, sharePercent } from "../tables/number-format.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { drawnChart } from "./row-chart.js";
import { oneLine, roughTextWidth } from "./wrap-text.js";
import { figureTheme } from "./theme.js";

type Chance = Readonly<{ trials: number; people: number; share: number; error: number }>;

export type SettleInput = Readonly<{
  id: string;
  about: string;
  simulations: number;
  chances: readonly Chance[];
  /** Of trials with people without end: what is left is how trials differ. */
  boundless: readonly Omit<Chance, "people">[];
  /** Sizes of group from and to which all chances are one within the simulation's error; null where no two are. */
  same: Readonly<{ from: number; to: number }> | null;
}>;

const unlimited = "unlimited";
/**
 * The 95% interval of a share that was counted in simulations; of none and of all it has a length too.
 *
 * @source Wilson EB (1927) Journal of the American Statistical Association 22: 209-212
 */
const simulated = (share: number, simulations: number): Readonly<{ low: number; high: number }> => {
  const square = 1.959964 ** 2;
  const middle = (share + square / (2 * simulations)) / (1 + square / simulations);
  const half =
    Math.sqrt(square * ((share * (1 - share)) / simulations + square / (4 * simulations ** 2))) /
    (1 + square / simulations);
  return { low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
};
const points = (error: number): string => formatNumber(100 * error, { digits: 1 });

/**
 * A panel for each number of trials, and in it a bar for each size of group: the block is the chance to decide, its line
 * the simulation's 95% interval. The last row is of trials with people without end.
 */
export const settleFigure = (
  { id, about, simulations, chances, boundless, same }: SettleInput,
  room: Room = roomOf(),
): Figure => {
  const [column, slide] = [room.size === "column", room.size === "slide"];
  const counts = [...new Set(chances.map(({ trials }) => trials))];
  const sizes = [...new Set(chances.map(({ people }) => people))];
  const groupOf = (people: number): string => `${people} a group`;
  const groups = [...sizes.map(groupOf), ...(boundless.length === 0 ? [] : [unlimited])];
  const rows = [
    ...chances.map((one) => ({ ...one, group: groupOf(one.people) })),
    ...boundless.map((one) => ({ ...one, group: unlimited })),
  ].map(({ trials, group, share }) => ({
    trials,
    group,
    chance: share,
    ...simulated(share, simulations),
    whole: 1,
    none: 0,
    text: sharePercent(share),
  }));
  const heading = "more trials";
  const places = [heading, ...groups];
  const { small } = figureTheme.sizes;
  const names = Math.ceil(Math.max(...places.map((text) => 1.1 * roughTextWidth(text, small)))) + 8;
  const gap = column ? 8 : 20;
  const width = Math.floor((Math.min(room.width, 760) - names + gap) / counts.length) - gap;
  const step = slide ? Math.floor(150 / places.length) : 34;
  const [above, below] = slide ? [-5, 6] : [-6, 7];
  const x = (field: string) => ({
    field,
    type: "quantitative",
    scale: { domain: [0, 1], nice: false },
    axis: null,
  });
  const y = {
    field: "group",
    type: "ordinal",
    scale: { type: "band", domain: places, padding: 0 },
    axis: null,
  };
  const words = (style: string, yOffset: number) => ({
    ...{ type: "text", style, align: "left", baseline: "middle", yOffset },
  });
  const text = { field: "text", type: "nominal" };
  const panel = (trials: number) => {
    const own = rows.filter((row) => row.trials === trials);
    const layer = (name: string, values: readonly object[], mark: object, encoding: object) => ({
      ...{ name: `${name}, ${counted(trials, "trial")}`, data: { values }, mark },
      encoding: { y, ...encoding },
    });
    const bar = { type: "bar", height: 9, yOffset: below };
    return {
      ...{ name: counted(trials, "trial"), width, height: step * places.length },
      layer: [
        layer("trials", [{ group: heading, text: String(trials) }], words("text-heading", 0), {
          ...{ x: { value: 0 }, text },
        }),
        layer(
          "of a hundred",
          own,
          { ...bar, style: "track" },
          { x: x("none"), x2: { field: "whole" } },
        ),
        layer(
          "chances",
          own,
          { ...bar, style: "pooled-bar" },
          { x: x("none"), x2: { field: "chance" } },
        ),
        layer(
          "errors",
          own,
          { type: "rule", style: "zero", yOffset: below },
          { x: x("low"), x2: { field: "high" } },
        ),
        layer("numbers", own, words("text-body", above), { x: { value: 0 }, text }),
      ],
    };
  };
  const sides = {
    ...{ name: "names", width: names - gap, height: step * places.length },
    layer: [
      {
        name: "what trials",
        data: { values: [{ group: heading, text: heading }] },
        mark: words("text-heading", 0),
        encoding: { y, x: { value: 0 }, text },
      },
      {
        name: "sizes",
        data: { values: groups.map((group) => ({ group, text: group })) },
        mark: words("text-body", 0),
        encoding: { y, x: { value: 0 }, text },
      },
    ],
  };
  const of = (trials: number, people: number) =>
    chances.find((one) => one.trials === trials && one.people === people)!.share;
  const [few, many, last] = [sizes[Math.min(1, sizes.length - 1)]!, sizes.at(-1)!, counts.at(-1)!];
  const title = `${about}: five more trials of ${few} a group decide it with a chance of ${sharePercent(of(5, few))}, ten of ${many} with ${sharePercent(of(last, many))}.`;
  const alike =
    same === null
      ? ""
      : `${same.from} to ${same.to} a group: the same, within the simulation's error.`;
  const ends = boundless.map(
    ({ trials, share }) => `${counted(trials, "trial")} ${sharePercent(share)}`,
  );
  const description = oneLine(
    `${title} ${chances.map(({ trials, people, share }) => `${trials} of ${people}: ${sharePercent(share)}`).join("; ")}. People without end: ${ends.join(", ")}. ${alike}`,
  );
  const error = points(Math.max(...chances.map((one) => one.error)));
  return {
    id,
    title,
    caption: `Block: the chance that the question is decided, whichever way; the whole bar is 100%. Line: the simulation's 95% interval. ${ends.length === 0 ? "" : `Unlimited: groups without end, for ${boundless.map(({ trials }) => trials).join(" and ")} trials. `}From ${simulations} simulated futures, in which the truth is drawn from what today's studies leave open; Monte Carlo error up to ${error} points.`,
    ...drawnChart(
      {
        view: { hconcat: [sides, ...counts.map(panel)], spacing: gap, bounds: "flush" },
        width: names + (width + gap) * counts.length - gap,
        height: step * places.length + (slide ? 8 : 30),
      },
      { text: [title], subtitle: [alike], description },
    ),
    data: chances.map(({ trials, people, share, error: own }) => ({
      trials,
      people,
      chance: share,
      monteCarloError: own,
    })),
  };
};
