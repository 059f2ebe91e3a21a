/** Protocols by goals: how many studies each has, and, where nobody looked, what trials there would decide. */
import { counted, sharePercent } from "../tables/number-format.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { panelDrawing, type Words } from "./layer.js";
import { drawnChart, slideRows } from "./row-chart.js";
import { figureTheme } from "./theme.js";
import { oneLine, roughTextWidth } from "./wrap-text.js";

export type NotKnownInput = Readonly<{
  id: string;
  goals: readonly string[];
  cells: readonly Readonly<{
    goal: string;
    intensity: string;
    hold: string;
    studies: number;
    decides: Readonly<{ variable: string; one: number; several: number }> | null;
  }>[];
  people: number;
  several: number;
}>;

/**
 * A row for each combination of intensity and hold length, a column for each goal: a grey number of studies where some
 * looked, a bar of the chance that trials decide where nobody did.
 */
export const notKnownFigure = (
  { id, goals, cells, people, several }: NotKnownInput,
  room: Room = roomOf(),
): Figure => {
  const [column, slide] = [room.size === "column", room.size === "slide"];
  const named = ({ intensity, hold }: (typeof cells)[number]): string =>
    `${intensity}; ${hold.endsWith(" +") ? `${hold.replace(" +", "")} s and over` : `${hold} s`}`;
  const all = [...new Set(cells.map(named))];
  const of = (protocol: string) => cells.filter((cell) => named(cell) === protocol);
  const promise = (protocol: string): number =>
    Math.max(0, ...of(protocol).map(({ decides }) => decides?.several ?? 0));
  const kept = new Set(
    slide ? [...all].sort((a, b) => promise(b) - promise(a)).slice(0, slideRows - 1) : all,
  );
  const protocols = all.filter((protocol) => kept.has(protocol));
  const type = figureTheme.sizes.small;
  const briefly = (protocol: string): string =>
    column ? protocol.replaceAll("and over", "+").replace(/ s$/, "") : protocol;
  const names = 12 + Math.max(...protocols.map((one) => roughTextWidth(briefly(one), 1.04 * type)));
  const each = Math.min(220, (room.width - names) / Math.max(1, goals.length));
  // Where names have no room side by side they stand upright.
  const upright = goals.some((goal) => roughTextWidth(goal, 1.25 * type) > each - 6);
  const head = upright ? 74 : slide ? 14 : 20;
  const step = slide ? 12 : 18;
  const width = names + each * goals.length;
  const height = head + step * protocols.length + 4;
  const draw = panelDrawing("protocols", { width, height, x: [0, width], y: [0, height] });
  const x = (goal: string): number => names + each * goals.indexOf(goal);
  const y = (protocol: string): number => head + step * protocols.indexOf(protocol) + 2;
  const placed = protocols.flatMap((protocol) =>
    of(protocol).map((cell) => ({ cell, left: x(cell.goal), top: y(protocol), protocol })),
  );
  const words: (Words & Readonly<{ style: string }>)[] = [
    ...protocols.map((protocol) => ({
      x: 0,
      y: y(protocol) + step / 2,
      text: briefly(protocol),
      style: "text-body",
    })),
    ...placed.map(({ cell: { studies, decides }, left, top }) => ({
      x: left + 4,
      y: top + step / 2,
      text:
        studies > 0
          ? column
            ? String(studies)
            : counted(studies, "study", "studies")
          : decides === null
            ? "–"
            : column
              ? sharePercent(decides.several)
              : `${slide ? decides.variable.replace(" length", "") : decides.variable} ${sharePercent(decides.several)}`,
      style: studies > 0 ? "text-quiet" : decides === null ? "text-empty" : "text-pooled",
    })),
  ];
  const panel = draw.panel([
    draw.boxes(
      "studied",
      "band",
      placed
        .filter(({ cell }) => cell.studies > 0)
        .map(({ left, top }) => ({ x: left, x2: left + each - 4, y: top + 1, y2: top + step - 1 })),
    ),
    draw.boxes(
      "chances",
      "pooled-band",
      placed.flatMap(({ cell: { decides, studies }, left, top }) =>
        studies > 0 || decides === null
          ? []
          : [
              {
                x: left,
                x2: left + (each - 4) * decides.several,
                y: top + 1,
                y2: top + step - 1,
              },
            ],
      ),
    ),
    draw.words(
      "goals",
      "text-group",
      goals.map((goal) => ({
        x: x(goal) + (upright ? 10 : 4),
        y: upright ? head - 4 : head / 2,
        text: goal,
      })),
      upright ? { angle: 270 } : {},
    ),
    ...draw.styledWords(words),
  ]);
  const empty = cells.filter(({ studies }) => studies === 0);
  const useful = empty.filter(({ decides }) => decides !== null);
  const best = Math.max(0, ...useful.map(({ decides }) => decides!.several));
  const title = `Nobody studied ${empty.length} of ${cells.length} combinations of protocol and goal; ${several} trials there would decide a variable with a chance of ${sharePercent(best)} at most.`;
  const description = oneLine(
    `${title} ${useful.map(({ goal, intensity, hold, decides }) => `${goal}, ${intensity}, ${hold} s: ${decides!.variable} ${sharePercent(decides!.several)}`).join("; ")}.`,
  );
  return {
    id,
    title,
    brief: [
      ...(protocols.length === all.length
        ? []
        : [
            best === 0
              ? `The first ${protocols.length} rows of ${all.length}.`
              : `The ${protocols.length} rows of ${all.length} where trials would decide most.`,
          ]),
      "Grey: studies there are.",
      ...(useful.length === 0
        ? []
        : [
            `Orange: nobody looked, and the chance that ${several} trials of ${people} a group decide the variable named.`,
          ]),
    ].join(" "),
    caption: `Rows: intensity, and seconds of a hold. Grey: studies there are. Orange: nobody looked, and the bar is the chance that ${several} trials of ${people} a group, which set this protocol against the one studied most for the goal, decide the variable that is named, over the whole span of its doses. –: they would decide nothing that is open, or differ in both.`,
    ...drawnChart(
      { view: { hconcat: [panel] }, width, height: height + (slide ? -5 : 30) },
      { text: [title], description },
    ),
    data: cells.map(({ decides, ...cell }) => ({
      ...cell,
      variable: decides?.variable ?? "",
      chanceOfOne: decides?.one ?? null,
      chanceOfSeveral: decides?.several ?? null,
    })),
  };
};
