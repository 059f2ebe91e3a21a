/**
 * Kind of evidence: made-up inputs in which no two numbers agree. What is drawn is read off the figure's own axes and
 * traced to the input by hand; places beside a plot are in drawing units, in brackets.
 */
import { describe, expect, test } from "vitest";
import type { HoldAssessment } from "../../src/endurance/can-be-held.js";
import type { Figure } from "../../src/figures/figure.js";
import { holdStripFigure } from "../../src/figures/hold-strip-figure.js";
import { rampFigure } from "../../src/figures/ramp-figure.js";
import { remainingCapacityFigure } from "../../src/figures/remaining-capacity-figure.js";
import type { RampPlan } from "../../src/projection/ramp-plan.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { figureTheme } from "../../src/figures/theme.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { seen, toldBy } from "./drawn.js";
import { marksIn } from "./read-plot.js";
import { expectSoundFigure } from "./figure-checks.js";

const plainNumber = (value: number): string => String(Number(value.toFixed(3)));
const session = (text: string) => sessionTimeline(parsePrescription(text));
const long = session("4 x 30 s at 60%, rest 90 s");

/** Panels of sessions, read off axes of time and percent of intensity that are `across` long and 54 units high. */
const panelsOf = (figure: Figure, across: number): readonly string[] =>
  figure.data
    .map(({ session: name }) => name)
    .filter((name, index, all) => all.indexOf(name) === index)
    .flatMap((_, index) => {
      // A line of words, the seconds above the blocks, and the strip.
      const zero = 14 + 13 + 54;
      const two = (value: number): string => String(Number(value.toFixed(2)) + 0);
      return seen(figure, `session ${index + 1}`, {
        x: (place) => two((place / 840) * across),
        y: (place) => two(((zero - place) / 54) * 100),
      });
    });

describe("sessions", () => {
  test("to scale under each other", () => {
    const figure = holdStripFigure({
      title: "Two sessions",
      sessions: [
        { label: "Long", timeline: long },
        { label: "Short", timeline: session("2 x (3 x 20 s) at 80%, rests 10 s and 60 s") },
      ],
    });
    expectSoundFigure(figure);
    expect(toldBy(figure)).toEqual([
      "Long takes 6 min 30 s, 2 min of it under tension; Short 3 min 40 s, 2 min of it [hold-strip]",
      'drawn as [["Long takes 6 min 30 s, 2 min of it under tension; Short 3 min 40 s, 2 min of it"],["Two sessions."]]',
      "Drawn to scale: whole sessions on one time scale. Time runs along, intensity in percent of the maximum runs up; blocks are holds with their seconds, gaps are rests, dotted where they part sets.",
      "Long takes 6 min 30 s, 2 min of it under tension; Short 3 min 40 s, 2 min of it. Two sessions: Long, 6 min 30 s drawn; Short, 3 min 40 s drawn.",
      "session | kind | startSeconds | endSeconds | intensityPercent | set",
      "Long | hold | 0 | 30 | 60 | 1",
      "Long | rest between repetitions | 30 | 120 | 0 | 1",
      "Long | hold | 120 | 150 | 60 | 1",
      "Long | rest between repetitions | 150 | 240 | 0 | 1",
      "Long | hold | 240 | 270 | 60 | 1",
      "Long | rest between repetitions | 270 | 360 | 0 | 1",
      "Long | hold | 360 | 390 | 60 | 1",
      "Short | hold | 0 | 20 | 80 | 1",
      "Short | rest between repetitions | 20 | 30 | 0 | 1",
      "Short | hold | 30 | 50 | 80 | 1",
      "Short | rest between repetitions | 50 | 60 | 0 | 1",
      "Short | hold | 60 | 80 | 80 | 1",
      "Short | rest between sets | 80 | 140 | 0 | 1",
      "Short | hold | 140 | 160 | 80 | 2",
      "Short | rest between repetitions | 160 | 170 | 0 | 2",
      "Short | hold | 170 | 190 | 80 | 2",
      "Short | rest between repetitions | 190 | 200 | 0 | 2",
      "Short | hold | 200 | 220 | 80 | 2",
    ]);
    expect(panelsOf(figure, 6.5)).toEqual([
      "ground [rect, band]: 0 to 6.5 | 100 to 0",
      "rests [rule, rest]: 0.5 to 2 | 0; 2.5 to 4 | 0; 4.5 to 6 | 0",
      "rests between sets [rule, rest-between-sets] none",
      "holds [rect, hold]: 0 to 0.5 | 60 to 0; 2 to 2.5 | 60 to 0; 4 to 4.5 | 60 to 0; 6 to 6.5 | 60 to 0",
      "holds with intensity not stated [rect, hold-quiet] none",
      'hold seconds [text, text-small, align center]: 0.25 | 72.96 "30 s"; 2.25 | 72.96 "30 s"; 4.25 | 72.96 "30 s"; 6.25 | 72.96 "30 s"',
      'label [text, text-strong]: -0.26 | 137.04 "Long"',
      "summary beside [text, text-quiet, align right] none",
      "summary [text, text-quiet] none",
      "ground [rect, band]: 0 to 6.5 | 100 to 0",
      "rests [rule, rest]: 0.33 to 0.5 | 0; 0.83 to 1 | 0; 2.67 to 2.83 | 0; 3.17 to 3.33 | 0",
      "rests between sets [rule, rest-between-sets]: 1.33 to 2.33 | 0",
      "holds [rect, hold]: 0 to 0.33 | 80 to 0; 0.5 to 0.83 | 80 to 0; 1 to 1.33 | 80 to 0; 2.33 to 2.67 | 80 to 0; 2.83 to 3.17 | 80 to 0; 3.33 to 3.67 | 80 to 0",
      "holds with intensity not stated [rect, hold-quiet] none",
      'hold seconds [text, text-small, align center]: 0.17 | 92.96 "20 s"; 0.67 | 92.96 "20 s"; 1.17 | 92.96 "20 s"; 2.5 | 92.96 "20 s"; 3 | 92.96 "20 s"; 3.5 | 92.96 "20 s"',
      'label [text, text-strong]: -0.26 | 137.04 "Short"',
      "summary beside [text, text-quiet, align right] none",
      "summary [text, text-quiet] none",
    ]);
  });

  test("one set of each where the whole would blur", () => {
    const figure = holdStripFigure({
      id: "x",
      title: "One session",
      sessions: [
        { label: "Short", timeline: session("12 x (6 x 3 s) at 95%, rests 3 s and 300 s") },
      ],
    });
    expectSoundFigure(figure);
    expect(toldBy(figure).slice(0, 4)).toEqual([
      "Short takes 1 h 2 min, 3 min 36 s of it under tension [x]",
      'drawn as [["Short takes 1 h 2 min, 3 min 36 s of it under tension"],["One session."]]',
      "Drawn to scale: one set of each on one time scale, as whole sessions would blur. Time runs along, intensity in percent of the maximum runs up; blocks are holds with their seconds, gaps are rests, dotted where they part sets.",
      "Short takes 1 h 2 min, 3 min 36 s of it under tension. One session: Short, 33 s drawn, one set shown.",
    ]);
    expect(panelsOf(figure, 33)).toEqual([
      "ground [rect, band]: 0 to 33 | 100 to 0",
      "rests [rule, rest]: 3 to 6 | 0; 9 to 12 | 0; 15 to 18 | 0; 21 to 24 | 0; 27 to 30 | 0",
      "rests between sets [rule, rest-between-sets] none",
      "holds [rect, hold]: 0 to 3 | 95 to 0; 6 to 9 | 95 to 0; 12 to 15 | 95 to 0; 18 to 21 | 95 to 0; 24 to 27 | 95 to 0; 30 to 33 | 95 to 0",
      "holds with intensity not stated [rect, hold-quiet] none",
      'hold seconds [text, text-small, align center]: 1.5 | 107.96 "3 s"; 7.5 | 107.96 "3 s"; 13.5 | 107.96 "3 s"; 19.5 | 107.96 "3 s"; 25.5 | 107.96 "3 s"; 31.5 | 107.96 "3 s"',
      "label [text, text-strong] none",
      "summary beside [text, text-quiet, align right] none",
      'summary [text, text-quiet]: -1.34 | 137.04 "one set shown"',
    ]);
  });
});

describe("what is left along a session", () => {
  const timeline = session("2 x 30 s at 60%, rest 40 s");
  const assessment = {
    grade: "hard",
    maximal: false,
    region: "knee",
    fellBack: false,
    capacity: [
      { seconds: 0, low: 100, central: 100, high: 100 },
      { seconds: 30, low: 61, central: 74, high: 87 },
      { seconds: 70, low: 77, central: 83, high: 94 },
      { seconds: 100, low: 52, central: 66, high: 79 },
    ],
    failsAtLow: { set: 1, repetition: 2, secondsIntoHold: 17, seconds: 87 },
    smallestReservePercent: { low: -8, central: 6, high: 19 },
    statements: [],
  } as unknown as HoldAssessment;

  // A session of 100 s on 760 drawing units, and percent on 230.
  const one = (value: number): string => String(Number(value.toFixed(1)) + 0);
  const capacityAxes = {
    x: (place: number) => one(place / 7.6),
    y: (place: number) => one(100 - place / 2.3),
  };

  test("every line in its place", () => {
    const figure = remainingCapacityFigure({ label: "2 x 30 s", timeline, assessment });
    expectSoundFigure(figure);
    expect(toldBy(figure)).toEqual([
      "Hard: a typical person finishes with 6 points of MVC to spare [remaining-capacity]",
      'drawn as [["Hard: a typical person finishes with 6 points of MVC to spare"],["Those who tire early run out in hold 2, 17.0 s into it. What is left along 2 x 30 s."]]',
      "Percent of the fresh maximum: blocks are the holds, the line is what is left. By the three-compartment model; the band reaches from those who tire early to those who tire late (published spread of group means, not of single people), and a point marks where a hold can no longer be kept. The model describes healthy adults on average and has no term for training, age, sex or muscle length.",
      "What is left along 2 x 30 s, 1 min 40 s long, by the knee curve. At the end 66 percent of the fresh maximum is left, 52 to 79 over the band. Hard: a typical person finishes with 6 points of MVC to spare; those who tire early run out in hold 2, 17.0 s into it.",
      "seconds | lowPercent | centralPercent | highPercent",
      "0 | 100 | 100 | 100",
      "30 | 61 | 74 | 87",
      "70 | 77 | 83 | 94",
      "100 | 52 | 66 | 79",
    ]);
    expect(seen(figure, "capacity", capacityAxes)).toEqual([
      "ground [rect, band]: 0 to 100 | 100 to 0",
      "holds [rect, hold-quiet]: 0 to 30 | 60 to 0; 70 to 100 | 60 to 0",
      "band [area, capacity-band]: 0 | 100; 30 | 87 to 61; 70 | 94 to 77; 100 | 79 to 52",
      "tires early [line, capacity-edge]: 0 | 100; 30 | 61; 70 | 77; 100 | 52",
      "tires late [line, capacity-edge]: 0 | 100; 30 | 87; 70 | 94; 100 | 79",
      "typical [line, capacity-line]: 0 | 100; 30 | 74; 70 | 83; 100 | 66",
      "runs out [point, runs-out]: 87 | 60 (tires early: runs out at 87 s)",
      'outer names [text, text-quiet]: 101.1 | 79 "tires late"; 101.1 | 52 "tires early"',
      'typical name [text, text-pooled-strong]: 101.1 | 66 "typical 66%"',
    ]);
  });

  test("a maximal effort, and all who run out", () => {
    const at = (secondsIntoHold: number, seconds: number) => ({
      set: 1,
      repetition: 2,
      secondsIntoHold,
      seconds,
    });
    const figure = remainingCapacityFigure({
      id: "x",
      label: "2 x 30 s",
      timeline,
      assessment: {
        ...assessment,
        maximal: true,
        grade: null,
        ungraded: "maximal",
        smallestReservePercent: { low: -48, central: -34, high: -21 },
        failsAt: at(21, 91),
        failsAtHigh: at(28, 98),
      },
    });
    expectSoundFigure(figure);
    expect(toldBy(figure).slice(0, 4)).toEqual([
      "Maximal, so no grade: by the weakest hold force is expected to be 66% of MVC (52 to 79%) [x]",
      'drawn as [["Maximal, so no grade: by the weakest hold force is expected to be 66% of MVC (52 to 79%)"],["What is left along 2 x 30 s."]]',
      "Percent of the fresh maximum: blocks are the holds, the line is what is left. By the three-compartment model; the band reaches from those who tire early to those who tire late (published spread of group means, not of single people), and a point marks where a hold can no longer be kept. The model describes healthy adults on average and has no term for training, age, sex or muscle length.",
      "What is left along 2 x 30 s, 1 min 40 s long, by the knee curve. At the end 66 percent of the fresh maximum is left, 52 to 79 over the band. Maximal, so no grade: by the weakest hold force is expected to be 66% of MVC (52 to 79%).",
    ]);
    expect(seen(figure, "capacity", capacityAxes)).toEqual([
      "ground [rect, band]: 0 to 100 | 100 to 0",
      "holds [rect, hold-quiet]: 0 to 30 | 60 to 0; 70 to 100 | 60 to 0",
      "band [area, capacity-band]: 0 | 100; 30 | 87 to 61; 70 | 94 to 77; 100 | 79 to 52",
      "tires early [line, capacity-edge]: 0 | 100; 30 | 61; 70 | 77; 100 | 52",
      "tires late [line, capacity-edge]: 0 | 100; 30 | 87; 70 | 94; 100 | 79",
      "typical [line, capacity-line]: 0 | 100; 30 | 74; 70 | 83; 100 | 66",
      "runs out [point, runs-out]: 87 | 60 (tires early: runs out at 87 s); 91 | 60 (a typical person: runs out at 1 min 31 s); 98 | 60 (tires late: runs out at 1 min 38 s)",
      'outer names [text, text-quiet]: 101.1 | 79 "tires late"; 101.1 | 52 "tires early"',
      'typical name [text, text-pooled-strong]: 101.1 | 66 "typical 66%"',
    ]);
  });
});

describe("working up", () => {
  const week = (number: number, text: string, others: object) => ({
    week: number,
    prescription: parsePrescription(text),
    written: text,
    tensionTimeSeconds: 40 + number,
    grade: "to spare",
    smallestReservePercent: { low: 10 + number, central: 20 + number, high: 30 + number },
    notes: [],
    ...others,
  });
  const plan = {
    kind: "plan",
    from: "untrained",
    target: parsePrescription("4 x 20 s at 70%, rest 60 s, long"),
    shortestWeeks: 3,
    arrives: true,
    weeks: [
      week(1, "2 x 10 s at 50%, rest 60 s, middle", {}),
      week(2, "3 x 10 s at 50%, rest 60 s, middle", {
        change: { variable: "repetitions", from: "2", to: "3" },
        long: {
          written: "1 x 10 s at 25%, rest 60 s, long",
          prescription: parsePrescription("1 x 10 s at 25%, rest 60 s, long"),
          place: "step 1 of 2",
        },
      }),
      week(3, "3 x 20 s at 50%, rest 60 s, middle", {
        change: { variable: "hold length", from: "10 s", to: "20 s" },
        grade: "hard",
      }),
      week(4, "4 x 20 s at 70%, rest 60 s, long", {}),
    ],
    notes: [],
  } as unknown as RampPlan;

  test("week by week", async () => {
    const figure = rampFigure(plan);
    expectSoundFigure(figure);
    const title = "4 weeks from 2 × 10 s at 50%, middle length, to 4 × 20 s at 70%, long length";
    expect(toldBy(figure)).toEqual([
      `${title} [ramp]`,
      `drawn as [["${title}"],["Start: untrained. Target: 4 × 20 s at 70%, rest 60 s, long. Hard by the endurance model in 1 of 4 weeks."]]`,
      "The same in every week: rest between holds 60 s. A bar a week; other bars that differ from the week before made room for its one change. Work: holds times seconds times intensity of a session; those at long length take turns with the others, in steps from the middle of the range to long length. The middle of the range first, long length early and light, near-maximal intensity last: common practice, no source; the sizes of the steps are chosen here. Can be held: the grade of the endurance model.",
      `${title}. Begins at 2 x 10 s at 50%, rest 60 s, middle. week 2 repetitions 2 to 3; week 3 hold length 10 s to 20 s. Hard by the endurance model in week 3.`,
      "week | session | inTurns | sets | repetitions | holdSeconds | effortPercent | sessionsPerWeek | muscleLength | changed | grade | toSpareLowPercent | toSpareCentralPercent | toSpareHighPercent",
      "1 | 2 x 10 s at 50%, rest 60 s, middle | null | 1 | 2 | 10 | 50 | null | middle | null | to spare | 11 | 21 | 31",
      "2 | 3 x 10 s at 50%, rest 60 s, middle | 1 x 10 s at 25%, rest 60 s, long | 1 | 3 | 10 | 50 | null | middle | repetitions | to spare | 12 | 22 | 32",
      "3 | 3 x 20 s at 50%, rest 60 s, middle | null | 1 | 3 | 20 | 50 | null | middle | hold length | hard | 13 | 23 | 33",
      "4 | 4 x 20 s at 70%, rest 60 s, long | null | 1 | 4 | 20 | 70 | null | long | null | to spare | 14 | 24 | 34",
    ]);
    const svg = await drawSvg(figure);
    const drawn = (row: string) => {
      const bars = marksIn(svg, `mark-rect role-mark ${row}__weeks_marks`);
      const high = bars.map(({ path }) => Number(/v([\d.]+)/.exec(path)?.[1]));
      const words = ["values", "changed_values"].flatMap((name) =>
        marksIn(svg, `mark-text role-mark ${row}__${name}_marks`).map(({ text }) => text),
      );
      // Heights as shares of the highest; what is of a colour of its own has changed.
      return `${high.map((one) => plainNumber(one / Math.max(...high))).join(" ")}; changed in ${bars.flatMap(({ fill }, at) => (fill === figureTheme.modes.light.changed ? [at + 1] : [])).join(" ")}; ${words.join(", ")}`;
    };
    expect(
      ["repetitions", "hold_length", "intensity", "at_long_length", "muscle_length"].map(drawn),
    ).toEqual([
      "0.5 0.75 0.75 1; changed in 2; 2, 4, 3",
      "0.5 0.5 1 1; changed in 3; 10 s, 20 s",
      "0.714 0.714 0.714 1; changed in ; 50%, 70%",
      // 250 of 5600 percent seconds in week 2, and all of them at the target's length.
      "0 0.04 0 1; changed in ; 0%, 4%, 0%, 100%",
      "1 1 1 1; changed in ; middle, long",
    ]);
    expect(marksIn(svg, "mark-text role-axis-label").map(({ text }) => text)).toEqual([
      ...["0", "4", "0 s", "20 s", "0%", "100%", "0%", "100%", "1", "2", "3", "4"],
    ]);
    const grades = marksIn(svg, "can_be_held__stretch_[1-3]_marks").map(({ text }) => text);
    expect(grades).toEqual(["to spare", "hard", "to spare"]);
  });
});
