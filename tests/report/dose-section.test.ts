import { expect, test } from "vitest";
import { tellingAxes } from "../../src/dose/telling-axes.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { doseSection } from "../../src/report/dose-section.js";
import { doseTrials } from "../dose/dose-trials.js";
import { analysisOf, analysisOfText } from "./demo-analysis.js";

test("demonstration register: curves of axes compared inside studies, a map, and every dose's fate", () => {
  const lines: string[] = [];
  const section = doseSection(analysisOf("demo-register.csv"), {}, (line) => lines.push(line))!;
  expect(section.figures.length).toBeGreaterThan(2);
  expect(section.figures.length).toBeLessThanOrEqual(6);
  const curves = section.figures.filter(({ id }) => id.startsWith("dose-"));
  expect(lines).toHaveLength(curves.length);
  for (const { caption } of curves)
    expect(caption).toMatch(/the curve uses only the \d+ of \d+ studies that compared/i);
  expect(section.sentences).toHaveLength(curves.length + 1);
  const ids = [...section.figures, ...section.tables].map(({ id }) => id);
  expect(new Set(ids).size).toBe(ids.length);
  const fates = section.tables.filter(({ id }) => id.startsWith("doses-told"));
  expect(fates.map(({ title }) => title.split(":")[0])).toEqual(["Strength", "Size", "Tendon"]);
  for (const { rows } of fates) {
    expect(rows.length).toBeGreaterThan(5);
    for (const row of rows) expect(row["verdict"]).toMatch(/^(told by|no answer: .+)/);
  }
  expect(JSON.stringify(section)).not.toMatch(/NaN|undefined|Infinity/);
});

test("a file without a dose that varies: the table alone, with what is missing", () => {
  const header =
    "study,arm,arm_kind,intensity_percent,hold_seconds,outcome,outcome_family,n_end,statistic,pre_mean,pre_spread,post_mean,post_spread,spread_kind,pre_post_correlation";
  const row = (study: string, post: number): string =>
    `${study},1,isometric,100,6,torque,strength,12,means at both times,100,15,${post},16,standard deviation,0.8`;
  const section = doseSection(
    analysisOfText([header, row("a", 110), row("b", 120), row("c", 115)].join("\n")),
    {},
    () => undefined,
  )!;
  expect(section.figures).toEqual([]);
  expect(section.sentences[0]).toMatch(/No dose of this file can be set against the gain/);
  const intensity = section.tables.at(-1)!.rows.find((one) => one["axis"] === "intensity")!;
  expect(intensity["verdict"]).toBe(
    "no answer: all arms train at 100% of MVC: no slope for intensity",
  );
});

test("axes compared inside more studies come first, axes without an answer last", () => {
  const { set } = doseTrials(randomStream(2), { studies: 10, arms: [2, 3], sameWithin: true });
  const order = tellingAxes(set).map(({ axis, evidence }) => [axis.name, evidence]);
  expect(order[0]).toEqual(["holdSeconds", "within studies"]);
  expect(order.find(([name]) => name === "intensityPercent")?.[1]).toBe("between studies only");
  expect(order.at(-1)?.[1]).toBe("none");
  const kinds = ["within studies", "between studies only", "none"];
  const places = order.map(([, evidence]) => kinds.indexOf(evidence!));
  expect(places).toEqual([...places].sort((a, b) => a - b));
});
