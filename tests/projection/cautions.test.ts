/** Kinds of evidence: two lists that must agree (the shared file and the code), and identities. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { cautionsFor, nothingShown } from "../../src/projection/cautions.js";
import { cautionsWording } from "../../src/projection/cautions-wording.js";
import type { Prescription } from "../../src/protocol/prescription.js";
import { parsePrescription } from "../../src/protocol/written-form.js";

const read = parsePrescription;
const light = read("4 x 30 s at 50%, rest 60 s, short");

const ids = (p: Prescription | readonly Prescription[]): readonly string[] =>
  cautionsFor(p).entries.map(({ id }) => id);

test("the wording in code is the shared file, word for word", () => {
  const file: unknown = JSON.parse(
    readFileSync(new URL("../../shared/cautions.json", import.meta.url), "utf8"),
  );
  expect(cautionsWording).toEqual(file);
});

describe("what applies", () => {
  test("everything that always applies, in the file's order, the clinician first", () => {
    expect(ids(light)).toEqual(
      cautionsWording.cautions.filter(({ when }) => when === "always").map(({ id }) => id),
    );
    expect(ids(light).slice(0, 2)).toEqual(["ask-a-clinician", "local-rules"]);
  });

  test("long muscle length, and a length nobody stated, bring its caution", () => {
    expect(ids(light)).not.toContain("long-muscle-length");
    expect(ids({ ...light, muscleLength: "long" })).toContain("long-muscle-length");
    const { muscleLength: _length, ...unstated } = light;
    expect(ids(unstated)).toContain("long-muscle-length");
    expect(ids([light, { ...light, muscleLength: "long" }])).toContain("long-muscle-length");
    expect(ids([])).toContain("long-muscle-length");
  });

  test("what weighs more is said", () => {
    const because = (text: string, id: string): string | undefined =>
      cautionsFor(read(text)).entries.find((entry) => entry.id === id)?.because;
    expect(because("5 x 3 s, maximal, rest 30 s", "blood-pressure")).toContain("maximal");
    expect(because("5 x 3 s at 95%, rest 30 s", "breathing")).toContain("near-maximal");
    expect(because("1 x 60 s at 30%, to failure", "light-is-not-automatically-safe")).toContain(
      "failure",
    );
    expect(because("4 x 30 s at 50%, short", "blood-pressure")).toBeUndefined();
  });
});

describe("shortened only after they were shown", () => {
  test("asking for the short form first gives the long one", () => {
    const block = cautionsFor(light, { form: "short", shown: nothingShown });
    expect(block.form).toBe("full");
    for (const { id, text } of block.entries)
      expect(text).toBe(cautionsWording.cautions.find((each) => each.id === id)?.text);
  });

  test("the second block of a document may be short, and leaves nothing out", () => {
    const first = cautionsFor(light);
    const second = cautionsFor(light, { form: "short", shown: first.shown });
    expect(second.form).toBe("short");
    expect(second.entries.map(({ id }) => id)).toEqual(first.entries.map(({ id }) => id));
    for (const { id, text } of second.entries)
      expect(text).toBe(cautionsWording.cautions.find((each) => each.id === id)?.short);
    expect(second.stopSigns.form).toBe("short");
  });

  test("a caution that the first protocol did not bring stands in full in a short block", () => {
    const first = cautionsFor(light);
    const second = cautionsFor(
      { ...light, muscleLength: "long" },
      { form: "short", shown: first.shown },
    );
    expect(second.entries.filter(({ form }) => form === "full").map(({ id }) => id)).toEqual([
      "long-muscle-length",
    ]);
    expect(second.form).toBe("full");
    const third = cautionsFor(
      { ...light, muscleLength: "long" },
      { form: "short", shown: second.shown },
    );
    expect(third.form).toBe("short");
  });

  test("a short block does not forget what was shown, and the start is not changed", () => {
    const first = cautionsFor(light);
    const second = cautionsFor(light, { form: "short", shown: first.shown });
    expect(second.shown.inFull.toSorted()).toEqual(first.shown.inFull.toSorted());
    expect(nothingShown.inFull).toEqual([]);
  });
});
