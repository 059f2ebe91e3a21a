import type { EstimateRow, ShownEstimates } from "./estimates-input.js";
import { highest } from "./extremes.js";
import { oneLine, roughTextWidth, wrapText } from "./wrap-text.js";

export type LaidRow = Readonly<{
  row: EstimateRow;
  /** Which of the even places from the top it has. */
  place: number;
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
  /** Places above the first row, for headings; of the average and of a further study; and how many there are in all. */
  headPlaces: number;
  averagePlace: number | undefined;
  furtherPlace: number | undefined;
  places: number;
  /** Where the rows end. */
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

/** Effects gathered by study, or by another name of theirs, in the order they first appear. */
export const groupedByStudy = (
  effects: readonly EstimateRow[],
  nameOf: (effect: EstimateRow) => string = ({ study }) => study,
): readonly (readonly [string, readonly EstimateRow[]])[] => {
  const groups = new Map<string, EstimateRow[]>();
  for (const effect of effects) {
    const group = groups.get(nameOf(effect));
    if (group === undefined) groups.set(nameOf(effect), [effect]);
    else group.push(effect);
  }
  return [...groups];
};

/** What is left of a page for an arm, a week and an outcome beside the narrowest plot; what is longer loses its end. */
const columnsWidth = 690;

/** Of the headings above the columns, two lines. */
const headHeight = 32;

const within = (value: number, low: number, high: number) =>
  Math.round(Math.min(high, Math.max(low, value)));

/** Heights of all rows and widths of the text columns, in drawing units from the top left. */
export const estimatesLayout = (input: ShownEstimates): EstimatesLayout => {
  const { rowHeight, fontSize } = sizesFor(input.effects.length);
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
  const numbers = numberColumns(input);
  const labelWidth =
    labels === 0 ? 0 : within(1.04 * labels + 14, 104, columnsWidth - studyWidth - numbers.width);

  const notes = [
    ...new Set(input.effects.flatMap(({ note }) => (note === undefined ? [] : [note]))),
  ];
  const markOf = new Map(notes.map((note, index) => [note, noteMark(index)]));

  const headPlaces = Math.ceil(headHeight / rowHeight);
  const averagePlace = input.pooled === undefined ? undefined : headPlaces;
  const furtherPlace =
    averagePlace === undefined || input.pooled?.predictionInterval === null
      ? undefined
      : averagePlace + 1;
  const lastPooled = furtherPlace ?? averagePlace;
  let next = lastPooled === undefined ? headPlaces : lastPooled + 2;
  const studies = groupedByStudy(input.effects).map(([study, rows]): LaidStudy => {
    const laid = rows.map((row, index): LaidRow => {
      const place = next + index;
      return {
        row,
        place,
        top: place * rowHeight,
        middle: (place + 0.5) * rowHeight,
        bottom: (place + 1) * rowHeight,
        mark: row.note === undefined ? "" : (markOf.get(row.note) ?? ""),
      };
    });
    next += rows.length;
    const lines = wrapText(study, {
      width: studyWidth - 16,
      fontSize: fontSize * 1.04,
      lines: Math.min(4, rows.length),
    });
    const lineHeight = Math.min(rowHeight, fontSize * 1.3);
    const firstMiddle = laid[0]!.middle;
    return {
      study,
      top: laid[0]!.top,
      bottom: laid.at(-1)!.bottom,
      nameLines: lines.map((text, index) => ({ text, y: firstMiddle + index * lineHeight })),
      rows: laid,
    };
  });
  const foot = next * rowHeight;
  return {
    rowHeight,
    fontSize,
    studies,
    notes,
    headPlaces,
    averagePlace,
    furtherPlace,
    places: next,
    foot,
    height: foot + 36,
    studyWidth,
    labelWidth,
    numbers,
  };
};
