/** A finished drawing read as an eye does: marks against the labels of the axes beside them. */

type Place = Readonly<{ x: number; y: number }>;
export type Mark = Place &
  Readonly<{
    fill: string;
    stroke: string;
    width: number;
    dash: string;
    text: string;
    path: string;
    anchor: string;
  }>;

const attribute = (tag: string, name: string): string =>
  new RegExp(` ${name}="([^"]*)"`).exec(tag)?.[1] ?? "";

const shiftOf = (tag: string): Place => {
  const [, x = "0", y = "0"] = /translate\(([-\d.e]+),([-\d.e]+)\)/.exec(tag) ?? [];
  return { x: Number(x), y: Number(y) };
};

const markOf = (tag: string, text = ""): Mark => ({
  ...shiftOf(tag),
  fill: attribute(tag, "fill"),
  stroke: attribute(tag, "stroke"),
  width: Number(attribute(tag, "stroke-width")),
  dash: attribute(tag, "stroke-dasharray"),
  path: attribute(tag, "d"),
  anchor: attribute(tag, "text-anchor"),
  text,
});

/** Marks of every group of a name, each at its place in the panel. */
export const marksIn = (svg: string, group: string): readonly Mark[] =>
  [...svg.matchAll(new RegExp(`<g class="[^"]*${group}"[^>]*>(.*?)</g>`, "gs"))].flatMap(
    ([, inside = ""]) =>
      [...inside.matchAll(/<(?:path|line|rect|text)([^>]*)>([^<]*)/g)].map(([tag, , text]) =>
        markOf(tag, text),
      ),
  );

/** Points of a path, of its straight pieces. */
export const pointsOf = ({ path }: Mark): readonly Place[] =>
  [...path.matchAll(/[ML]([-\d.e]+),([-\d.e]+)/g)].map(([, x, y]) => ({
    x: Number(x),
    y: Number(y),
  }));

const numberOf = (label: string): number =>
  Number(/[\d.]+/.exec(label.replaceAll(",", ""))?.[0]) * (label.startsWith("−") ? -1 : 1);

/**
 * Readers of places in a panel: what stands at a place along and at a height, by two labels of its axes.
 *
 * @param bend how the axis along is bent, e.g. Math.sqrt
 * @throws {Error} where a label does not stand on one scale with the others
 */
export const readersOf = (svg: string, bend: (value: number) => number = (value) => value) => {
  const labels = marksIn(svg, "mark-text role-axis-label").filter(({ text }) => /\d/.test(text));
  const reader = (along: "x" | "y") => {
    const own = labels
      .filter(({ anchor }) => anchor === (along === "x" ? "middle" : "end"))
      .map((one) => ({
        // The middle of a figure lies above its baseline.
        at: one[along] - (along === "y" ? 3.6 : 0),
        value: along === "x" ? bend(numberOf(one.text)) : numberOf(one.text),
      }))
      .sort((a, b) => a.value - b.value);
    const [first, last] = [own[0]!, own.at(-1)!];
    const slope = (last.value - first.value) / (last.at - first.at);
    for (const { at, value } of own)
      if (
        Math.abs(first.value + slope * (at - first.at) - value) >
        0.02 * Math.abs(last.value - first.value)
      )
        throw new Error(`the labels along ${along} do not stand on one scale`);
    return (place: number): number => first.value + slope * (place - first.at);
  };
  return { x: reader("x"), y: reader("y") };
};
