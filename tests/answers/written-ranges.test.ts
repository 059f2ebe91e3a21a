/** Kind of evidence: hand arithmetic on ranges, and what the doors print of them. */
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import {
  contractionsPerSession,
  contractionsPerWeek,
  sessionLengthSeconds,
  tensionTimePerSessionSeconds,
} from "../../src/protocol/derived-quantities.js";
import { shippedEvidence } from "./evidence-under-test.js";
import { rangeEnds, typicalOf } from "../../src/protocol/range-ends.js";
import { parsePrescription, writePrescription } from "../../src/protocol/written-form.js";

const written =
  "2–3 sets of 4–6 x 3–5 s at 60–80%, rest 10–20 s, 2–4 min between sets, 2–3/week, 6–8 weeks, knee";
const p = parsePrescription(written);

test("a range stands for its middle, and its ends for the least and the most that is asked", () => {
  const { lightest, heaviest } = rangeEnds(p)!;
  expect(writePrescription(typicalOf(p))).toBe(
    "3 × (5 × 4 s) at 70%, rest 15 s, 180 s between sets, 2.5/week, 7 weeks, knee",
  );
  expect(writePrescription(lightest)).toBe(
    "2 × (4 × 3 s) at 60%, rest 20 s, 240 s between sets, 2/week, 6 weeks, knee",
  );
  expect(writePrescription(heaviest)).toBe(
    "3 × (6 × 5 s) at 80%, rest 10 s, 120 s between sets, 3/week, 8 weeks, knee",
  );
  // 3 × 5 holds, 2.5 times a week; 15 × 4 s; 60 s + 3 × 4 × 15 s + 2 × 180 s.
  expect(contractionsPerSession(p)).toBe(15);
  expect(contractionsPerWeek(p)).toBe(37.5);
  expect(tensionTimePerSessionSeconds(p)).toBe(60);
  expect(sessionLengthSeconds(p)).toBe(600);
});

test("hold says what was assumed, and both ends", async () => {
  const { sentences, data } = await ask("hold", {
    protocol: "2-3 sets of 4-6 x 3-5 s at 60, rest 10-20 s, 2-4 min between sets, knee",
  });
  const text = sentences.join("\n");
  expect(text).toContain("“at 60” taken as 60% of MVC");
  expect(text).toContain("number of sets 2 to 3 taken as 3");
  expect(text).toContain("rest between sets 120 to 240 taken as 180");
  expect(text).toContain(
    "At the lightest it allows (2 × (4 × 3 s) at 60%, rest 20 s, 240 s between sets, knee): Can it be held?",
  );
  expect(text).toContain(
    "At the heaviest (3 × (6 × 5 s) at 60%, rest 10 s, 120 s between sets, knee): Can it be held?",
  );
  expect(data.question.options.protocol).toContain("2-3 sets of 4-6");
});

test("a gain is told at both ends where the file tells of the protocol", async () => {
  const protocol = "3-4 x 20-30 s at 50-70%, rest 60-120 s, 3/week, 8 weeks, knee";
  const { sentences } = await ask(
    "project",
    { protocol, goal: "strength" },
    shippedEvidence("demo-register.csv"),
  );
  const ends = sentences.filter((words) => words.startsWith("At the "));
  expect(ends).toHaveLength(2);
  expect(ends[0]).toContain("(3 × 20 s at 50%, rest 120 s, 3/week, 8 weeks, knee)");
  expect(ends[1]).toContain("(4 × 30 s at 70%, rest 60 s, 3/week, 8 weeks, knee)");
  expect(ends[0]).not.toBe(ends[1]);
});

test("protocols of a list tell what was assumed, both ends, and one joint, as typed ones do", async () => {
  const file = shippedEvidence("demo-register.csv");
  const [ranged, loose] = [
    "3-4 x 20-30 s at 50-70%, rest 60-120 s, 3/week, 8 weeks, knee",
    "4x20s at 60, rest 120 s, 3/week, 8 weeks",
  ];
  const typed = await ask("compare", { protocol: [ranged, loose], joint: "knee" }, file);
  const listed = await ask(
    "compare",
    { protocols: `A: ${ranged}\nB: ${loose}`, joint: "knee" },
    file,
  );
  expect(listed.sentences).toEqual(typed.sentences);
  const text = listed.sentences.join("\n");
  expect(text).toContain("A: Read with what it does not say: ");
  expect(text).toContain("rest between holds 60 to 120 taken as 90");
  expect(text).toContain("B: Read with what it does not say: “at 60” taken as 60% of MVC");
  expect(text).toContain("A: At the lightest it allows (3 × 20 s at 50%, rest 120 s");
  for (const options of [{ protocols: `A: ${ranged}\nB: ${loose}` }, { protocol: [ranged, loose] }])
    await expect(ask("compare", { ...options, joint: "hip" }, file)).rejects.toThrow(
      "--joint requires the joint the protocol names, or a protocol that names none, got hip beside knee",
    );
});
