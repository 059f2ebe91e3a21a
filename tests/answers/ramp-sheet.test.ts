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

describe("the front", () => {
  const rows = [...sheet.matchAll(/<tr><th scope="row">(\d+)<\/th>(.*?)<\/tr>/g)];

  test("a row for each week with its sessions to tick", () => {
    expect(rows.map(([, week]) => Number(week))).toEqual(plan.weeks.map(({ week }) => week));
    rows.forEach(([, , cells], index) => {
      const week = plan.weeks[index];
      expect(cells?.match(/<i><\/i>/g)).toHaveLength(week?.prescription.sessionsPerWeek ?? NaN);
      expect(cells).toContain(week?.grade);
      if (week?.change !== undefined) expect(cells).toContain(week.change.to);
    });
  });

  test("rests stand once, and the target in the title", () => {
    expect(plainText(sheet)).toContain("Every session: rest 120 s between holds.");
    expect(sheet).toContain(
      "<h1>Working up to 4 × 20 s at 70–75%, rest 120 s, 3/week, long, knee</h1>",
    );
  });

  test("stop signs and pain bands stand before the back", () => {
    const front = sheet.slice(0, sheet.indexOf('<div class="back">'));
    for (const sign of cautionsWording.stopSigns.signs) expect(front).toContain(sign);
    for (const { label } of cautionsWording.painBands.bands) expect(front).toContain(label);
  });
});

test("every caution stands in full, once", () => {
  const words = plainText(sheet);
  for (const { text, source } of cautionsWording.cautions) {
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
