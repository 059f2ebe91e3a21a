import type { EstimateRow, ShownEstimates } from "./estimates-input.js";
import { highest } from "./axis-ticks.js";
import { oneLine, roughTextWidth, wrapText } from "./wrap-text.js";

export type LaidRow = Readonly<{
  row: EstimateRow;
  top: number;
  middle: number;
  bottom: number;
  mark: string;
}>;

/** One study's rows on their common ground, with its name in as many lines as there is room for. */
export type LaidStudy = Readonly<{
  study: string;
  top: number;
  bottom: number;
  nameLines: readonly Readonly<{ text: string; y: number }>[];
  rows: readonly LaidRow[];
}>;

export type EstimatesLayout = Readonly<{
  rowHeight: number;
  fontSize: number;
  studies: readonly LaidStudy[];
  /** Distinct notes; a row's mark is the letter of its place in this list. */
  notes: readonly string[];
  /** Where the pooled rows, the effects and the foot begin, from the top. */
  pooledTop: number;
  effectsTop: number;
  foot: number;
  height: number;
  studyWidth: number;
  labelWidth: number;
  /** Right edges of the columns of numbers, the middle of "to" between them, and the panel's width. */
  numbers: Readonly<{ estimate: number; low: number; to: number; high: number; width: number }>;
}>;

/** Places for the columns of numbers, as wide as the widest number in each. */
const numberColumns = (input: ShownEstimates): EstimatesLayout["numbers"] => {
  const { display, effects, pooled } = input;
  const widest = (values: readonly number[]) =>
    highest(values.map((value) => roughTextWidth(display.write(value), 11)));
  const intervals = [
    ...effects,
    ...(pooled === undefined
      ? []
      : [pooled.interval, pooled.predictionInterval ?? pooled.interval]),
  ];
  const estimates = [...effects, ...(pooled === undefined ? [] : [pooled])];
  const estimate =
    8 + Math.max(42, Math.ceil(widest(estimates.map((each) => each.estimate)) * 1.06));
  const low = estimate + 12 + Math.max(34, Math.ceil(widest(intervals.map((each) => each.low))));
  const to = low + 11;
  const high = to + 9 + Math.max(34, Math.ceil(widest(intervals.map((each) => each.high))));
  return { estimate, low, to, high, width: high + 8 };
};

/** Rows get smaller as there are more of them, down to the smallest type that prints. */
const sizesFor = (rows: number): Readonly<{ rowHeight: number; fontSize: number }> =>
  rows <= 40
    ? { rowHeight: 20, fontSize: 11 }
    : rows <= 80
      ? { rowHeight: 16, fontSize: 10 }
      : { rowHeight: 12.5, fontSize: 9 };

/** Letters for notes: a … z, then aa, ab … */
export const noteMark = (index: number): string =>
  index < 26
    ? String.fromCharCode(97 + index)
    : noteMark(Math.floor(index / 26) - 1) + noteMark(index % 26);

/** Pieces between commas that every one of several labels has: they tell no row from another. */
export const sharedPieces = (labels: readonly string[]): readonly string[] => {
  const [first = [], ...others] = labels.map((label) => oneLine(label).split(", "));
  return others.length === 0
    ? []
    : first.filter((one) => others.every((pieces) => pieces.includes(one)));
};

/** Effects gathered by study, studies in the order they first appear. */
export const groupedByStudy = (
  effects: readonly EstimateRow[],
): readonly (readonly [string, readonly EstimateRow[]])[] => {
  const groups = new Map<string, EstimateRow[]>();
  for (const effect of effects) {
    const group = groups.get(effect.study);
    if (group === undefined) groups.set(effect.study, [effect]);
    else group.push(effect);
  }
  return [...groups];
};

/** Room for an arm, a week and an outcome in full; what is longer loses its end. */
const mostLabelWidth = 320;

const within = (value: number, low: number, high: number) =>
  Math.round(Math.min(high, Math.max(low, value)));

/** Heights of all rows and widths of the text columns, in drawing units from the top left. */
export const estimatesLayout = (input: ShownEstimates): EstimatesLayout => {
  const { rowHeight, fontSize } = sizesFor(input.effects.length);
  const between = rowHeight > 15 ? 4 : 2.5;
  const inset = rowHeight > 15 ? 2 : 1;
  const widest = (texts: readonly string[]) =>
    Math.max(0, highest(texts.map((text) => roughTextWidth(oneLine(text), fontSize))));
  const labels = widest(input.effects.map(({ label }) => label));
  // Without a second column the names of the pooled rows need the first one's room.
  const leastStudyWidth = labels === 0 && input.pooled !== undefined ? 172 : 70;
  const studyWidth = within(
    widest(input.effects.map(({ study }) => study)) + 22,
    leastStudyWidth,
    172,
  );
  const labelWidth = labels === 0 ? 0 : within(1.04 * labels + 14, 104, mostLabelWidth);

  const notes = [
    ...new Set(input.effects.flatMap(({ note }) => (note === undefined ? [] : [note]))),
  ];
  const markOf = new Map(notes.map((note, index) => [note, noteMark(index)]));

  const pooledTop = 40;
  const pooledRows =
    input.pooled === undefined ? 0 : input.pooled.predictionInterval === null ? 1 : 2;
  const effectsTop = pooledTop + (pooledRows === 0 ? 0 : pooledRows * 22 + 8);
  let y = effectsTop;
  const studies = groupedByStudy(input.effects).map(([study, rows]): LaidStudy => {
    const top = y;
    const laid = rows.map((row, index): LaidRow => {
      const rowTop = top + inset + index * rowHeight;
      return {
        row,
        top: rowTop,
        middle: rowTop + rowHeight / 2,
        bottom: rowTop + rowHeight,
        mark: row.note === undefined ? "" : (markOf.get(row.note) ?? ""),
      };
    });
    const bottom = top + 2 * inset + rows.length * rowHeight;
    y = bottom + between;
    const lines = wrapText(study, {
      width: studyWidth - 16,
      fontSize: fontSize * 1.04,
      lines: Math.min(4, rows.length),
    });
    const lineHeight = Math.min(rowHeight, fontSize * 1.3);
    const firstMiddle = laid[0]?.middle ?? top;
    return {
      study,
      top,
      bottom,
      nameLines: lines.map((text, index) => ({ text, y: firstMiddle + index * lineHeight })),
      rows: laid,
    };
  });
  const foot = y - between + 4;
  return {
    rowHeight,
    fontSize,
    studies,
    notes,
    pooledTop,
    effectsTop,
    foot,
    height: foot + (input.effects.some(({ spread }) => spread !== undefined) ? 82 : 36),
    studyWidth,
    labelWidth,
    numbers: numberColumns(input),
  };
};
