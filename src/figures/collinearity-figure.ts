import type { CollinearPair } from "../dose/collinearity.js";
import { CallError } from "../errors.js";
import { kebabName } from "../tables/dose-table.js";
import { capital, counted } from "../tables/number-format.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { drawnChart, rowChart, slideRows, type ChartRow } from "./row-chart.js";
import { oneLine } from "./wrap-text.js";

export type CollinearityInput = Readonly<{
  id?: string;
  title?: string;
  /** Outcome family, for the words. */
  family: string;
  pairs: readonly CollinearPair[];
}>;

const kinds = ["inside studies", "only between studies"] as const;

const groups = {
  no: "Cannot be told apart",
  hardly: "Can hardly be told apart",
  yes: "Can be told apart",
  "not studied": "Not compared inside studies",
} as const satisfies Record<CollinearPair["toldApart"], string>;

const signed = (r: number): string => `${r < 0 ? "−" : ""}${Math.abs(r).toFixed(2)}`;
const named = ({ first, second }: CollinearPair): string => `${first.label} and ${second.label}`;
const closeness = ({ within, between }: CollinearPair): number => Math.abs((within ?? between)!.r);

/**
 * How doses move together: a row for each pair, from no relation to its correlation; filled inside studies, hollow
 * where only studies differ in both. The closest pairs stand first, under what can be told of them.
 *
 * @throws {CallError} "no-pairs"
 */
export const collinearityFigure = (input: CollinearityInput, room: Room = roomOf()): Figure => {
  const { pairs, family } = input;
  if (pairs.length === 0) {
    throw new CallError({
      code: "no-pairs",
      where: "collinearityFigure",
      needs: "at least one pair of doses",
      got: "none",
    });
  }
  const told = pairs.filter(({ within, between }) => (within ?? between) !== undefined);
  const places = Object.keys(groups);
  const groupOf = ({ within, toldApart }: CollinearPair) =>
    groups[within === undefined ? "not studied" : toldApart];
  const sorted = [...told].sort(
    (a, b) =>
      places.findIndex((key) => groups[key as keyof typeof groups] === groupOf(a)) -
        places.findIndex((key) => groups[key as keyof typeof groups] === groupOf(b)) ||
      closeness(b) - closeness(a),
  );
  const drawn = sorted.slice(0, room.size === "slide" ? slideRows : room.rows);
  const rows = drawn.map((pair): ChartRow => {
    const { r, studies } = (pair.within ?? pair.between)!;
    return {
      group: groupOf(pair),
      label: capital(named(pair)),
      low: Math.min(0, r),
      estimate: r,
      high: Math.max(0, r),
      kind: pair.within === undefined ? kinds[1] : kinds[0],
      word: signed(r),
      strong: pair.toldApart === "no",
      aside: counted(studies, "study", "studies"),
    };
  });
  const chart = rowChart(
    {
      rows,
      kinds,
      axisTitle: "Correlation of the two doses",
      zone: { amount: 0.6, words: "grey: under 0.6" },
    },
    room,
  );
  const together = sorted.filter(
    ({ toldApart, within }) => toldApart === "no" && within !== undefined,
  );
  const name = capital(family);
  const more = together.length - 2;
  const title =
    input.title ??
    (sorted.every(({ within }) => within === undefined)
      ? `${name}: no two doses were compared inside three studies, so none can be told apart`
      : together.length === 0
        ? `${name}: no two doses move together so closely inside studies that they cannot be told apart`
        : `${name}: ${together.slice(0, 2).map(named).join(", and ")} cannot be told apart${more > 0 ? `, nor can ${counted(more, "more pair")}` : ""}`);
  const left = sorted.length - drawn.length;
  const unstudied = pairs.length - told.length;
  const said = [
    ...(left === 0 ? [] : [`The ${drawn.length} closest of ${sorted.length} pairs.`]),
    "From 0.6 on two doses can hardly be told apart, from 0.8 on not at all.",
  ].join(" ");
  const description = oneLine(`${title}. ${pairs.map(({ words }) => words).join(". ")}.`);
  return {
    id: input.id ?? `doses-together-${kebabName(family)}`,
    title,
    brief: said,
    caption: [
      "Filled: correlation of the arms' distances from their study's mean, which decides what comparisons inside studies can tell apart. Hollow: correlation of studies' means, where no three studies vary both.",
      ...(unstudied === 0
        ? []
        : [
            `${capital(counted(unstudied, "pair"))} not drawn: one of the two does not vary in three studies.`,
          ]),
    ].join(" "),
    ...drawnChart(chart, { text: [title], subtitle: [said], description }),
    data: pairs.flatMap((pair) =>
      (["within", "between"] as const).map((where) => ({
        first: pair.first.label,
        second: pair.second.label,
        comparison: where === "within" ? "inside studies" : "between studies",
        correlation: pair[where]?.r ?? null,
        studies: pair[where]?.studies ?? null,
        toldApart: pair.toldApart,
      })),
    ),
  };
};
