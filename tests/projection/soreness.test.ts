/** Kind of evidence: published numbers, as the abstracts named beside them print them. */
import { expect, test } from "vitest";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { sorenessNotes } from "../../src/projection/soreness.js";

const notes = (text: string) => sorenessNotes(parsePrescription(text));
const codes = (text: string): readonly string[] => notes(text).map(({ code }) => code);
const words = (text: string): string =>
  notes(text)
    .map(({ message }) => message)
    .join(" ");

test("maximal holds at long length bring the published numbers", () => {
  const shown = words("30 x 6 s, maximal, rest 15 s, long, elbow");
  // Allen and others, first published 2017, abstract: 20 % against 7 % at 24 h, 28 % more force, 38 people.
  for (const printed of ["20%", "7%", "28%", "n = 38"]) expect(shown).toContain(printed);
  // The 2007 abstract: −20.3 ± 2.7 %, 0.12 rad, seven men.
  for (const printed of ["20.3%", "2.7%", "0.12 rad", "n = 7"]) expect(shown).toContain(printed);
  // Chen 2013, abstract: 16–62 %; McMahon 2024, abstract: 4 sets of 8 at 50° and 90°, eight people.
  for (const printed of ["16–62%", "4 × 8", "90°", "50°", "n = 8"])
    expect(shown).toContain(printed);
});

test("near-maximal is above 90%, and an effort that does not convert is not taken for light", () => {
  expect(codes("4 x 10 s at 91%, rest 60 s, long")).toContain("long-length-force-loss");
  expect(codes("4 x 10 s at 90%, rest 60 s, long")).not.toContain("long-length-force-loss");
  expect(codes("4 x 10 s at 60% 1RM, rest 60 s, long")).toContain("long-length-force-loss");
});

test("what was not measured is said not to be", () => {
  expect(codes("4 x 20 s at 70%, rest 60 s, long")[0]).toBe("not-measured");
  expect(codes("4 x 20 s at 70%, rest 60 s, short")).toEqual(["not-measured"]);
  expect(codes("4 x 30 s, rest 60 s")).toEqual(["not-measured"]);
});

test("a length nobody stated is not taken for short", () => {
  expect(codes("5 x 3 s, maximal, rest 30 s")).toEqual([
    "length-unknown",
    ...codes("5 x 3 s, maximal, rest 30 s, long"),
  ]);
  expect(codes("5 x 3 s, maximal, rest 30 s, middle")).toEqual(["shorter-length-force-loss"]);
});

test("every note has a source, or says that it is common practice", () => {
  for (const text of [
    "30 x 6 s, maximal, rest 15 s, long",
    "5 x 3 s, maximal, rest 30 s",
    "5 x 3 s, maximal, rest 30 s, short",
    "4 x 20 s at 70%, rest 60 s, long",
    "4 x 20 s at 70%, rest 60 s",
  ])
    for (const { source, sourceKind } of notes(text))
      expect(source === "common practice, no source").toBe(sourceKind === "common practice");
});
