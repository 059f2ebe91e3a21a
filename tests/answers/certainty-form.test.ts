/** Kind of evidence: identity (what is typed into the form is what the question reads) and hand-written files. */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { readDecisions } from "../../src/answers/certainty-decisions.js";
import {
  decisionCounts,
  domainsAsked,
  typedOrNothing,
  withDecision,
} from "../../src/answers/certainty-form.js";
import { codebookText, evidenceOf, outcomeRow } from "./evidence-under-test.js";

const file = evidenceOf(
  codebookText(
    [12, 13, 11, 12.5].map((gain, place) =>
      outcomeRow(`Ash ${place}`, 100 + gain, { risk_measurement: place < 2 ? "high" : "low" }),
    ),
  ),
);
const contrast = "change-within-arm" as const;
const toldOf = async (decisions?: string) => {
  const answer = await ask("certainty", decisions === undefined ? {} : { decisions }, file);
  const [group] = answer.data.groups;
  if (group?.kind !== "told") throw new Error("no finding");
  return { answer, group };
};

test("every domain shows its proposal with its numbers, and the proposal is what is chosen to begin with", async () => {
  const { group } = await toldOf();
  const asked = domainsAsked(group, contrast, "");
  expect(asked.map(({ domain }) => domain)).toEqual([
    ...["risk of bias", "inconsistency", "indirectness", "imprecision", "small-study effects"],
    ...["starting level", "raised"],
  ]);
  for (const { domain, lowered, numbers } of group.concerns) {
    const one = asked.find((own) => own.domain === domain)!;
    expect(one.typed).toEqual({ levels: String(lowered ?? ""), reason: "", by: "" });
    expect(one.waits).toBeUndefined();
    if (lowered !== null) expect(one.proposal).toContain(numbers);
  }
  const [risk, , indirectness] = asked;
  // Half of the weight or nearly so lies with two of four like studies.
  expect(risk!.proposal).toMatch(
    /^lowered by (?:one level|two levels), [45]\d% of the weight is at high risk$/,
  );
  expect(risk!.choices.map(({ words }) => words)).toContain(
    `${risk!.proposal.split(",")[0]!}, as proposed`,
  );
  expect(indirectness!.choices[0]).toEqual({ levels: "", words: "not judged" });
  expect(indirectness!.proposed).toBe("");
  expect(asked[5]!.typed.levels).toBe("low");
});

test("what is typed is read by the question as it stands; without a reason it waits", async () => {
  const { group } = await toldOf();
  const place = { group, contrast, domain: "imprecision" } as const;
  const waiting = withDecision("", place, { levels: "2", reason: "", by: "AB" });
  const asked = domainsAsked(group, contrast, waiting)[3]!;
  expect(asked.typed).toEqual({ levels: "2", reason: "", by: "AB" });
  expect(asked.waits).toBe("Waits for a reason: until then the proposal stands.");
  expect((await toldOf(waiting)).group.decided).toBeNull();
  expect(decisionCounts(waiting)).toBe("0 decisions, 1 waiting");

  // A comma, a quote, and the space after the word being typed.
  const reason = 'few people, as "they" say ';
  const decided = withDecision(waiting, place, { levels: "2", reason, by: "AB" });
  expect(domainsAsked(group, contrast, decided)[3]!.typed.reason).toBe(reason);
  expect(decisionCounts(decided)).toBe("1 decision");
  const { answer, group: after } = await toldOf(decided);
  expect(after.proposed).toBe(group.proposed);
  expect(after.decisions).toEqual([
    expect.objectContaining({ domain: "imprecision", levels: 2, reason: reason.trim(), by: "AB" }),
  ]);
  expect(answer.tables[0]!.rows[0]!["why"]).toContain(
    'overridden by AB: lowered by two levels, few people, as "they" say',
  );
  expect(withDecision(decided, place, undefined)).toBe("");
});

test("a reason for what nothing is proposed of waits for its levels, and the answer says so", async () => {
  const { group } = await toldOf();
  const text = withDecision(
    "",
    { group, contrast, domain: "indirectness" },
    {
      ...{ levels: "", reason: "knees alone", by: "" },
    },
  );
  expect(domainsAsked(group, contrast, text)[2]!.waits).toContain("Choose by how many levels");
  const { answer } = await toldOf(text);
  expect(answer.sentences.join(" ")).toContain(
    "1 row of the decisions gives a reason and no levels, and decides nothing yet.",
  );
});

describe("a file that was written elsewhere", () => {
  const text = [
    "domain;outcome;contrast;levels;reason;by;date",
    "imprecision;strength;;1;too few;CD;2026-03-01",
    "imprecision;size;before to after;1;another finding;CD;2026-03-02",
    "starting level;strength;before to after;moderate;limbs of one person;CD;2026-03-03",
    "",
  ].join("\n");

  test("is shown, its own columns and other rows stay, and a row for all contrasts stands behind one for this", async () => {
    const { group } = await toldOf(text);
    const asked = domainsAsked(group, contrast, text);
    expect(asked[3]!.typed).toEqual({ levels: "1", reason: "too few", by: "CD" });
    expect(asked[5]!.typed.levels).toBe("moderate");
    const after = withDecision(
      text,
      { group, contrast, domain: "imprecision" },
      {
        ...{ levels: "0", reason: "enough", by: "AB" },
      },
    );
    expect(after.split("\n")).toEqual([
      "domain,outcome,contrast,levels,reason,by,date",
      "imprecision,strength,before to after,0,enough,AB,",
      "imprecision,strength,,1,too few,CD,2026-03-01",
      "imprecision,size,before to after,1,another finding,CD,2026-03-02",
      "starting level,strength,before to after,moderate,limbs of one person,CD,2026-03-03",
      "",
    ]);
    const own = readDecisions(after).decisions.filter(({ domain }) => domain === "imprecision");
    expect(own[0]).toMatchObject({ levels: 0, reason: "enough" });
    expect((await toldOf(after)).group.decisions[0]).toMatchObject({ levels: 0, by: "AB" });
  });
});

test("what says no more than the proposal is no row of the file", () => {
  const asked = { proposed: "1" };
  expect(typedOrNothing(asked, { levels: "1", reason: "", by: "AB" })).toBeUndefined();
  expect(typedOrNothing(asked, { levels: "1", reason: "yes", by: "" })).toBeDefined();
  expect(typedOrNothing(asked, { levels: "0", reason: "", by: "" })).toBeDefined();
});
