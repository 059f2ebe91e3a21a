import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { codebookText, evidenceOf, outcomeRow, shippedEvidence } from "./evidence-under-test.js";

const domains = [
  "risk_randomisation",
  "risk_deviations",
  "risk_missing_data",
  "risk_measurement",
  "risk_reported_result",
];
const coded = (...words: readonly string[]) =>
  Object.fromEntries(domains.map((name, place) => [name, words[place] ?? "low"]));
const file = evidenceOf(
  codebookText([
    outcomeRow("Ash", 112, coded()),
    outcomeRow("Birch", 118, coded()),
    outcomeRow("Cedar", 131, coded("low", "low", "low", "high")),
    outcomeRow("Dogwood", 125, coded("high", "some concerns")),
    outcomeRow("Elm", 109, coded("some concerns")),
    outcomeRow("Fir", 120, { ...coded(), risk_missing_data: "" }),
  ]),
);
type Left = Readonly<{ name: string; weightPercent: number; estimate: number | null }>;
type Told = Readonly<{ left: readonly Left[]; weightPercent: Readonly<Record<string, number>> }>;
const told = ({ groups }: Readonly<{ groups: readonly unknown[] }>) => groups[0] as Told;

test("each study by its worst, and an average without the doubtful is that of a file without them", async () => {
  const { data, tables, headline, figures } = await ask("risk-of-bias", {}, file);
  expect(data.studies.map(({ overall }) => overall)).toEqual([
    "low",
    "low",
    "high",
    "high",
    "some concerns",
    "not coded",
  ]);
  const { left, weightPercent } = told(data);
  expect(left.map(({ name }) => name)).toEqual([
    "all studies",
    "without high risk from how people came into the arms",
    "without high risk from how the outcome was measured",
    "without any high risk",
    "low risk in every domain",
  ]);
  expect(Object.values(weightPercent).reduce((sum, one) => sum + one, 0)).toBeCloseTo(100, 8);
  const pooled = async (where: string) =>
    (await ask("pool", { where }, file)).data as unknown as { estimate: number };
  for (const [place, where] of [
    [1, "study!=Dogwood"],
    [2, "study!=Cedar"],
    [3, "study!=Cedar|Dogwood"],
    [4, "study=Ash|Birch"],
  ] as const)
    expect(left[place]!.estimate).toBeCloseTo((await pooled(where)).estimate, 10);
  const percent = (value: number) => `${(100 * Math.expm1(value)).toFixed(1)}%`;
  expect(headline).toContain(`without them ${percent(left[3]!.estimate!)}`);
  expect(tables[0]!.rows.map(({ weight }) => weight)).toEqual(
    left.map((one) => `${Math.round(one.weightPercent)}%`),
  );
  const [drawn] = drawnFigures(figures[0]!);
  expect(drawn!.data.map(({ estimate }) => estimate)).toEqual(left.map(({ estimate }) => estimate));
});

test("a file that codes nothing is told which columns to fill", async () => {
  const { headline, data } = await ask(
    "risk-of-bias",
    { outcome: "size" },
    shippedEvidence("published-outcomes.csv"),
  );
  expect(headline).toContain(
    `is coded for none of its 7 studies in all five domains (${domains.join(", ")})`,
  );
  expect(data.refusal?.code).toBe("no-values");
  expect(data.studies.length).toBeGreaterThan(20);
});
