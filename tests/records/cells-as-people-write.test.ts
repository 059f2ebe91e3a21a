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

test.each(["p < .05", "<0.05", ">0.05", "≥ 0.05", "n.s.", "NS", "not significant"])(
  "a bound of p (%s) is set aside, never taken for a p, and the row lives",
  (pValue) => {
    const { rows, issues } = recordsOf({ pValue });
    expect(rows).toHaveLength(1);
    expect(rows[0]?.pValue).toBeUndefined();
    expect(
      issues.map(({ severity, column, value, mend }) => [severity, column, value, mend]),
    ).toEqual([
      [
        "warning",
        "p_value",
        pValue,
        "type the exact number where the source prints it, else leave the cell as it is: means with spreads, t, F or an interval serve instead",
      ],
    ]);
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
