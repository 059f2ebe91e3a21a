/** Borrowed spreads as people read them: the line under an average, fates of rows, comparisons, and what rests on them. */
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import type { HeadlineLines } from "../../src/answers/headline-lines.js";
import { codebookText, evidenceOf, outcomeRow, shippedEvidence } from "./evidence-under-test.js";
import { percent } from "./last-yard.js";

const bare = { pre_spread: "", post_spread: "" };
/** Five studies with a spread, three without; CV 15% before and 16 over the mean after. */
const file = () =>
  evidenceOf(
    codebookText([
      ...[120, 111, 118, 107, 114].map((post, place) => outcomeRow(`Ash ${place}`, post)),
      outcomeRow("Birch 1", 131, { ...bare, n_end: 9 }),
      outcomeRow("Birch 1", 125, { ...bare, n_end: 8, arm: "shorter", hold_seconds: 3 }),
      outcomeRow("Birch 2", 115, { ...bare, p_value: "n.s." }),
      outcomeRow("Birch 3", 106, { ...bare, p_value: "<0.001" }),
    ]),
  );

test("the line under an average says how many are borrowed and what it is without them", async () => {
  const { sentences, data, tables } = await ask("pool", {}, file());
  const own = (await ask("pool", { borrowedSpread: "none" }, file())).data;
  const { estimate, interval } = own as {
    estimate: number;
    interval: { low: number; high: number };
  };
  expect(sentences.join(" ")).toContain(
    `4 of 9 effects have a borrowed spread; without them ${percent(estimate)}% (${percent(interval.low)} to ${percent(interval.high)}%), from 5 effects in 5 studies.`,
  );
  const { borrowed } = (data as unknown as { beside: HeadlineLines }).beside;
  expect(borrowed!.borrowed).toBe(4);
  expect(borrowed!.without).toMatchObject({ estimate, effects: 5, studies: 5 });
  const told = tables
    .find(({ id }) => id.startsWith("beside-averages"))!
    .rows.find(({ what }) => what === "other borrowed spreads")!["told"]!;
  for (const place of ["10th percentile", "90th percentile"] as const) {
    const other = (await ask("pool", { borrowedSpread: place }, file())).data as {
      estimate: number;
    };
    expect(told).toContain(`${percent(other.estimate)}% (`);
  }
  expect(own).toMatchObject({
    beside: expect.not.objectContaining({ borrowed: expect.anything() }),
  });
});

test("fates name the value, the studies and the bound it was moved to; the three counts hold the rows as averaged", async () => {
  const { data } = await ask("check", {}, file());
  expect(data.counts).toBe("9 rows: 9 averaged; 0 kept, not averaged; 0 set aside");
  const reasons = data.fates.map(({ reason }) => reason);
  expect(reasons[0]).toBe("strength");
  expect(reasons[5]).toMatch(
    /^strength; its spread is borrowed \(coefficient of variation 0\.15 from 5 studies of strength outcomes\)$/,
  );
  expect(reasons[7]).toMatch(/, moved to what the printed p > 0\.05 allows\)$/);
  expect(reasons[8]).toMatch(/, moved to what the printed p < 0\.001 allows\)$/);
  const none = await ask("check", { borrowedSpread: "none" }, file());
  expect(none.data.counts).toBe("9 rows: 5 averaged; 4 kept, not averaged; 0 set aside");
  expect(none.data.fates[5]!.wanted).toContain("pre_spread");
});

test("what is assumed says whose spread it is, how far a further study may be, and how many effects rest on it", async () => {
  const { data, tables } = await ask("effects", {}, file());
  const name = "coefficient of variation of strength outcomes, lent to rows that print no spread";
  const { value, effects, source } = data.assumptions.find((one) => one.name === name)! as {
    value: number;
    effects: number;
    source: string;
  };
  // √ of the average over 5 studies of equal size of (0.15² + (16/post)²)/2.
  const squares = [120, 111, 118, 107, 114].map((post) => (0.15 ** 2 + (16 / post) ** 2) / 2);
  expect(value).toBeCloseTo(Math.sqrt(squares.reduce((sum, one) => sum + one) / 5), 12);
  expect(effects).toBe(4);
  expect(source).toMatch(/averaged over 5 studies .* \(10th to 90th percentile\)$/);
  expect(JSON.stringify(tables)).toContain(name);
});

test("influence counts them like any other; small studies by standard errors leave them out by name", async () => {
  const influence = await ask("influence", {}, file());
  expect(influence.headline).toContain(
    "4 of 9 effects have a borrowed spread; they count like any other.",
  );
  const many = evidenceOf(
    codebookText([
      ...Array.from({ length: 11 }, (_, place) =>
        outcomeRow(`Ash ${place}`, 108 + 3 * (place % 5), { n_end: 6 + 3 * place }),
      ),
      outcomeRow("Birch 1", 131, bare),
    ]),
  );
  const bySize = await ask("small-studies", {}, many);
  expect(bySize.headline).toContain("12 studies");
  const byError = await ask("small-studies", { smallness: "standard-error" }, many);
  expect(byError.headline).toContain("11 studies");
  expect(byError.notes.map(({ message }) => message).join(" ")).toContain(
    "1 effect whose spread is borrowed is left out of small studies against large ones: Birch 1",
  );
});

test("arms of one trial that both borrow: the interval is theirs, and every mark says that it is borrowed", async () => {
  const { tables, figures, data } = await ask("single-trials", {}, file());
  const table = tables.find(({ id }) => id === "single-trials-strength")!;
  const [row] = table.rows;
  expect(row!["difference"]).toMatch(/^−6\.0 points \(−\d+\.\d to \d+\.\d, spread borrowed\)$/);
  expect(table.notes.join(" ")).toContain("Spread borrowed: the trial prints its gains");
  const [{ comparisons }] = data.groups as unknown as readonly [
    { comparisons: readonly { lower: { borrowed: boolean }; interval: object | null }[] },
  ];
  expect(comparisons[0]!.lower.borrowed).toBe(true);
  expect(comparisons[0]!.interval).not.toBeNull();
  const { drawnFigures } = await import("../../src/figures/figure-list.js");
  const [figure] = figures.flatMap(drawnFigures);
  expect(figure!.data[0]).toMatchObject({ lowerSpread: "borrowed", higherSpread: "borrowed" });
  expect(JSON.stringify(figure!.specification)).toContain("spread borrowed, weighted");
});

test("Young 1985, whose totals are weekly rates times eight, is shown among single trials and averaged nowhere", async () => {
  const library = shippedEvidence("published-outcomes.csv");
  const { data } = await ask("check", {}, library);
  const lines = new Set(
    library.records.rows.filter(({ study }) => study === "Young 1985").map(({ line }) => line),
  );
  expect(lines.size).toBe(2);
  expect(data.fates.filter(({ line }) => lines.has(line)).map(({ fate }) => fate)).toEqual([
    "kept, not averaged",
    "kept, not averaged",
  ]);
  const trials = await ask("single-trials", { outcome: "strength" }, library);
  const young = trials.tables[0]!.rows.find(({ studyName }) => studyName === "Young 1985")!;
  // 44 − 26.4 = 17.6, the shorter holds minus the longer ones.
  expect(young["difference"]).toMatch(/^−?17\.6 points \(no interval\)$/);
});

test("no verdict of the library of published outcomes comes from borrowed spreads without a word", async () => {
  const library = shippedEvidence("published-outcomes.csv");
  const told = async (asked: object) =>
    (await ask("variables", asked, library)).data.rows.map(({ verdict }) => verdict.verdict);
  const verdicts = new Set([...(await told({})), ...(await told({ borrowedSpread: "none" }))]);
  expect([...verdicts].sort()).toEqual(["cannot be told", "not studied"]);
});

test("estimates are drawn with three marks, told apart by a key inside the drawing", async () => {
  const { drawnFigures } = await import("../../src/figures/figure-list.js");
  const library = shippedEvidence("published-outcomes.csv");
  const drawn = async (outcome: string) =>
    (await ask("pool", { outcome }, library)).figures
      .filter(({ name }) => name === "estimates")
      .flatMap(drawnFigures)[0]!;
  const tendon = await drawn("tendon");
  const spreads = tendon.data.map(({ spread }) => spread);
  // Massey 2018 and Werkhausen 2018 print none in six rows; four of the others print one.
  expect(spreads.filter((one) => one === "borrowed")).toHaveLength(6);
  expect(spreads.filter((one) => one === "its own")).toHaveLength(4);
  expect(JSON.stringify(tendon.specification)).toContain("borrowed spread, with its interval");
  const endurance = await drawn("endurance");
  expect(endurance.caption).toMatch(/^2 effects from 1 study\..*Open without a line: 1 row has/);
  // López-Rivera 2019 prints 7% for both kinds of hangs together, and no other study lends a spread.
  const [alone] = endurance.data.filter(({ spread }) => spread === "none");
  expect(alone).toMatchObject({ low: null, shownHigh: null });
  expect(alone!["shownEstimate"]).toBeCloseTo(7, 9);
});
