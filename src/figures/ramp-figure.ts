import type { RampPlan } from "../projection/ramp-plan.js";
import type { RampWeek } from "../projection/ramp-week.js";
import { effectiveHoldSeconds, effectiveIntensityPercent } from "../protocol/derived-quantities.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { counted } from "../tables/number-format.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { layerOf } from "./gain-panel.js";
import { panelDrawing, plainFrame } from "./layer.js";
import { briefly, rampRows, restsOf, type RampRow } from "./ramp-rows.js";
import { drawnChart } from "./row-chart.js";
import { figureTheme } from "./theme.js";
import { roughTextWidth, wrapText } from "./wrap-text.js";

const type = figureTheme.sizes.small;
const kinds = ["as before, or making room", "raised this week"] as const;
const grades = ["to spare", "hard", "maximal: no grade"] as const;

/** A value written above the bars that it reaches over; its edges in drawing units. */
type Label = Readonly<{
  /** Place of its week, from 0. */
  at: number;
  value: number;
  text: string;
  changed: boolean;
  /** Whether it ends with its week, and does not begin with it. */
  back: boolean;
  from: number;
  to: number;
}>;

const weekMarks = (count: number, weekWidth: number): readonly number[] => {
  const step = [1, 2, 5, 10, 20].find((one) => one * weekWidth >= 26) ?? 50;
  return Array.from({ length: count }, (_, index) => index + 1).filter(
    (week) => week % step === 0 || (week === 1 && step > 2),
  );
};

/**
 * The weeks of a working-up side by side: a row for each variable that changes with a bar a week, the one change of
 * each week marked, and the endurance grade below. What is the same in every week is told in words.
 *
 * The value is written where it begins and wherever it differs from the week before.
 *
 * @param plan  from `rampPlan`
 */
export const rampFigure = (
  plan: RampPlan & Readonly<{ id?: string }>,
  room: Room = roomOf(),
): Figure => {
  const { weeks, target } = plan;
  const count = weeks.length;
  const [column, slide] = [room.size === "column", room.size === "slide"];
  const all = rampRows(plan);
  const changes = (row: RampRow): boolean =>
    weeks.some(
      (week) => week.change?.variable === row.variable || row.words(week) !== row.words(weeks[0]!),
    );
  const rows = all.some(changes) ? all.filter(changes) : all;
  const same = [
    ...all
      .filter((row) => !rows.includes(row) && row.words(weeks[0]!) !== "0%")
      .map((row) => `${row.name} ${row.words(weeks[0]!)}`),
    ...(slide ? [] : restsOf(weeks)),
  ];

  const names = column ? 0 : 128;
  // Values stand on their bars; only a page has room to say them beside the row too.
  const labels = room.size === "page" ? 42 : 0;
  const plot = room.width - names - labels - 4;
  const weekWidth = plot / count;
  const wordHeight = 14;
  const barHeight = slide ? Math.min(20, Math.floor(138 / rows.length) - wordHeight - 4) : 34;
  const rowHeight = barHeight + wordHeight;
  const gap = column ? 22 : slide ? 4 : 12;
  const week = (axis: object | null, more: object = {}) => ({
    field: "week",
    type: "ordinal" as const,
    scale: { domain: weeks.map((one) => one.week), paddingInner: 0.12, paddingOuter: 0.06 },
    axis,
    ...more,
  });
  const legend = {
    title: null,
    orient: "top",
    direction: column ? "vertical" : "horizontal",
    symbolStrokeWidth: 0,
    ...(slide ? { offset: 3 } : {}),
  };
  const beside = (name: string, text: string, height: number, view: object) => {
    const draw = panelDrawing(`name of ${name}`, plainFrame(Math.max(1, names + labels), height));
    const lines = column
      ? [text]
      : wrapText(text, { width: names, fontSize: 1.06 * type, lines: 3 });
    const middle = height - (height - wordHeight) / 2;
    return {
      spacing: 0,
      bounds: "flush",
      hconcat: [
        draw.panel([
          draw.words(
            "name",
            "text-strong",
            lines.map((line, at) => ({
              x: 0,
              y: column ? -8 : Math.min(middle, height - 7) + 13 * (at - (lines.length - 1) / 2),
              text: line,
            })),
          ),
        ]),
        { name, width: plot, height, ...view },
      ],
    };
  };

  const view = (row: RampRow) => {
    const heights = weeks.map(row.height);
    const most = row.top ?? (Math.max(...heights) || 1);
    const y = {
      field: "value",
      type: "quantitative" as const,
      scale: { domain: [0, (most * rowHeight) / barHeight], nice: false, zero: true },
      axis:
        row.unit === undefined
          ? null
          : {
              title: null,
              values: [0, most],
              ticks: false,
              grid: false,
              labels: room.size === "page",
              labelPadding: 8,
              format: "~f",
              labelExpr: `datum.label + '${row.unit}'`,
            },
    };
    const bars = weeks.map((one, at) => ({
      week: one.week,
      value: heights[at]!,
      kind: kinds[one.change?.variable === row.variable ? 1 : 0],
      full: `week ${one.week}: ${row.name} ${row.words(one)}`,
    }));
    // What would run out at the right ends with its week.
    const labelled = (at: number, text: string): Label => {
      const changed = weeks[at]!.change?.variable === row.variable;
      const long = (changed ? 1.1 : 1.04) * roughTextWidth(text, type);
      const back = at * weekWidth + long > plot;
      const from = back ? (at + 1) * weekWidth - long : at * weekWidth;
      const to = from + long;
      const under = heights.slice(Math.floor(from / weekWidth), Math.ceil(to / weekWidth));
      return { at, value: Math.max(...under), text, changed, back, from, to };
    };
    // From the end, so that the last value is never the one that gives way.
    const short = weeks.reduceRight<readonly Label[]>((later, one, at) => {
      const text = row.words(one);
      const stays =
        one.change?.variable !== row.variable && text === row.words(weeks[at - 1] ?? one);
      if (at > 0 && stays) return later;
      const label = labelled(at, text);
      return label.to + 3 > (later[0]?.from ?? Infinity) ? later : [label, ...later];
    }, []);
    const written = short.map((label, place) => {
      const longer = labelled(label.at, row.longer?.(weeks[label.at]!) ?? label.text);
      return longer.back || longer.to + 3 > (short[place + 1]?.from ?? Infinity) ? label : longer;
    });
    const words = [true, false].flatMap((changed) =>
      [true, false].map((back) =>
        layerOf(
          `${row.variable}: ${changed ? "changed values" : "values"}${back ? " at the end" : ""}`,
          {
            type: "text",
            style: changed ? "text-changed" : "text-small",
            align: back ? "right" : "left",
            baseline: "bottom",
            dy: -2,
          },
          written
            .filter((one) => one.changed === changed && one.back === back)
            .map(({ at, value, text }) => ({ week: weeks[at]!.week, value, text })),
          {
            x: week(null, { bandPosition: back ? 1 : 0 }),
            y,
            text: { field: "text", type: "nominal" },
          },
        ),
      ),
    );
    return beside(row.variable, row.name, rowHeight, {
      layer: [
        layerOf(`${row.variable}: weeks`, { type: "bar", style: "week" }, bars, {
          x: week(null),
          y,
          fill: {
            field: "kind",
            type: "nominal",
            scale: { domain: [...kinds], range: "symbol" },
            legend,
          },
          tooltip: { field: "full", type: "nominal" },
        }),
        ...words.filter(({ data }) => data.values.length > 0),
      ],
    });
  };

  const gradeOf = (one: RampWeek): (typeof grades)[number] =>
    one.grade === null ? grades[2] : one.grade === "hard" ? grades[1] : grades[0];
  // A stretch of weeks of one grade has its name inside, where there is room.
  const stretches = weeks.flatMap((one, at) => {
    const grade = gradeOf(one);
    if (at > 0 && gradeOf(weeks[at - 1]!) === grade) return [];
    const after = weeks.findIndex((other, place) => place > at && gradeOf(other) !== grade);
    const to = after < 0 ? count : after;
    const fits = 1.1 * roughTextWidth(grade, type) + 6 <= (to - at) * weekWidth;
    const middle = (at + to) / 2;
    return [
      {
        week: one.week,
        to: weeks[to - 1]!.week,
        grade,
        full: `${grade}: ${one.week === weeks[to - 1]!.week ? `week ${one.week}` : `weeks ${one.week} to ${weeks[to - 1]!.week}`}`,
        words: fits
          ? [{ week: weeks[Math.floor(middle)]!.week, grade, bandPosition: middle % 1 }]
          : [],
      },
    ];
  });
  const marks = week({
    title: "week",
    values: weekMarks(count, weekWidth),
    labelAngle: 0,
    ticks: false,
    ...(slide ? { titlePadding: 1, labelPadding: 2 } : {}),
  });
  const graded = beside("can be held", "can be held", wordHeight + 2, {
    layer: [
      layerOf(
        "can be held: weeks",
        { type: "rect", style: "graded" },
        stretches.map(({ words: _, ...stretch }) => stretch),
        {
          x: { ...marks, bandPosition: 0 },
          x2: { field: "to", bandPosition: 1 },
          y: { value: 0 },
          y2: { value: wordHeight + 2 },
          fillOpacity: {
            field: "grade",
            type: "ordinal",
            scale: { type: "ordinal", domain: [...grades], range: [0.22, 1, 0] },
            legend: null,
          },
        },
      ),
      ...stretches
        .flatMap(({ words }) => words)
        .map(({ bandPosition, ...stretch }, at) =>
          layerOf(
            `can be held: stretch ${at + 1}`,
            {
              type: "text",
              style: stretch.grade === "hard" ? "text-on-hold" : "text-body",
              align: "center",
              baseline: "middle",
            },
            [stretch],
            {
              x: { ...marks, bandPosition },
              y: { value: wordHeight / 2 + 1 },
              text: { field: "grade", type: "nominal" },
            },
          ),
        ),
    ],
  });

  const [first, last] = [weeks[0]!, weeks.at(-1)!];
  const hard = weeks.filter(({ grade }) => grade === "hard").map((one) => one.week);
  const ends = [first.prescription, last.prescription];
  const apart = new Set(ends.map(({ muscleLength }) => muscleLength)).size > 1;
  const [from, to] = ends.map(
    (one) =>
      briefly(one) +
      (apart && one.muscleLength !== undefined ? `, ${one.muscleLength} length,` : ""),
  );
  const whole = `the target${target.muscleLength === "long" ? " at long length" : ""}`;
  const title = `${counted(count, "week")} from ${from} to ${to!.replace(/,$/u, "")}${
    plan.arrives
      ? ""
      : plan.shortestWeeks === null
        ? `; these rules do not reach ${whole}`
        : `; ${whole} takes ${counted(plan.shortestWeeks, "week")}`
  }`;
  const hardWords =
    hard.length === 0
      ? "No week is hard by the endurance model."
      : `Hard by the endurance model in ${hard.length} of ${counted(count, "week")}.`;
  const subtitle = `Start: ${plan.from}. Target: ${writePrescription(target)}${plan.asked === undefined ? "" : `, the nearest to ${plan.asked.written} that most finish`}. ${hardWords}`;
  const steps = weeks.flatMap(({ week: at, change }) =>
    change === undefined ? [] : [`week ${at} ${change.variable} ${change.from} to ${change.to}`],
  );
  const ungraded = weeks.filter(({ grade }) => grade === null).map((one) => one.week);
  const weeksOf = (some: readonly number[]): string =>
    `${some.length === 1 ? "week" : "weeks"} ${some.join(", ")}`;
  const description = `${title}. Begins at ${first.written}. ${steps.length === 0 ? "Nothing changes." : `${steps.join("; ")}.`} ${hard.length === 0 ? hardWords : `Hard by the endurance model in ${weeksOf(hard)}.`}${ungraded.length === 0 ? "" : ` Maximal, so without a grade, in ${weeksOf(ungraded)}.`}`;
  return {
    id: plan.id ?? "ramp",
    title,
    caption: [
      ...(same.length === 0 ? [] : [`The same in every week: ${same.join(", ")}.`]),
      "A bar a week; other bars that differ from the week before made room for its one change.",
      ...(rows.some(({ variable }) => variable === "at long length")
        ? [
            "Work: holds times seconds times intensity of a session; those at long length take turns with the others, in steps from the middle of the range to long length.",
          ]
        : []),
      "The middle of the range first, long length early and light, near-maximal intensity last: common practice, no source; the sizes of the steps are chosen here.",
      "Can be held: the grade of the endurance model.",
    ].join(" "),
    ...drawnChart(
      {
        view: { spacing: gap, vconcat: [...rows.map(view), graded] },
        width: room.width,
        height: rows.length * (rowHeight + gap) + (column ? 106 : slide ? 55 : 100),
      },
      { text: [title], subtitle: [subtitle], description },
    ),
    data: weeks.map(
      ({ week: at, prescription, written, long, change, grade, smallestReservePercent }) => ({
        week: at,
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
