/** Kind of evidence: made-up inputs in which no two numbers agree; each printed one was traced by hand. */
import { describe, expect, test } from "vitest";
import type { HoldAssessment } from "../../src/endurance/can-be-held.js";
import type { WhatWouldFit } from "../../src/endurance/what-would-fit.js";
import type { CautionsBlock } from "../../src/projection/cautions.js";
import type { RampPlan, RampRefusal } from "../../src/projection/ramp-plan.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import { parsePrescription as read } from "../../src/protocol/written-form.js";
import {
  cautionsToHtml,
  cautionsToMarkdown,
  cautionsToText,
} from "../../src/tables/cautions-block.js";
import { holdStripText } from "../../src/tables/hold-strip-text.js";
import {
  holdAnswer,
  holdCapacityTable,
  holdDoseTable,
  holdFitTable,
} from "../../src/tables/hold-table.js";
import { rampAnswer, rampTable } from "../../src/tables/ramp-table.js";
import { told } from "./told.js";

describe("one session", () => {
  test("its doses: 3 · 5 · 4 = 60 s under tension of 60 + 3 · 4 · 2 + 2 · 90 = 264 s", () => {
    expect(
      told(holdDoseTable(read("3 x (5 x 4 s) at 85%, rests 2 s and 90 s, 2/week, 7 weeks"))),
    ).toEqual([
      "What follows from the prescription [dose]",
      "Quantity | >Value",
      "Holds in a session | 15",
      "Holds in a week | 30",
      "Intensity | 85% of MVC, submaximal",
      "Tension time in a set | 20 s",
      "Tension time in a session | 60 s",
      "Tension time in a week | 2 min",
      "Tension time in the programme | 14 min",
      "Torque–time in a session | 5,100 %·s",
      "Torque–time in a week | 10,200 %·s",
      "Torque–time in the programme | 71,400 %·s",
      "Length of a session | 4 min 24 s",
      "Duty cycle within a set | 67%",
      "Share of the session under tension | 23%",
      "* Torque–time is intensity times tension time, in percent of MVC times seconds.",
    ]);
  });

  test("what is missing is named; one hold has no share of rest", () => {
    expect(told(holdDoseTable(read("3 x (5 x 4.5 s)")))).toEqual([
      "What follows from the prescription [dose]",
      "Quantity | >Value",
      "Holds in a session | 15",
      "Holds in a week | not known without sessions a week",
      "Intensity | not known without an intensity in percent of MVC",
      "Tension time in a set | 22.5 s",
      "Tension time in a session | 67.5 s",
      "Tension time in a week | not known without sessions a week",
      "Tension time in the programme | not known without sessions a week and weeks",
      "Torque–time in a session | not known without an intensity in percent of MVC",
      "Torque–time in a week | not known without an intensity in percent of MVC and sessions a week",
      "Torque–time in the programme | not known without an intensity in percent of MVC and sessions a week and weeks",
      "Length of a session | not known without every rest",
      "Duty cycle within a set | not known without the rest",
      "Share of the session under tension | not known without every rest",
      "* Torque–time is intensity times tension time, in percent of MVC times seconds.",
    ]);
    expect(told(holdDoseTable(read("1 x 20 s, maximal, 6 weeks"))).slice(2)).toEqual([
      "Holds in a session | 1",
      "Holds in a week | not known without sessions a week",
      "Intensity | 100% of MVC, maximal",
      "Tension time in a set | 20 s",
      "Tension time in a session | 20 s",
      "Tension time in a week | not known without sessions a week",
      "Tension time in the programme | not known without sessions a week",
      "Torque–time in a session | 2,000 %·s",
      "Torque–time in a week | not known without sessions a week",
      "Torque–time in the programme | not known without sessions a week",
      "Length of a session | 20 s",
      "* Torque–time is intensity times tension time, in percent of MVC times seconds.",
    ]);
  });

  const assessment = {
    grade: "hard",
    maximal: false,
    capacity: [
      { seconds: 0, low: 100, central: 100, high: 100 },
      { seconds: 10, low: 61.7, central: 72.4, high: 83.6 },
      { seconds: 40, low: 55.2, central: 66.3, high: 77.8 },
      { seconds: 20, low: 1, central: 2, high: 3 },
    ],
    smallestReservePercent: { low: 7.4, central: 11, high: 20 },
  } as unknown as HoldAssessment;
  const holds = sessionTimeline(read("3 x 10 s at 52.5%, rest 20 s"));

  test("what is left, where the model says it", () => {
    expect(told(holdCapacityTable(assessment, holds))).toEqual([
      "What is left at the end of each hold [remaining-capacity]",
      "Hold | >Ends at (s) | >Load (% of MVC) | >Left (% of MVC) | >Tires early to late (% of MVC) | >Left above load (points)",
      "1 | 10 | 52.5 | 72 | 62 to 84 | 20",
      "2 | 40 | 52.5 | 66 | 55 to 78 | 14",
      "* Below the load the hold cannot be kept; what follows a failure is carried on at full force.",
      "hold,ends,load,left,low,high",
      "1,10,52.5,72,61.7,83.6",
      "2,40,52.5,66,55.2,77.8",
    ]);
    const sets = sessionTimeline(read("2 x (1 x 10 s) at 52%, rest 5 s, 20 s between sets"));
    const maximal = holdCapacityTable({ ...assessment, maximal: true }, sets);
    expect(told(maximal)).toEqual([
      "What is left at the end of each hold [remaining-capacity]",
      "Hold | >Ends at (s) | >Load (% of MVC) | >Left (% of MVC) | >Tires early to late (% of MVC)",
      "set 1, 1 | 10 | 52 | 72 | 62 to 84",
      "set 2, 1 | 40 | 52 | 66 | 55 to 78",
      "* A maximal effort has no load to fail at: what is left is the force that can still be produced.",
      "hold,ends,load,left,low,high",
      '"set 1, 1",10,52,72,61.7,83.6',
      '"set 2, 1",40,52,66,55.2,77.8',
    ]);
  });

  test("who runs out, and where", () => {
    const at = (repetition: number, secondsIntoHold: number, set = 1) => ({
      set,
      repetition,
      secondsIntoHold,
      seconds: 99,
    });
    const answer = (others: object): string => holdAnswer({ ...assessment, ...others });
    expect(
      [
        {},
        {
          maximal: true,
          grade: null,
          ungraded: "maximal",
          smallestReservePercent: { low: -61, central: -48, high: -33 },
        },
        { grade: null, ungraded: "over an hour" },
        { aboveCriticalTorque: true },
        { action: "not said", failsAtLow: at(4, 7.25) },
        { failsAtLow: at(4, 7.25) },
        { failsAt: at(3, 8.5, 2), failsAtLow: at(2, 6.4) },
        {
          grade: "not possible as written",
          failsAt: at(3, 8.5),
          failsAtLow: at(2, 6.4),
          failsAtHigh: at(5, 9.9, 3),
        },
      ].map(answer),
    ).toEqual([
      "Hard: those who tire early finish with 7 points of MVC to spare; a typical person with 11.",
      "Maximal, so no grade: by the weakest hold force is expected to be 52% of MVC (39 to 67%).",
      "Not judged: the session takes over an hour, which nobody measured.",
      "Hard: those who tire early finish with 7 points of MVC to spare; a typical person with 11; such a mean load was not kept up for longer than five minutes.",
      "Hard: a typical person finishes with 11 points of MVC to spare; those who tire early, holding a load, run out in hold 4, 7.3 s into it.",
      "Hard: a typical person finishes with 11 points of MVC to spare; those who tire early run out in hold 4, 7.3 s into it.",
      "Hard: a typical person runs out in set 2, hold 3, 8.5 s into it; those who tire early in hold 2, 6.4 s into it; those who tire late keep it to the end.",
      "Not possible as written: even those who tire late run out in set 3, hold 5, 9.9 s into it; a typical person in hold 3, 8.5 s into it.",
    ]);
  });

  test("what would fit", () => {
    const easy = {
      keep: "to spare",
      longestHoldSeconds: { kind: "limit", value: 12.3 },
      mostRepetitions: { kind: "limit", value: 6 },
      shortestRestBetweenRepetitionsSeconds: { kind: "no limit", searchedTo: 3600 },
      shortestRestBetweenSetsSeconds: { kind: "cannot fit" },
      notes: [{ code: "assumption", message: "a doubt" }],
    } as WhatWouldFit;
    const hard = {
      ...easy,
      longestHoldSeconds: { kind: "limit", value: 31 },
      mostRepetitions: { kind: "no limit", searchedTo: 200 },
      shortestRestBetweenRepetitionsSeconds: { kind: "limit", value: 14 },
      shortestRestBetweenSetsSeconds: { kind: "limit", value: 55.5 },
      notes: [],
    } as WhatWouldFit;
    const p = read("3 x (5 x 20 s) at 60%, rests 17 s and 80 s");
    expect(told(holdFitTable(p, easy, hard))).toEqual([
      "What would make it fit, one thing changed at a time [what-would-fit]",
      "Changed alone | >Now | >To be to spare | >To be at worst hard",
      "Longest hold | 20 s | 12.3 s | 31 s",
      "Most holds in a set | 5 | 6 | no limit (searched to 200)",
      "Shortest rest between holds | 17 s | no limit (searched to 3600 s) | 14 s",
      "Shortest rest between sets | 80 s | cannot fit by this alone | 55.5 s",
      "* A doubt.",
    ]);
    const { longestHoldSeconds, keep, notes } = easy;
    const only = { longestHoldSeconds, keep, notes };
    expect(told(holdFitTable({ ...p, holdSecondsHigh: 24.5 }, only, hard)).slice(2, 4)).toEqual([
      "Longest hold | 20–24.5 s | 12.3 s | 31 s",
      "* A doubt.",
    ]);
    const { restBetweenRepetitionsSeconds: _rest, ...restless } = p;
    expect(holdFitTable(restless, easy, hard).rows[2]?.["written"]).toBe("");
  });
});

describe("drawn to scale in characters", () => {
  const strip = (text: string, width: number, height: number): readonly string[] =>
    holdStripText(sessionTimeline(read(text)), { width, height }).split("\n");

  test("two holds of 15 s at 50% and a rest of 5 s: 15, 5 and 15 columns, half as high", () => {
    expect(strip("2 x 15 s at 50%, rest 5 s", 60, 2)).toEqual([
      "100%",
      " 50% ███████████████     ███████████████",
      "  0% ───────────────────────────────────",
      "     0         10s       20s       30s",
      "To scale: the whole session, one column is 1 s.",
    ]);
  });

  test("62.5% of one line of eight steps is five steps; a minute is written as a clock", () => {
    expect(strip("1 x 90 s at 62.5%", 50, 1)).toEqual([
      "100% ▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅▅",
      "  0% ──────────────────────────────",
      "     0         30s       1:00",
      "To scale: the whole session, one column is 3 s.",
    ]);
  });

  test("a first set of 2 holds of 3 s, and half seconds", () => {
    expect(strip("10 x (2 x 3 s) at 100%, rests 3 s and 120 s", 30, 1)).toEqual([
      "100% ██████      ██████",
      "  0% ──────────────────",
      "     0         5s",
      "To scale: the first set, one column is 0.5 s.",
    ]);
    expect(strip("1 x 4.5 s at 100%", 30, 1)).toEqual([
      "100% █████████",
      "  0% ─────────",
      "     0",
      "To scale: the whole session, one column is 0.5 s.",
    ]);
  });
});

describe("working up", () => {
  const week = (number: number, others: object) => ({
    week: number,
    written: `week ${number} form`,
    prescription: read("1 x 5 s"),
    torqueTimePerWeek: 1240 + number,
    grade: "to spare",
    smallestReservePercent: { low: 10 + number, central: 20 + number, high: 30 + number },
    notes: [],
    ...others,
  });
  const plan = {
    kind: "plan",
    from: "untrained",
    shortestWeeks: 2,
    arrives: true,
    target: read("4 x 20 s at 70%"),
    weeks: [
      week(1, { notes: [{ code: "assumption", message: "begin gently" }] }),
      week(2, {
        change: { variable: "hold", from: "5 s", to: "8 s" },
        torqueTimePerWeek: 1357.25,
        long: { written: "light form", place: "70°" },
        grade: "hard",
      }),
      week(3, { grade: "hard" }),
    ],
    notes: [{ code: "assumption", message: "common practice" }],
  } as unknown as RampPlan;

  test("week by week", () => {
    expect(told(rampTable(plan))).toEqual([
      "Working up in 3 weeks, untrained [ramp]",
      ">Week | Sessions | In turns, at long length | Changed | >Torque–time of the week (%·s) | Can be held | >To spare (points of MVC)",
      "1 | week 1 form |  | the start | 1,241 | to spare | 21 (11 to 31)",
      "2 | week 2 form | light form | hold 5 s → 8 s | 1,357 | hard | 22 (12 to 32)",
      "3 | week 3 form |  | as the week before | 1,243 | hard | 23 (13 to 33)",
      "* To spare: least capacity above the load at the end of a hold, by the model, with the band from those who tire early to those who tire late; below zero the hold cannot be kept to its end.",
      "* Begin gently.",
      "* Common practice.",
    ]);
    expect(rampTable({ ...plan, weeks: plan.weeks.slice(0, 1) }).title).toBe(
      "Working up in 1 week, untrained",
    );
  });

  test("in a sentence", () => {
    expect(rampAnswer(plan)).toBe(
      "From week 1 form to week 3 form in 3 weeks (2 at least); hard by the model in weeks 2 to 3.",
    );
    const short = { ...plan, arrives: false, shortestWeeks: 9, weeks: plan.weeks.slice(0, 2) };
    expect(rampAnswer(short)).toBe(
      "4 × 20 s at 70% needs 9 weeks by these rules. In 2 weeks the plan comes from week 1 form to week 2 form, in turns with light form; hard by the model in week 2.",
    );
    expect(rampAnswer({ ...short, shortestWeeks: null })).toContain(
      "4 × 20 s at 70% is not reached by these rules.",
    );
    // What the sessions share with the one named whole is said once.
    const sessions = [
      { week: 1, written: "2 × 10 s at 40%, rest 60 s, middle" },
      { week: 2, written: "3 × 20 s at 40%, rest 60 s, 2/week, middle" },
    ].map((each, index) => ({ ...plan.weeks[index], ...each }));
    const target = { ...plan.target, restBetweenRepetitionsSeconds: 60 };
    const long = { written: "3 × 20 s at 40%, rest 60 s, 1/week, long", place: "70°" };
    const turning = [sessions[0], { ...sessions[1], long }] as unknown as RampPlan["weeks"];
    expect(rampAnswer({ ...short, target, weeks: turning })).toBe(
      "4 × 20 s at 70%, rest 60 s needs 9 weeks by these rules. In 2 weeks the plan comes from 2 × 10 s at 40%, middle to 3 × 20 s at 40%, 2/week, middle, in turns with 3 × 20 s at 40%, 1/week, long; hard by the model in week 2.",
    );
    expect(rampAnswer({ ...plan, asked: { written: "too much", why: "they run out" } })).toBe(
      "Most will not finish too much (they run out), so the plan works up to the nearest that they do. From week 1 form to week 3 form in 3 weeks (2 at least); hard by the model in weeks 2 to 3.",
    );
    expect(rampAnswer({ ...plan, weeks: plan.weeks.slice(0, 1) })).toBe(
      "From week 1 form to week 1 form in 1 week (2 at least); no week is hard by the model.",
    );
    const refusal = {
      kind: "refusal",
      reason: "too few weeks",
      notes: [],
    } as unknown as RampRefusal;
    expect(rampAnswer(refusal)).toBe("No plan: too few weeks.");
  });
});

describe("cautions", () => {
  const block = {
    title: "Cautions & signs",
    stopSigns: {
      id: "stop",
      title: "Stop",
      form: "full",
      text: "Then stop.",
      signs: ["pain", "<faint>"],
      source: "agency",
      sourceKind: "guideline",
    },
    entries: [
      {
        id: "pressure",
        title: "Pressure",
        text: "It rises.",
        form: "full",
        because: "holds of 40 s",
        source: "Elm 2011",
        sourceKind: "trial",
        doi: "10.1/x",
      },
      {
        id: "breath",
        title: "Breath",
        text: "Breathe.",
        form: "short",
        source: "coaches",
        sourceKind: "common practice",
        doi: "10.1/unused",
      },
    ],
  } as unknown as CautionsBlock;
  const short = { ...block, stopSigns: { ...block.stopSigns, form: "short" as const } };

  test("as text", () => {
    expect(cautionsToText(block, { width: 40 }).split("\n")).toEqual([
      "Cautions & signs",
      "",
      "! Stop. Signs: pain; <faint>. Then stop.",
      "  [guideline: agency]",
      "! Pressure. It rises. Here: holds of 40",
      "  s. [trial: Elm 2011, doi 10.1/x]",
      "! Breath. Breathe. [coaches]",
      "",
    ]);
    expect(cautionsToText(short).split("\n")[2]).toBe("! Stop. Then stop. [guideline: agency]");
    expect(cautionsToText(block, { width: 1 })).toBe(cautionsToText(block, { width: 20 }));
  });

  test("as Markdown", () => {
    expect(cautionsToMarkdown(block).split("\n")).toEqual([
      "**Cautions &amp; signs**",
      "",
      "- **Stop.** Signs: pain; &lt;faint&gt;. Then stop. *\\(guideline: agency\\)*",
      "- **Pressure.** It rises. Here: holds of 40 s. *\\(trial: Elm 2011, doi 10.1/x\\)*",
      "- **Breath.** Breathe. *\\(coaches\\)*",
      "",
    ]);
  });

  test("as HTML", () => {
    expect(cautionsToHtml(block).split("\n")).toEqual([
      '<section class="cautions" aria-label="Cautions &amp; signs">',
      "<h2>Cautions &amp; signs</h2>",
      '<ul class="stop-signs"><li data-caution="stop" data-form="full"><strong>Stop.</strong> <ul><li>pain</li><li>&lt;faint&gt;</li></ul>Then stop. <span class="source">guideline: agency</span></li></ul>',
      "<ul>",
      '<li data-caution="pressure" data-form="full"><strong>Pressure.</strong> It rises. <em>Here: holds of 40 s.</em> <span class="source">trial: Elm 2011, doi 10.1/x</span></li>',
      '<li data-caution="breath" data-form="short"><strong>Breath.</strong> Breathe. <span class="source">coaches</span></li>',
      "</ul>",
      "</section>",
      "",
    ]);
    expect(cautionsToHtml(short).split("\n")[2]).toBe(
      '<ul class="stop-signs"><li data-caution="stop" data-form="short"><strong>Stop.</strong> Then stop. <span class="source">guideline: agency</span></li></ul>',
    );
  });
});
