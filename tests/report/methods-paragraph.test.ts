/** What the methods paragraph says against what the report's own answers did; nothing of what was not asked or found. */
import { expect, test } from "vitest";
import { methodsParagraph } from "../../src/report/methods-paragraph.js";
import { answersTo } from "../../src/report/report-part.js";
import { reportOn } from "../../src/report/report-parts.js";
import { formatNumber } from "../../src/tables/number-format.js";
import { evidenceOf, evidenceOfText, reportOf } from "./demo-report.js";

const demo = await reportOn(
  evidenceOf("demo-register.csv"),
  {},
  { protocols: [{ name: "long", protocol: "4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks" }] },
);
const library = await reportOf("published-outcomes.csv");
const said = (report: typeof demo): string => methodsParagraph(report).sentences.join("\n");

test("every contrast's correlations, statistics and assumptions are told, not the first one's alone", () => {
  const sets = answersTo(demo, "effects").map(({ data }) => data);
  expect(sets.map(({ contrast }) => contrast)).toEqual(["change-within-arm", "against-control"]);
  const text = said(demo);
  const own = sets.map(({ assumptions }) =>
    assumptions.map(({ name, value }) => `${name} ${formatNumber(value)}`),
  );
  // Each set assumes something that the other does not.
  expect(own[1]!.filter((one) => !own[0]!.includes(one)).length).toBeGreaterThan(0);
  for (const one of own.flat()) expect(text).toContain(one);
  for (const [index, words] of ["before to after", "against no exercise"].entries()) {
    const defaults = sets[index]!.effects.filter(
      ({ correlationSource }) => correlationSource === "documented default",
    ).length;
    expect(text).toMatch(
      new RegExp(`a default for ${defaults}[^;]* of the effects \\(${words}\\)`),
    );
    const means = sets[index]!.effects.filter((one) => one.statistic === "means at both times");
    expect(text).toMatch(new RegExp(`means at both times for ${means.length}[^;]*\\(${words}\\)`));
  }
});

test("curves, variables, angles, weeks, equal tension, sessions and projections are told where they were asked", () => {
  const text = said(demo);
  const curves = answersTo(demo, "dose").filter(({ data }) => data.answer !== undefined);
  expect(curves.length).toBeGreaterThan(2);
  for (const { data } of curves)
    expect(text).toContain(
      `${data.outcome} against ${(data.answer as { axis: { label: string } }).axis.label}`,
    );
  const [variables] = answersTo(demo, "variables");
  expect(text).toContain(`${variables!.data.questions} questions at once`);
  const pairs = answersTo(demo, "equal-tension")[0]!.data.answers.flatMap((one) => one.pairs);
  expect(text).toContain(`(${pairs.length} pairs)`);
  for (const part of [
    "plateau, peak were compared by maximum likelihood",
    "simultaneous band and read-offs from 2,000 drawn curves",
    "Carry-over between joint angles (strength): bell-shaped",
    "The course over the weeks (strength, size, tendon)",
    "Isometric training was set against dynamic arms",
    "Whether 1 session can be held",
    "projected by Bayesian regression",
    "Papers on the same people counted as one study: Invented 09 with Invented 10",
  ])
    expect(text).toContain(part);
  // The demonstration's averages all have more than six studies, its small-study question is refused.
  expect(text).not.toMatch(/stated prior|small studies show/);
});

test("of the library: priors, the direction that was assumed, spreads borrowed in each contrast", () => {
  const text = said(library);
  expect(text).toContain("Averages of 2 to 6 studies have a second line from a stated prior");
  expect(text.match(/Whether more is better is not coded/g)).toHaveLength(1);
  expect(text).toMatch(
    /borrowed spread \(before to after\); .*borrowed spread \(against the person/,
  );
  expect(text).toContain("Whether small studies show larger effects");
  // No pair of equal tension was found, no session asked about, no study left out in turn.
  expect(text).not.toMatch(/were paired|can be held|projected|left out in turn/);
});

test("of one trial nothing is told of models that were not fitted", async () => {
  const one = await reportOn(
    evidenceOfText(
      "study,arm,outcome,outcome_family,n_end,change_percent_mean,change_percent_spread\nOne,a,torque,strength,12,21,9\n",
    ),
  );
  expect(
    methodsParagraph(one).sentences.map((sentence) => sentence.split(" ", 2).join(" ")),
  ).toEqual([
    "The file",
    "Outcomes were",
    "Contrasts were",
    "Results were",
    "The correlation",
    "Computed with",
  ]);
});
