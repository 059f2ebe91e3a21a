/** Kind of evidence: identities over every band of a profile; what comes first, and that nothing ever clears anybody. */
import { describe, expect, test } from "vitest";
import { cautionsFor } from "../../src/projection/cautions.js";
import { cautionsWording } from "../../src/projection/cautions-wording.js";
import { outsideAges, profileBands, type Profile } from "../../src/projection/profile.js";
import { joints } from "../../src/protocol/prescription.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import {
  cautionsToHtml,
  cautionsToMarkdown,
  cautionsToText,
} from "../../src/tables/cautions-block.js";

const middle = parsePrescription("4 x 20 s at 50%, rest 60 s, middle, knee");
const long = parsePrescription("4 x 20 s at 95%, rest 60 s, long, knee");
const firstIds = (profile: Profile, p = middle): readonly string[] =>
  cautionsFor(p, { profile }).profile!.first.map(({ id }) => id);

describe("each band brings its caution first", () => {
  test.each<readonly [string, Profile, readonly string[]]>([
    ["under 18", { ageYears: 17 }, ["below-eighteen"]],
    ["65 and over", { ageYears: 65 }, ["older-adults"]],
    [
      "surgery whose time is not said",
      { surgery: { site: "knee" } },
      ["recent-surgery", "injured-site"],
    ],
    [
      "surgery under 12 weeks ago",
      { surgery: { weeksAgo: 11.9 } },
      ["recent-surgery", "injured-site"],
    ],
    ["surgery 12 weeks ago", { surgery: { weeksAgo: 12 } }, ["surgery-within-a-year"]],
    ["surgery a year ago", { surgery: { weeksAgo: 52 } }, ["old-surgery"]],
    [
      "surgery of an eye",
      { surgery: { site: "eye", weeksAgo: 3 } },
      ["retina", "recent-surgery", "injured-site"],
    ],
    [
      "above 180",
      { bloodPressure: { systolic: 181, diastolic: 80 } },
      ["heart-and-vessels-absolute", "high-blood-pressure"],
    ],
    [
      "above 110",
      { bloodPressure: { systolic: 150, diastolic: 111 } },
      ["heart-and-vessels-absolute", "high-blood-pressure"],
    ],
    [
      "180/110, not above",
      { bloodPressure: { systolic: 180, diastolic: 110 } },
      ["heart-and-vessels-relative", "high-blood-pressure"],
    ],
    [
      "160/100, not above",
      { bloodPressure: { systolic: 160, diastolic: 100 } },
      ["high-blood-pressure"],
    ],
    ["high and treated", { bloodPressure: "high, treated" }, ["high-blood-pressure"]],
    [
      "high and not treated",
      { bloodPressure: "high, not treated" },
      ["heart-and-vessels-relative", "high-blood-pressure"],
    ],
    [
      "as in the wall squats",
      { bloodPressure: { systolic: 125, diastolic: 70 } },
      ["pressure-in-wall-squats"],
    ],
    ["pregnant", { pregnancy: "pregnant" }, ["pregnancy", "pregnancy-holds"]],
    ["after birth", { pregnancy: "after birth" }, ["pregnancy"]],
    ["shoulder", { joint: "shoulder" }, ["painful-shoulder"]],
    ["neck", { joint: "neck" }, ["neck-and-trunk"]],
    ["trunk", { joint: "trunk" }, ["neck-and-trunk"]],
    ["knee", { joint: "knee" }, ["blood-pressure", "pain-bands"]],
    ["hip", { joint: "hip" }, ["blood-pressure", "pain-bands"]],
    ["ankle", { joint: "ankle" }, ["pain-bands", "next-day-rule"]],
    ["wrist", { joint: "wrist" }, ["pain-bands", "next-day-rule"]],
    ["hand", { joint: "hand" }, ["pain-bands", "next-day-rule"]],
  ])("%s", (_band, profile, ids) => {
    expect(firstIds(profile).slice(0, ids.length)).toEqual(ids);
  });

  test("the elbow brings what was measured on it, where the hold may be long", () => {
    expect(firstIds({ joint: "elbow" }, long)[0]).toBe("long-muscle-length");
    expect(firstIds({ joint: "elbow" })[0]).toBe("pain-bands");
  });

  test("what the worst brings leads: pressure, then surgery, then pregnancy", () => {
    const all = firstIds({
      ageYears: 70,
      joint: "neck",
      surgery: { site: "eye", weeksAgo: 2 },
      bloodPressure: { systolic: 190, diastolic: 100 },
      pregnancy: "after birth",
    });
    expect(all).toEqual([
      "heart-and-vessels-absolute",
      "retina",
      "recent-surgery",
      "injured-site",
      "ask-a-clinician",
    ]);
  });

  test("where nothing is brought, the protocol's own reasons lead, then what is for everybody", () => {
    expect(firstIds({ ageYears: 30 })).toEqual(["breathing", "next-day-rule", "ask-a-clinician"]);
    expect(firstIds({ ageYears: 30, bloodPressure: "usual" }, long)).toContain(
      "long-muscle-length",
    );
  });
});

const every: readonly Profile[] = [undefined, 17, 18, 50, 51, 64, 65, 90].flatMap((ageYears) =>
  [undefined, "knee" as const, "shoulder" as const, "elbow" as const].flatMap((joint) =>
    [
      undefined,
      "none" as const,
      { site: "knee" as const },
      { weeksAgo: 20 },
      { weeksAgo: 200 },
    ].flatMap((surgery) =>
      [
        undefined,
        "usual" as const,
        "high, treated" as const,
        { systolic: 118, diastolic: 75 },
        { systolic: 185, diastolic: 95 },
      ].flatMap((bloodPressure) =>
        [undefined, "none" as const, "pregnant" as const, "after birth" as const].map(
          (pregnancy): Profile => ({
            ...(ageYears === undefined ? {} : { ageYears }),
            ...(joint === undefined ? {} : { joint }),
            ...(surgery === undefined ? {} : { surgery }),
            ...(bloodPressure === undefined ? {} : { bloodPressure }),
            ...(pregnancy === undefined ? {} : { pregnancy }),
          }),
        ),
      ),
    ),
  ),
);

/** Words that would read as leave to train; those that deny it are taken out first. */
const readsAsClearance = (text: string): boolean =>
  /\bclear(?:ed|s|ance)?\b|\bsafe\b|\bfit (?:to|for)\b|\bmay (?:begin|start|train)\b|no (?:risk|reason)|\bsuitable\b|\ball right\b|\bharmless\b|\bgo ahead\b/i.test(
    text
      .replace(/data-caution="[^"]*"/g, "")
      .replace(/clears nobody|not a clearance|Nothing here is a clearance/gi, "")
      .replace(/is not the safe choice|usually taken as safe|0 to 3 safe|safe and desirable/gi, "")
      .replace(/says nothing about whether a given person may train/gi, ""),
  );

test("3,200 profiles: three to five first, a clinician among them, stop signs, each caution once, no clearance", () => {
  expect(every).toHaveLength(3200);
  for (const profile of every) {
    const block = cautionsFor(long, { profile });
    const { first, more, said } = block.profile!;
    expect(first.length).toBeGreaterThanOrEqual(3);
    expect(first.length).toBeLessThanOrEqual(5);
    expect(first.at(-1)!.id).toBe("ask-a-clinician");
    expect(first.every(({ form, source }) => form === "full" && source !== "")).toBe(true);
    expect(said).toContain("clears nobody");
    const text = cautionsToText(block, { width: 100_000 });
    const ids = [...first, ...more].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    // A profile takes nothing away.
    for (const { id, title, text: wording } of cautionsWording.cautions)
      if (ids.includes(id) || block.entries.some((entry) => entry.id === id))
        expect(text.split(`! ${title}. ${wording}`)).toHaveLength(2);
    for (const { id } of cautionsFor(long).entries)
      expect(block.entries.some((entry) => entry.id === id)).toBe(true);
    for (const sign of cautionsWording.stopSigns.signs) expect(text).toContain(sign);
    const short = cautionsToText(block, { width: 100_000, only: "triggered" });
    for (const sign of cautionsWording.stopSigns.signs) expect(short).toContain(sign);
    for (const rendering of [text, short, cautionsToMarkdown(block), cautionsToHtml(block)])
      if (readsAsClearance(rendering)) throw new Error(`${JSON.stringify(profile)}: ${rendering}`);
  }
});

describe("outside the ages studied", () => {
  test("without a file: the ages of the endurance times, 18 to 50", () => {
    expect(outsideAges({ ageYears: 18 }, undefined)).toBeUndefined();
    expect(outsideAges({ ageYears: 50 }, undefined)).toBeUndefined();
    for (const ageYears of [17, 51, 64, 65, 90])
      expect(outsideAges({ ageYears }, undefined)).toMatch(
        new RegExp(
          `^Outside the ages studied: you said ${ageYears} years, .*18 to 50 years .* as unproven at ${ageYears}\\.$`,
        ),
      );
    expect(outsideAges({}, undefined)).toBeUndefined();
  });

  test("with a file: its own; one that gives none says so", () => {
    expect(outsideAges({ ageYears: 30 }, { low: 21, high: 34 })).toBeUndefined();
    expect(outsideAges({ ageYears: 36 }, { low: 21, high: 34 })).toContain(
      "the groups that trained in the file had mean ages of 21 to 34 years",
    );
    expect(outsideAges({ ageYears: 36 }, { low: 21, high: 34 })).not.toContain("18 to 50");
    expect(outsideAges({ ageYears: 70 }, { low: 60, high: 80 })).toContain("18 to 50");
    expect(outsideAges({ ageYears: 30 }, null)).toContain("the file gives no ages");
  });
});

test("a joint that is not the one trained is said", () => {
  const other = (profile: Profile) => cautionsFor(middle, { profile }).profile!.otherJoint;
  expect(other({ joint: "elbow" })).toBe(
    "The profile names the elbow; what is trained here is the knee.",
  );
  expect(other({ joint: "knee" })).toBeUndefined();
  for (const joint of joints)
    expect(cautionsFor([], { profile: { joint } }).profile!.otherJoint).toBeUndefined();
});

test("without a profile nothing of one is there, and its cautions stay away", () => {
  const block = cautionsFor(long);
  expect(block).not.toHaveProperty("profile");
  const own = cautionsWording.cautions.filter(({ when }) => when === "profile");
  expect(own).toHaveLength(7);
  for (const { id, title } of own) {
    expect(block.entries.map((entry) => entry.id)).not.toContain(id);
    expect(cautionsToHtml(block)).not.toContain(`${title}.`);
  }
  expect(profileBands.recentSurgeryWeeks).toBe(12);
});
