import type { RampPlan } from "../projection/ramp-plan.js";
import type { RampVariable } from "../projection/ramp-steps.js";
import type { RampWeek } from "../projection/ramp-week.js";
import { effectiveHoldSeconds, effectiveIntensityPercent } from "../protocol/derived-quantities.js";
import type { HoldGrade } from "../endurance/can-be-held.js";
import { formatNumber } from "../tables/number-format.js";
import type { Figure } from "./figure.js";
import { panelDrawing, plainFrame, type Stroke, type Words } from "./layer.js";
import { themeConfig } from "./theme-config.js";
import { oneLine, roughTextWidth, wrapText } from "./wrap-text.js";

const left = 118;
const plotWidth = 620;
const rowHeight = 58;
const barHeight = 34;
const top = 30;

/** What a row shows: its value in a week, the share of the target's that its bar is high, and words. */
type Row = Readonly<{
  variable: RampVariable;
  name: string;
  share: (week: RampWeek) => number;
  words: (week: RampWeek) => string;
}>;

/** A value written above its bar. */
type Label = Words & Readonly<{ length: number; changed: boolean }>;
const labelSize = 10;

const plain = (value: number): string =>
  formatNumber(value, { digits: Number.isInteger(value) ? 0 : 1 });

const shownRange = (low: number, high: number | undefined): string =>
  high === undefined ? plain(low) : `${plain(low)}–${plain(high)}`;

/** An intensity in the least room: 70%, 70–75%, 6.5/10, maximal. */
const rampEffort = (p: RampWeek["prescription"]): string => {
  if (p.effortRating !== undefined) return `${plain(p.effortRating)}/10`;
  return p.intensityPercent === undefined
    ? "maximal"
    : `${shownRange(p.intensityPercent, p.intensityPercentHigh)}%`;
};

/** A row whose bars are shares of the target's value. */
const sized = (
  variable: RampVariable,
  name: string,
  value: (week: RampWeek) => number,
  goal: number,
  unit: string,
): Row => ({
  variable,
  name,
  share: (week) => (goal > 0 ? value(week) / goal : 0),
  words: (week) => `${plain(value(week))}${unit}`,
});

/** A row that is either on the way or there. */
const switched = (
  variable: RampVariable,
  name: string,
  goal: string | undefined,
  value: (week: RampWeek) => string | undefined,
): Row => ({
  variable,
  name,
  share: (week) => (value(week) === goal ? 1 : 0.5),
  words: (week) => value(week) ?? "not stated",
});

/** Torque–time of a session, percent of MVC times seconds. */
const workOf = (p: RampWeek["prescription"]): number =>
  p.sets * p.repetitions * effectiveHoldSeconds(p) * (effectiveIntensityPercent(p) ?? 0);

const rowsOf = (plan: RampPlan): readonly Row[] => {
  const { target } = plan;
  const changes = new Set(plan.weeks.flatMap(({ change }) => change?.variable ?? []));
  const effort = ({ prescription }: RampWeek): number =>
    effectiveIntensityPercent(prescription) ?? 0;
  const all = [
    ...(target.sets > 1
      ? [sized("sets", "sets", ({ prescription }) => prescription.sets, target.sets, "")]
      : []),
    sized(
      "repetitions",
      target.sets > 1 ? "holds in a set" : "holds",
      ({ prescription }) => prescription.repetitions,
      target.repetitions,
      "",
    ),
    sized(
      "hold length",
      "hold length",
      ({ prescription }) => effectiveHoldSeconds(prescription),
      effectiveHoldSeconds(target),
      " s",
    ),
    ...(target.sessionsPerWeek === undefined
      ? []
      : [
          sized(
            "sessions a week",
            "sessions a week",
            ({ prescription }) => prescription.sessionsPerWeek ?? 0,
            target.sessionsPerWeek,
            "",
          ),
        ]),
    {
      variable: "intensity",
      name: "intensity",
      // Intensity has a top of its own, so its bars are shares of 100 % and not of the target.
      share: (week) => effort(week) / 100,
      words: ({ prescription }) => rampEffort(prescription),
    },
    switched(
      "muscle length",
      "muscle length",
      target.muscleLength,
      ({ prescription }) => prescription.muscleLength,
    ),
    {
      variable: "at long length",
      name: "at long length",
      // What a session at long length asks, as a share of what the target does.
      share: ({ long }) => (long === undefined ? 0 : workOf(long.prescription) / workOf(target)),
      words: ({ long }) => (long === undefined ? "none" : rampEffort(long.prescription)),
    },
    switched(
      "intent",
      "intent",
      target.effortIntent,
      ({ prescription }) => prescription.effortIntent,
    ),
  ] satisfies readonly Row[];
  const always: readonly RampVariable[] = ["repetitions", "hold length", "intensity"];
  return all.filter(
    ({ variable }) =>
      always.includes(variable) ||
      changes.has(variable) ||
      (variable === "muscle length" && target.muscleLength !== undefined),
  );
};

/**
 * The weeks of a working-up side by side: a row for each variable with a bar a week, the one change of
 * each week marked, and the endurance grade below.
 *
 * Bars are shares of the target's value; intensity's are shares of the maximum. The value is written where
 * it begins and wherever it changes.
 *
 * @param plan  from `rampPlan`
 */
export const rampFigure = (plan: RampPlan & Readonly<{ id?: string }>): Figure => {
  const rows = rowsOf(plan);
  const count = plan.weeks.length;
  const weekWidth = plotWidth / count;
  const gap = Math.min(3, weekWidth * 0.12);
  const width = left + plotWidth + 20;
  const gradeTop = top + rows.length * rowHeight + 6;
  const height = gradeTop + 46;
  const draw = panelDrawing("ramp", plainFrame(width, height));
  const leftOf = (index: number): number => left + index * weekWidth;
  const baseOf = (row: number): number => top + row * rowHeight + rowHeight - 6;

  const bar = (row: Row, rowIndex: number, week: RampWeek, index: number): Stroke => ({
    x: leftOf(index) + gap,
    x2: leftOf(index + 1) - gap,
    y: baseOf(rowIndex) - Math.max(2, Math.min(1, row.share(week)) * barHeight),
    y2: baseOf(rowIndex),
  });
  const bars = (isChange: boolean): readonly Stroke[] =>
    rows.flatMap((row, rowIndex) =>
      plan.weeks.flatMap((week, index) =>
        (week.change?.variable === row.variable) === isChange
          ? [bar(row, rowIndex, week, index)]
          : [],
      ),
    );
  const labels = rows.flatMap((row, rowIndex) => {
    const written = plan.weeks.flatMap((week, index): readonly Label[] => {
      const changed = week.change?.variable === row.variable;
      if (index > 0 && !changed) return [];
      const { y } = bar(row, rowIndex, week, index);
      const text = oneLine(row.words(week));
      const length = roughTextWidth(text, labelSize);
      // A long word in one of the last weeks is moved to the left, to end with the row.
      const x = Math.min(leftOf(index) + gap, left + plotWidth - length);
      return [{ x, y: y - 7, text, length, changed }];
    });
    // From the end, so that the target's own value is never the one that gives way.
    return written.reduceRight<readonly Label[]>((kept, label) => {
      const next = kept[0];
      return next !== undefined && label.x + label.length + 2 > next.x ? kept : [label, ...kept];
    }, []);
  });
  const values = (isChange: boolean): readonly Words[] =>
    labels.filter(({ changed }) => changed === isChange).map(({ x, y, text }) => ({ x, y, text }));
  const everyWeek = Math.ceil(count / 26);
  const graded = (wanted: HoldGrade | null): readonly number[] =>
    plan.weeks.flatMap(({ grade }, index) => (grade === wanted ? [index] : []));
  const [toSpare, hard, ungraded] = [graded("to spare"), graded("hard"), graded(null)];

  const gradeBox = (index: number): Stroke => ({
    x: leftOf(index) + gap,
    x2: leftOf(index + 1) - gap,
    y: gradeTop + 4,
    y2: gradeTop + 14,
  });
  const layers = [
    draw.lines(
      "bases",
      "grid",
      rows.map((_, row) => ({ x: left, x2: left + plotWidth, y: baseOf(row), y2: baseOf(row) })),
    ),
    draw.boxes("bars", "effect-outer", bars(false)),
    draw.boxes("changes", "pooled-bar", bars(true)),
    draw.words("values", "text-small", values(false), { align: "left" }),
    draw.words("changed values", "text-pooled-strong", values(true), {
      align: "left",
      fontSize: labelSize,
    }),
    draw.words(
      "names",
      "text-body",
      rows.map(({ name }, row) => ({ x: left - 12, y: baseOf(row) - barHeight / 2, text: name })),
      { align: "right" },
    ),
    draw.words(
      "weeks",
      "text-heading",
      plan.weeks.flatMap(({ week }, index) =>
        index % everyWeek === 0
          ? [{ x: leftOf(index) + weekWidth / 2, y: top - 12, text: String(week) }]
          : [],
      ),
      { align: "center" },
    ),
    draw.words("week", "text-heading", [{ x: left - 12, y: top - 12, text: "week" }], {
      align: "right",
    }),
    draw.boxes("to spare", "cell-2", toSpare.map(gradeBox)),
    draw.boxes("hard", "hold", hard.map(gradeBox)),
    draw.words("grade", "text-body", [{ x: left - 12, y: gradeTop + 9, text: "can be held" }], {
      align: "right",
    }),
    draw.boxes("key", "cell-2", [{ x: left, x2: left + 12, y: gradeTop + 28, y2: gradeTop + 36 }]),
    draw.boxes("key hard", "hold", [
      { x: left + 110, x2: left + 122, y: gradeTop + 28, y2: gradeTop + 36 },
    ]),
    draw.boxes("key change", "pooled-bar", [
      { x: left + 230, x2: left + 242, y: gradeTop + 28, y2: gradeTop + 36 },
    ]),
    draw.words("key words", "text-small", [
      { x: left + 17, y: gradeTop + 32, text: "to spare" },
      { x: left + 127, y: gradeTop + 32, text: "hard" },
      { x: left + 247, y: gradeTop + 32, text: "what changed this week" },
    ]),
  ];
  const title = `Working up in ${count} ${count === 1 ? "week" : "weeks"}: one change at a time`;
  const subtitle = `${plan.from}, to ${plan.weeks.at(-1)?.written ?? ""}`;
  const steps = plan.weeks.flatMap(({ week, change }) =>
    change === undefined ? [] : [`week ${week} ${change.variable} ${change.from} to ${change.to}`],
  );
  const weeksOf = (indices: readonly number[]): string =>
    `${indices.length === 1 ? "week" : "weeks"} ${indices.map((index) => index + 1).join(", ")}`;
  const description = `${title}. Begins at ${plan.weeks[0]?.written ?? ""}. ${steps.length === 0 ? "Nothing changes." : `${steps.join("; ")}.`} ${hard.length === 0 ? "No week is hard by the endurance model." : `Hard by the endurance model in ${weeksOf(hard)}.`}${ungraded.length === 0 ? "" : ` Maximal, so without a grade, in ${weeksOf(ungraded)}.`}`;
  return {
    id: plan.id ?? "ramp",
    title,
    caption:
      "A bar for each week: shares of the target's value, and of the maximum for intensity; the marked bar is what changed. The middle of the range first, long length early, light and in turns with it, near-maximal intensity last: common practice, no source; the sizes of the steps are chosen here. The lowest row is the endurance model's grade; a maximal week has none.",
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width, fontSize: 16, lines: 3 })],
        subtitle: [...wrapText(oneLine(subtitle), { width, fontSize: 11.5, lines: 3 })],
      },
      hconcat: [draw.panel(layers)],
      config: themeConfig("light"),
    },
    data: plan.weeks.map(
      ({ week, prescription, written, long, change, grade, smallestReservePercent }) => ({
        week,
        session: written,
        inTurns: long?.written ?? null,
        sets: prescription.sets,
        repetitions: prescription.repetitions,
        holdSeconds: effectiveHoldSeconds(prescription),
        effortPercent: effectiveIntensityPercent(prescription) ?? null,
        sessionsPerWeek: prescription.sessionsPerWeek ?? null,
        muscleLength: prescription.muscleLength ?? null,
        changed: change?.variable ?? null,
        grade,
        toSpareLowPercent: smallestReservePercent.low,
        toSpareCentralPercent: smallestReservePercent.central,
        toSpareHighPercent: smallestReservePercent.high,
      }),
    ),
  };
};
