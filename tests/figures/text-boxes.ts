/** Where the texts of a drawing stand, for the tests that look whether they can be read. */
import { figureFonts } from "../../src/host/figure-fonts.js";

/** A text of a drawing with the room it takes. */
export type Box = Readonly<{
  text: string;
  left: number;
  right: number;
  top: number;
  bottom: number;
  size: number;
}>;

/** Every text of a drawing with the room it takes, by the widths of its letters; places are sums of the groups' shifts. */
export const textBoxes = async (svg: string): Promise<readonly Box[]> => {
  const { textWidth } = await figureFonts();
  const boxes: Box[] = [];
  const shifts: [number, number][] = [[0, 0]];
  const shiftOf = (tag: string): [number, number] => {
    const [, x = "0", y = "0"] = /translate\(([-\d.e]+),([-\d.e]+)\)/.exec(tag) ?? [];
    return [Number(x), Number(y)];
  };
  for (const [whole, tag = "", attributes = "", content = ""] of svg.matchAll(
    /<(\/?g|text)([^>]*)>([^<]*)/g,
  )) {
    if (tag === "/g") shifts.pop();
    else if (tag === "g") {
      if (attributes.endsWith("/")) continue;
      const [x, y] = shifts.at(-1)!;
      const [dx, dy] = shiftOf(whole);
      shifts.push([x + dx, y + dy]);
    } else {
      // Turned text stands at the side of its axis, alone.
      if (content.trim() === "" || attributes.includes("rotate")) continue;
      const [x, y] = shifts.at(-1)!;
      const [dx, dy] = shiftOf(whole);
      const size = Number(/font-size="([\d.]+)px"/.exec(attributes)?.[1]);
      const strong = /font-weight="(bold|600)"/.test(attributes);
      const text = content.replace(/&amp;/g, "&").replace(/&lt;/g, "<").replace(/&gt;/g, ">");
      const width = textWidth(text, size, strong);
      const anchor = /text-anchor="(\w+)"/.exec(attributes)?.[1] ?? "start";
      const left = x + dx - (anchor === "middle" ? width / 2 : anchor === "end" ? width : 0);
      // From the baseline: capitals reach up about 0.73 of the size, and tails down about 0.2.
      boxes.push({
        text,
        left,
        right: left + width,
        top: y + dy - 0.7 * size,
        bottom: y + dy + 0.15 * size,
        size,
      });
    }
  }
  return boxes;
};

/** Pairs of texts that lie upon each other. */
export const overlapping = (boxes: readonly Box[]): readonly string[] =>
  boxes.flatMap((one, index) =>
    boxes
      .slice(index + 1)
      .filter(
        (other) =>
          Math.min(one.right, other.right) - Math.max(one.left, other.left) > 0.5 &&
          Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top) > 0.5,
      )
      .map((other) => `"${one.text}" and "${other.text}"`),
  );

/** Width and height of the picture, and what one drawing unit is in its points. */
export const sheetOf = (svg: string) => {
  const [, width, height, across, down] = (
    /<svg[^>]* width="([\d.]+)" height="([\d.]+)"[^>]* viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ??
    []
  ).map(Number);
  return {
    width: width!,
    height: height!,
    across: across!,
    scale: Math.min(width! / across!, height! / down!),
  };
};
