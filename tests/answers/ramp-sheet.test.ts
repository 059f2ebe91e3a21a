/** Kind of evidence: identities; the sheet says what the plan and the cautions say, whole and escaped. */
import { describe, expect, test } from "vitest";
import { cautionsWording } from "../../src/projection/cautions-wording.js";
import { rampPlan } from "../../src/projection/ramp-plan.js";
import type { RampPlan } from "../../src/projection/ramp-plan.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { rampSheet } from "../../src/answers/ramp-sheet.js";

const planOf = (text: string, weeks: number): RampPlan =>
  rampPlan(parsePrescription(text), { from: "returning after injury", weeks }) as RampPlan;
const plan = planOf("4 x 20 s at 70-75%, rest 120 s, 3/week, long, knee", 14);
const sheet = rampSheet(plan);
const plainText = (html: string): string =>
  html
    .replace(/<style>[\s\S]*?<\/style>/g, "")
    .replace(/<[^>]*>/g, "")
    .replace(/&#39;/g, "'")
    .replace(/&quot;/g, '"')
    .replace(/&lt;/g, "<")
    .replace(/&gt;/g, ">")
    .replace(/&amp;/g, "&")
    .replace(/\s+/g, " ");

describe("the client's pages", () => {
  const bodyRows = [
    ...sheet.matchAll(/<tr(?: class="first")?>(<th scope="rowgroup".*?)?<td.*?<\/tr>/gs),
  ].map(([row]) => row);

  test("a line for every session, a box and three blanks on each; weeks of turns name both places", () => {
    const sessions = plan.weeks.map(
      ({ prescription, long }) =>
        (prescription.sessionsPerWeek ?? NaN) + (long?.prescription.sessionsPerWeek ?? 0),
    );
    expect(new Set(sessions)).toEqual(new Set([3]));
    expect(bodyRows).toHaveLength(3 * plan.weeks.length);
    for (const row of bodyRows) {
      expect(row.match(/<i><\/i>/g)).toHaveLength(1);
      expect(row.match(/class="blank"/g)).toHaveLength(3);
      expect(row.match(/<svg class="strip"/g)).toHaveLength(1);
      expect(row.match(/<svg class="joint"/g)).toHaveLength(1);
    }
    const heads = [...sheet.matchAll(/<th scope="rowgroup" rowspan="3">(\d+)/g)].map(([, week]) =>
      Number(week),
    );
    expect(heads).toEqual(plan.weeks.map(({ week }) => week));
    // With two near the middle and one at long length, the long one stands between.
    const turns = plan.weeks.findIndex(({ long }) => long !== undefined);
    const places = bodyRows
      .slice(3 * turns, 3 * turns + 3)
      .map((row) => plainText(row.slice(row.indexOf('class="where"'))));
    expect(places.map((place) => place.includes("towards long"))).toEqual([false, true, false]);
  });

  test("strips have one scale of time; lines shrink so that eight weeks stay on a page", () => {
    // One set: its holds, and a rest of 120 s after each but the last.
    const { repetitions, holdSeconds } = plan.weeks.at(-1)!.prescription;
    const longest = Math.max(
      ...plan.weeks
        .flatMap(({ prescription, long }) => [
          prescription,
          ...(long === undefined ? [] : [long.prescription]),
        ])
        .map((p) => p.repetitions * (p.holdSeconds + 120) - 120),
    );
    expect(repetitions).toBe(4);
    const rects = (row: string) =>
      [...row.matchAll(/<rect x="([\d.]+)" width="([\d.]+)"/g)].map(([, x, width]) => [
        Number(x),
        Number(width),
      ]);
    const at = (seconds: number): number => Number(((98 * seconds) / longest).toFixed(1));
    expect(rects(bodyRows.at(-1)!)).toEqual(
      [0, 1, 2, 3].map((hold) => [at(hold * (holdSeconds + 120)), at(holdSeconds)]),
    );
    const first = plan.weeks[0]!.prescription;
    expect(rects(bodyRows[0]!)).toEqual(
      Array.from({ length: first.repetitions }, (_, hold) => [
        at(hold * (first.holdSeconds + 120)),
        Math.max(2, at(first.holdSeconds)),
      ]),
    );
    const rowOf = (html: string): readonly number[] =>
      [...html.matchAll(/--row: ([\d.]+)mm/g)].map(([, mm]) => Number(mm));
    // 24 and 18 lines; daily 56 and 14 lines of the 200 mm there are.
    expect(rowOf(sheet)).toEqual([8.2, 8.2]);
    expect(rowOf(rampSheet(planOf("4 x 10 s at 50%, rest 60 s, 7/week, long, knee", 10)))).toEqual([
      3.57, 8.2,
    ]);
  });

  test("the joint is drawn at its angle, which stands beside it in degrees", () => {
    const turned = rampSheet(planOf("4 x 10 s at 50%, rest 60 s, 3/week, long, knee 90°", 10));
    // At 90° of bending the far limb hangs 18 units straight below the joint at 22, 20.
    expect(turned).toMatch(/<path d="M3 20H22L22\.0 38\.0"\/>.*?<b>90°<\/b>/);
    expect(turned).toContain("angles with 0° as straight");
    const elbow = rampSheet(planOf("4 x 10 s at 50%, rest 60 s, 3/week, middle, elbow 90°", 4));
    expect(elbow).toMatch(/<path d="M3 20H22L22\.0 2\.0"\/>.*?<b>90°<\/b>/);
    expect(sheet).not.toContain("°</b>");
    expect(sheet).toContain("a third towards long");
  });

  test("what to do stands in the client's words; without equipment as effort", () => {
    const first = plan.weeks[0]!.prescription;
    const words = `${first.repetitions} holds of ${first.holdSeconds} s, ${first.intensityPercent}% of your best`;
    expect(plainText(bodyRows[0]!)).toContain(words);
    const byEffort = plainText(rampSheet(plan, { byEffort: true }));
    expect(byEffort).toContain(
      `${first.repetitions} holds of ${first.holdSeconds} s, effort ${first.intensityPercent! / 10} of 10`,
    );
    expect(byEffort).not.toContain("% of your best");
    expect(plainText(sheet)).toContain("Every session: rest 2 min between holds, breathe on");
  });

  test("a page for each eight weeks, each with the stop signs and the pain rule", () => {
    const pages = sheet.split('<section class="weeks">').slice(1);
    expect(pages.map((page) => page.match(/Weeks \d+ to \d+ of \d+/)?.[0])).toEqual([
      "Weeks 1 to 8 of 14",
      "Weeks 9 to 14 of 14",
    ]);
    for (const page of pages) {
      const words = plainText(page);
      for (const sign of cautionsWording.stopSigns.signs) expect(words).toContain(sign);
      expect(words).toContain(
        "Up to 3: go on to the next week. More than that, up to 5: do this week again. Above 5, or worse the next morning: go back one week, and ask before you go on.",
      );
    }
    expect(plainText(rampSheet({ ...plan, holdBackAt: 1 }))).toContain("Up to 1: go on");
  });
});

test("every caution stands in full, once; those of a profile only with one", () => {
  const words = plainText(sheet);
  for (const { text, source, when } of cautionsWording.cautions) {
    if (when === "profile") {
      expect(words).not.toContain(text);
      continue;
    }
    expect(words.split(text.replace(/\s+/g, " "))).toHaveLength(2);
    expect(words).toContain(source);
  }
  expect(sheet).not.toContain('data-form="short"');
});

test("it loads nothing, runs nothing and is the same every time", () => {
  expect(sheet).not.toMatch(/<script|<link|<img|src=|href=|\son\w+="/);
  expect(sheet).toContain("default-src 'none'");
  expect(rampSheet(plan)).toBe(sheet);
});

test("words of the user's are text", () => {
  const target = { ...plan.target, effortIntent: "<b>slow</b> & steady" };
  const named = rampSheet(
    rampPlan(target, { from: "returning after injury", weeks: 14 }) as RampPlan,
  );
  expect(named).not.toContain("<b>slow");
  expect(named).toContain("&lt;b&gt;slow&lt;/b&gt; &amp; steady");
});
