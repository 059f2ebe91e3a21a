import { expect, test } from "vitest";
import { recordsOf } from "./record-table.js";
import type { Cells } from "./record-table.js";

test.each<[Cells, string, unknown]>([
  [{ femalePercent: "men" }, "femalePercent", 0],
  [{ femalePercent: "Women" }, "femalePercent", 100],
  [{ intensityPercent: "maximal" }, "intensityPercent", 100],
  [{ muscleLength: "short length" }, "muscleLength", "short"],
  [{ muscleLength: "Long muscle length" }, "muscleLength", "long"],
  [{ pValue: "p = .03" }, "pValue", 0.03],
  [{ pValue: "P=0.004" }, "pValue", 0.004],
])("%j is read", (cells, field, value) => {
  const { rows, issues } = recordsOf(cells);
  expect(issues).toEqual([]);
  expect(rows[0]).toHaveProperty(field, value);
});

test.each([
  ["p < .05", "below", 0.05],
  ["<0.01", "below", 0.01],
  ["P ≤ 0,001", "below", 0.001],
  [">0.05", "above", 0.05],
  ["≥ 0.2", "above", 0.2],
  ["n.s.", "above", 0.05],
  ["p = NS", "above", 0.05],
  ["non-significant", "above", 0.05],
])("a bound of p (%s) is kept as a bound, never taken for a p", (pValue, side, p) => {
  const { rows, issues } = recordsOf({ pValue });
  expect(issues).toEqual([]);
  expect(rows[0]?.pValue).toBeUndefined();
  expect(rows[0]?.pBound).toEqual({ side, p });
});

test("a bound neither stays in the row below nor reaches the row above", () => {
  const cells = ["0.03", "< 0.05", "0.04", ""].map((pValue, at) => ({
    pValue,
    testAngleDegrees: String(10 + at),
  }));
  const { rows } = recordsOf(...cells);
  expect(rows.map(({ pValue, pBound }) => [pValue, pBound?.p])).toEqual([
    [0.03, undefined],
    [undefined, 0.05],
    [0.04, undefined],
    [undefined, undefined],
  ]);
});

test.each(["< 1.5", "> 0", "<5%", "about 0.05"])("%s is no bound of p", (pValue) => {
  expect(recordsOf({ pValue }).issues.map(({ severity }) => severity)).toEqual(["error"]);
});

test.each(["12.4", ""])(
  "a row with only a bound of p is kept and says so (change %j)",
  (change) => {
    const { fates, issues, rows } = recordsOf({
      preMean: "",
      preSpread: "",
      postMean: "",
      postSpread: "",
      statistic: "p value",
      changePercentMean: change,
      pValue: "<0.05",
      direction: "increase",
    });
    expect(issues).toEqual([]);
    expect(rows[0]?.statistic).toBe("p value");
    expect(fates[0]?.fate).toBe("used with a warning");
    expect(fates[0]?.reason).toBe(
      "no spread or interval, and of p only the bound < 0.05, so the row has no weight of its own",
    );
  },
);

test("a mean with its spread in one cell is answered with the two cells they belong to", () => {
  const mendOf = (cells: Cells) => recordsOf(cells).issues[0]?.mend;
  expect(mendOf({ preMean: "13.4 ± 9.7" })).toBe("leave 13.4 here and write 9.7 into pre_spread");
  expect(mendOf({ changePercentMean: "21.5 (7.2)" })).toBe(
    "leave 21.5 here and write 7.2 into change_percent_spread",
  );
  expect(mendOf({ ageMeanYears: "24.3 +/- 3" })).toBe(
    "leave 24.3 here; there is no column for its spread",
  );
});
