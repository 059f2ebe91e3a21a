import { expectSoundFigure } from "./figure-checks.js";
import type { Figure } from "../../src/figures/figure.js";

type Row = Readonly<{
  x: number;
  y: number;
  x2?: number;
  y2?: number;
  text?: string;
  full?: string;
}>;
type Drawn = Readonly<{
  panel: string;
  layer: string;
  mark: Readonly<Record<string, string | number>>;
  rows: readonly Row[];
}>;

type Scale = Readonly<{ domain: readonly [number, number]; reverse: boolean }>;

/** Every layer of a figure in the order in which it is drawn, placed in drawing units of the panel it stands in. */
export const layersOf = (figure: Figure): readonly Drawn[] => {
  const found: Drawn[] = [];
  type Panel = Readonly<{ name: string; width: number; height: number }>;
  const walk = (node: unknown, panel: Panel): void => {
    if (Array.isArray(node)) {
      for (const each of node) walk(each, panel);
      return;
    }
    if (typeof node !== "object" || node === null) return;
    const { name, mark, data, layer, encoding, ...others } = node as Record<string, unknown>;
    if (typeof mark === "object" && mark !== null) {
      const { values } = data as { values: readonly Row[] };
      // Of places and values as encodings; see `placedRows`.
      if (!Array.isArray((encoding as Partial<Record<"y", { scale?: Scale }>>).y?.scale?.domain))
        return;
      if ((encoding as Record<"y", { type: string }>).y.type === "ordinal") return;
      const { x, y } = encoding as Record<"x" | "y", { scale: Scale }>;
      const placed = (
        { scale: { domain, reverse } }: { scale: Scale },
        size: number,
        down: boolean,
      ) => {
        const along = (value: number) => ((value - domain[0]) / (domain[1] - domain[0])) * size;
        // Up the page is where larger numbers go, unless the scale is reversed.
        return (value: number) => (reverse === down ? along(value) : size - along(value));
      };
      const [across, up] = [placed(x, panel.width, false), placed(y, panel.height, true)];
      found.push({
        panel: panel.name,
        layer: String(name).replace(`${panel.name}: `, ""),
        mark: mark as Drawn["mark"],
        rows: values.map((row) => ({
          ...row,
          x: across(row.x),
          y: up(row.y),
          ...(row.x2 === undefined ? {} : { x2: across(row.x2) }),
          ...(row.y2 === undefined ? {} : { y2: up(row.y2) }),
        })),
      });
      return;
    }
    const inside =
      layer === undefined
        ? panel
        : { name: String(name), width: Number(others["width"]), height: Number(others["height"]) };
    for (const each of [layer, ...Object.values(others)]) walk(each, inside);
  };
  walk(figure.specification, { name: "", width: 0, height: 0 });
  return found;
};

/** The number that a place along an axis stands for; undefined outside the axis. */
export type Axis = (place: number) => string | undefined;

const plain = (value: number): string => String(Number(value.toFixed(1)) + 0);

/** The number of a label such as "−10%", "1.5" or "30 s". */
const numberOf = (label: string): number =>
  Number(/[\d.]+/.exec(label.replaceAll(",", ""))?.[0]) * (label.startsWith("−") ? -1 : 1);

/**
 * An axis read as an eye does: by its labels and the places where they stand, straight between them, and half a
 * step beyond the outer ones.
 *
 * @param log whether percentages stand as their log ratios do
 * @param from first and last place that belong to the axis
 * @param shift how much further along the labels' panel begins than the one that is read
 */
export const axisOf = (
  figure: Figure,
  layer: string,
  along: "x" | "y",
  {
    log = false,
    from,
    to,
    shift = 0,
  }: Readonly<{ log?: boolean; from?: number; to?: number; shift?: number }> = {},
): Axis => {
  const into = (value: number): number => (log ? Math.log1p(value / 100) : value);
  const out = (value: number): number => (log ? 100 * Math.expm1(value) : value);
  const labels =
    layersOf(figure).find((each) => `${each.panel}: ${each.layer}` === layer)?.rows ?? [];
  const ticks = labels
    .map((row) => ({ at: row[along] - shift, value: into(numberOf(row.text ?? "")) }))
    .sort((a, b) => a.at - b.at);
  const [first, last] = [ticks[0]!, ticks.at(-1)!];
  const slope = (last.value - first.value) / (last.at - first.at);
  for (const { at, value } of ticks)
    if (
      Math.abs(first.value + slope * (at - first.at) - value) >
      1e-6 * Math.abs(last.value - first.value)
    )
      throw new Error(`the labels of ${layer} do not stand on one scale`);
  const [low, high] = [from ?? first.at - 60, to ?? last.at + 60];
  return (place) =>
    place < low - 1e-6 || place > high + 1e-6
      ? undefined
      : plain(out(first.value + slope * (place - first.at)));
};

const shownRow = (row: Row, isText: boolean, axes: Readonly<{ x?: Axis; y?: Axis }>): string => {
  const beside = (place: number): string => `(${plain(place)})`;
  const read = (axis: Axis | undefined) => (place: number) => axis?.(place) ?? beside(place);
  // Words beside the plot stand at a place; other marks there still have a height or a length on an axis.
  const inPlot = axes.x?.(row.x) !== undefined && axes.y?.(row.y) !== undefined;
  const [across, up] = isText && !inPlot ? [beside, beside] : [read(axes.x), read(axes.y)];
  const span = (
    one: number,
    other: number | undefined,
    write: (place: number) => string,
  ): string =>
    other === undefined || write(one) === write(other)
      ? write(one)
      : `${write(one)} to ${write(other)}`;
  const words = row.text === undefined ? "" : ` "${row.text}"`;
  const full = row.full === undefined || row.full === row.text ? "" : ` (${row.full})`;
  return `${span(row.x, row.x2, across)} | ${span(row.y, row.y2, up)}${words}${full}`;
};

/**
 * What a panel shows, a line each layer: its name, kind and style, then its marks, each with the numbers it has on
 * the axes, or its place in drawing units in brackets where it lies beside them. Of many alike the first and last.
 */
export const seen = (
  figure: Figure,
  panel: string,
  axes: Readonly<{ x?: Axis; y?: Axis }> = {},
): readonly string[] =>
  layersOf(figure)
    .filter((each) => each.panel === panel)
    .flatMap(({ layer, mark, rows }) => {
      const { type, style, ...options } = mark;
      const look = Object.entries({ align: "left", baseline: "middle", ...options })
        .filter(
          ([key, value]) => type === "text" && value !== { align: "left", baseline: "middle" }[key],
        )
        .map(([key, value]) => `${key} ${value}`);
      const head = `${layer} [${[type, style, ...look].join(", ")}]`;
      if (rows.length === 0) return [`${head} none`];
      const some = rows.length <= 14 ? rows : [...rows.slice(0, 2), ...rows.slice(-2)];
      const count = rows.length <= 14 ? "" : ` ${rows.length} of them`;
      return [
        `${head}${count}: ${some.map((row) => shownRow(row, type === "text", axes)).join("; ")}`,
      ];
    });

/** The words of a figure and the numbers it gives for download, four decimals each. */
export const toldBy = (figure: Figure): readonly string[] => {
  const { title } = figure.specification as { title?: { text: unknown; subtitle?: unknown } };
  const cell = (value: string | number | null): string =>
    typeof value === "number" ? String(Number(value.toFixed(4))) : String(value);
  return [
    `${figure.title} [${figure.id}]`,
    `drawn as ${JSON.stringify([title?.text, title?.subtitle])}`,
    figure.caption,
    figure.description,
    Object.keys(figure.data[0] ?? {}).join(" | "),
    ...figure.data.map((row) => Object.values(row).map(cell).join(" | ")),
  ];
};

/**
 * The rows of a panel whose marks are encodings of places and values, a line each layer: the place from the top, then
 * numbers as they stand on the shown axis, three significant digits.
 */
export const placedRows = (figure: Figure, panel: string): readonly string[] => {
  type Placed = Readonly<Record<string, unknown>>;
  const found: string[] = [];
  const digits = (value: unknown): string =>
    typeof value === "number" ? String(Number(value.toPrecision(3))) : String(value);
  const walk = (node: unknown): void => {
    if (Array.isArray(node)) return node.forEach(walk);
    if (typeof node !== "object" || node === null) return;
    const { name, mark, data, encoding, ...others } = node as Readonly<{
      name?: string;
      mark?: Readonly<{ type: string; style: string }>;
      data?: Readonly<{ values: readonly Placed[] }>;
      encoding?: Readonly<Record<string, Readonly<{ field?: string }>>>;
    }>;
    if (name?.startsWith(`${panel}: `) === true && mark !== undefined && encoding !== undefined) {
      const fields = ["x", "x2", "text", "fill"].flatMap((one) => encoding[one]?.field ?? []);
      const rows = data!.values.map((row) =>
        [
          ...("place" in row ? [`(${digits(row["place"])})`] : []),
          ...fields.map((one) => digits(row[one])),
        ].join(" "),
      );
      found.push(
        `${name.slice(panel.length + 2)} [${mark.type}, ${mark.style}]: ${rows.join("; ")}`,
      );
    }
    Object.values(others).forEach(walk);
  };
  walk(figure.specification);
  return found;
};

/** All that a figure says and shows; `axes` by panel. */
export const told = (
  figure: Figure,
  axes: Readonly<Record<string, Readonly<{ x?: Axis; y?: Axis }>>> = {},
): readonly string[] => {
  expectSoundFigure(figure);
  const panels = [...new Set(layersOf(figure).map(({ panel }) => panel))];
  return [
    ...toldBy(figure),
    ...panels.flatMap((panel) => [`— ${panel}`, ...seen(figure, panel, axes[panel])]),
  ];
};

/** The marks of a layer as the specification holds them, in the units of their axes: "name: x to x2 | y to y2 "text" kind". */
export const encoded = (figure: Figure, ...names: readonly string[]): readonly string[] => {
  type Encoded = Row & Readonly<{ kind?: string; part?: string }>;
  const found = new Map<string, readonly Encoded[]>();
  const walk = (node: unknown): void => {
    if (Array.isArray(node)) return node.forEach(walk);
    if (typeof node !== "object" || node === null) return;
    const { name, data, ...others } = node as { name?: string; data?: { values?: Encoded[] } };
    if (name !== undefined && data?.values !== undefined) found.set(name, data.values);
    Object.values(others).forEach(walk);
  };
  walk(figure.specification);
  const span = (one: number, other?: number): string =>
    other === undefined || plain(one) === plain(other)
      ? plain(one)
      : `${plain(one)} to ${plain(other)}`;
  return names.map((name) => {
    const rows = found.get(name);
    const shown = rows?.map(
      ({ x, x2, y, y2, text, kind, part }) =>
        `${span(x, x2)} | ${span(y, y2)}${text === undefined ? "" : ` "${text}"`}${kind === undefined ? "" : ` ${kind}`}${part === undefined || part === "" ? "" : ` ${part}`}`,
    );
    return `${name}: ${shown === undefined ? "no such layer" : shown.length === 0 ? "none" : shown.join("; ")}`;
  });
};
