import type { ThreeRanges } from "../projection/three-ranges.js";

/** Beside each other for paper and wide screens, or under each other for narrow ones. */
export type ComparisonLayoutName = "wide" | "narrow";

type Row = (row: number) => number;

/** Where everything of a comparison stands, in drawing units. */
export type ComparisonLayout = Readonly<{
  width: number;
  height: number;
  rowHeight: Row;
  rowTop: Row;
  names: Readonly<{
    left: number;
    width: number;
    top: Row;
    letters: number;
    writtenLetters: number;
  }>;
  strip: Readonly<{ left: number; width: number; height: number; top: Row }>;
  ranges: Readonly<{
    left: number;
    width: number;
    top: Row;
    height: number;
    middle: Row;
    numbers: (row: number) => readonly Readonly<{ x: number; y: number; key: keyof ThreeRanges }>[];
  }>;
  difference: Readonly<{
    left: number;
    width: number;
    top: Row;
    height: number;
    middle: Row;
    halfThickness: number;
    words: (row: number) => Readonly<{ x: number; y: number }>;
    wordsWidth: number;
    letters: number;
  }>;
  /** Heights at which the marks of the two axes are written. */
  axes: Readonly<{ gain: readonly number[]; difference: readonly number[] }>;
  headings: (percent: string) => readonly Readonly<{ x: number; y: number; text: string }>[];
}>;

const wide = (count: number): ComparisonLayout => {
  const [first, rowHeight] = [26, 84];
  const rowTop: Row = (row) => first + row * rowHeight;
  return {
    width: 1096,
    height: first + count * rowHeight + 38,
    rowHeight: () => rowHeight,
    rowTop,
    names: {
      left: 8,
      width: 212,
      top: (row) => rowTop(row) + 16,
      letters: 30,
      writtenLetters: 150,
    },
    strip: { left: 236, width: 164, height: 34, top: (row) => rowTop(row) + 16 },
    ranges: {
      left: 424,
      width: 236,
      top: (row) => rowTop(row) + 3,
      height: 30,
      middle: (row) => rowTop(row) + 18,
      numbers: (row) => [
        { x: 424, y: rowTop(row) + 42, key: "average" },
        { x: 424, y: rowTop(row) + 57, key: "newGroup" },
        { x: 424, y: rowTop(row) + 71, key: "person" },
      ],
    },
    difference: {
      left: 690,
      width: 180,
      top: rowTop,
      height: rowHeight,
      middle: (row) => rowTop(row) + rowHeight / 2,
      halfThickness: 6,
      words: (row) => ({ x: 884, y: rowTop(row) + 28 }),
      wordsWidth: 208,
      letters: 14,
    },
    axes: {
      gain: [first + count * rowHeight + 12],
      difference: count > 1 ? [first + count * rowHeight + 12] : [],
    },
    headings: (percent) => [
      { x: 8, y: 12, text: "protocol" },
      { x: 236, y: 12, text: "session, to scale" },
      { x: 424, y: 12, text: `gain, ${percent} ranges` },
      { x: 690, y: 12, text: `over the first, ${percent} ranges` },
    ],
  };
};

const narrow = (count: number): ComparisonLayout => {
  // The first row has no difference, so it is lower than the others.
  const [first, firstHeight, otherHeight] = [8, 214, 292];
  const rows = Array.from({ length: count }, (_, row) => row);
  const rowTop: Row = (row) => (row === 0 ? first : first + firstHeight + (row - 1) * otherHeight);
  return {
    width: 372,
    height: rowTop(count) + 8,
    rowHeight: (row) => (row === 0 ? firstHeight : otherHeight),
    rowTop,
    names: {
      left: 8,
      width: 356,
      top: (row) => rowTop(row) + 14,
      letters: 46,
      writtenLetters: 150,
    },
    strip: { left: 8, width: 356, height: 30, top: (row) => rowTop(row) + 54 },
    ranges: {
      left: 8,
      width: 356,
      top: (row) => rowTop(row) + 118,
      height: 22,
      middle: (row) => rowTop(row) + 129,
      numbers: (row) => [
        { x: 8, y: rowTop(row) + 163, key: "average" },
        { x: 8, y: rowTop(row) + 178, key: "newGroup" },
        { x: 190, y: rowTop(row) + 178, key: "person" },
      ],
    },
    difference: {
      left: 8,
      width: 356,
      top: (row) => rowTop(row) + 203,
      height: 16,
      middle: (row) => rowTop(row) + 211,
      halfThickness: 5,
      words: (row) => ({ x: 8, y: rowTop(row) + (row === 0 ? 200 : 246) }),
      wordsWidth: 356,
      letters: 30,
    },
    axes: {
      gain: rows.map((row) => rowTop(row) + 146),
      difference: rows.slice(1).map((row) => rowTop(row) + 228),
    },
    headings: (percent) =>
      rows.flatMap((row) => [
        { x: 8, y: rowTop(row) + 110, text: `gain, ${percent} ranges` },
        ...(row === 0
          ? []
          : [{ x: 8, y: rowTop(row) + 196, text: `over the first, ${percent} ranges` }]),
      ]),
  };
};

/** Where everything of a comparison of so many protocols stands. */
export const comparisonLayout = (name: ComparisonLayoutName, count: number): ComparisonLayout =>
  name === "wide" ? wide(count) : narrow(count);
