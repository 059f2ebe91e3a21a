import { describe, expect, test } from "vitest";
import {
  frontierSentences,
  frontierStepsTable,
  frontierTable,
} from "../../src/tables/frontier-table.js";
import { madeUpFrontier, madeUpReady } from "./made-up-protocols.js";
import { told } from "./told.js";

/** Kind of evidence: made-up inputs in which no two numbers agree; each printed one was traced by hand. */

describe("a frontier", () => {
  test("its protocols", () => {
    expect(told(frontierTable(madeUpFrontier, madeUpReady))).toEqual([
      "The most for the time: size after 12 weeks, knee, against no exercise; middle and 95% range [frontier]",
      ">No. | Protocol | >A session (min) | >A week (min) | >The average (%) | >A new group (%) | >A single person (%)",
      "1 | 2 × 20 s at 50%, rest 60 s, 2/week, long | 1.7 | 3.4 | 1.5 (0.4 to 2.6) | −2.2 to 4.7 | −6.3 to 10.9",
      "2 | 5 × 30 s at 70%, rest 90 s, 3/week, long | 8.5 | 25.5 | 3.4 (1.3 to 5.7) | −1.9 to 8.1 | −7.2 to 15.4",
      "* The best of many is flattered.",
      "* The joint is not said.",
      "number,whole,exact_session,exact_week,grade,middle,low,high,exact_chance",
      '1,"2 x 20 s at 50%, rest 60 s, 2/week, 12 weeks, long, knee",1.72,3.44,to spare,1.51,0.41000000000000003,2.61,',
      '2,"5 x 30 s at 70%, rest 90 s, 3/week, 12 weeks, long, knee",8.51,25.53,hard,3.4099999999999997,1.31,5.71,0.973',
    ]);
    const { joint: _joint, ...limits } = madeUpFrontier.limits;
    const other = frontierTable({ ...madeUpFrontier, limits }, madeUpReady, {
      confidence: 0.9,
      id: "x",
    });
    expect([other.id, other.title]).toEqual([
      "x",
      "The most for the time: size after 12 weeks, against no exercise; middle and 90% range",
    ]);
  });

  test("its steps and sentences", () => {
    expect(told(frontierStepsTable(madeUpFrontier))).toEqual([
      "What each adds to the one before [frontier-steps]",
      "Step | >More time (min a week) | >Adds, middle and 95% range (%) | >Chance that it adds",
      "1 to 2 | 22.1 | 1.9 (0.2 to 3.1) | 97%",
    ]);
    expect(told(frontierStepsTable(madeUpFrontier, { confidence: 0.9, id: "x" }))[0]).toBe(
      "What each adds to the one before [x-steps]",
    );
    expect(frontierSentences(madeUpFrontier)).toEqual([
      "1,203 candidates within 15.5 min a session, 4 sessions a week and 85% of MVC: 3 can be held and lie near evidence; 704 take too long, 415 cannot be held, 81 lie outside what was studied.",
      "At the short end, 2 x 20 s at 50%, rest 60 s, 2/week, 12 weeks, long, knee takes 3 min 26 s a week and is expected to give 1.5% on average (95% range 0.4 to 2.6%; a single person −6.3 to 10.9%); at the long end, 5 x 30 s at 70%, rest 90 s, 3/week, 12 weeks, long, knee takes 25 min 32 s a week and is expected to give 3.4% on average (95% range 1.3 to 5.7%; a single person −7.2 to 15.4%).",
    ]);
    const alone = { ...madeUpFrontier, points: madeUpFrontier.points.slice(0, 1) };
    expect(frontierSentences(alone, { confidence: 0.8 })[1]).toBe(
      "One stands alone: 2 x 20 s at 50%, rest 60 s, 2/week, 12 weeks, long, knee takes 3 min 26 s a week and is expected to give 1.5% on average (80% range 0.4 to 2.6%; a single person −6.3 to 10.9%).",
    );
  });
});
