/** Slips that people make when they type a file, each a change of one row's cells. */

/** Cells of one row by column. */
export type Cells = Readonly<Record<string, string>>;

/** Where a slip is made: in one row, in all rows of an arm or of a study alike. */
export type Level = "row" | "arm" | "study";

export type SlipKind = Readonly<{
  name: string;
  levels: readonly Level[];
  /** The changed cells, or undefined where the row has nothing to slip in. */
  slip: (cells: Cells, pick: () => number, study: readonly Cells[]) => Cells | undefined;
  /** Doubts that name this slip, where others only notice that something is wrong. */
  named: readonly string[];
  /** Why the file cannot tell, for slips that leave no trace in it. */
  unknowable?: string;
}>;

const numberOf = (cell: string | undefined): number | undefined =>
  cell === undefined || cell === "" || !Number.isFinite(Number(cell)) ? undefined : Number(cell);

/** As many decimals as the cell had, and one more where the number shrank. */
const typed = (value: number, like: string): string => {
  const decimals = (like.split(".")[1] ?? "").length;
  const shrank = Math.abs(value) < Math.abs(Number(like)) ? 1 : 0;
  return String(Number(value.toFixed(Math.min(6, decimals + shrank))));
};

const times =
  (columns: readonly string[], factor: number | ((cells: Cells) => number | undefined)) =>
  (cells: Cells): Cells | undefined => {
    const by = typeof factor === "number" ? factor : factor(cells);
    if (by === undefined) return undefined;
    const changed = columns.flatMap((column) => {
      const value = numberOf(cells[column]);
      return value === undefined || value === 0
        ? []
        : [[column, typed(value * by, cells[column] ?? "")] as const];
    });
    return changed.length === 0 ? undefined : { ...cells, ...Object.fromEntries(changed) };
  };

const spreads = ["pre_spread", "post_spread", "change_spread", "change_percent_spread"];
const means = ["pre_mean", "post_mean", "change_mean"];
const filled = (cells: Cells, ...columns: readonly string[]): boolean =>
  columns.every((column) => numberOf(cells[column]) !== undefined);
const bothSpreads = (cells: Cells) => filled(cells, "pre_spread", "post_spread");
const trained = (cells: Cells) => cells.arm_kind !== "no exercise";
const isDeviation = (cells: Cells) => (cells.spread_kind ?? "") !== "standard error";
const force = (cells: Cells) =>
  cells.outcome_family === "strength" || cells.outcome_family === "rapid force";

/** One divided by the square root of the people, what makes a deviation an error. */
const overRoot = (cells: Cells): number | undefined => {
  const people = numberOf(cells.n_start) ?? numberOf(cells.n_end);
  return people === undefined || !isDeviation(cells) ? undefined : 1 / Math.sqrt(people);
};

const oneTime =
  (factor: number | ((cells: Cells) => number | undefined)): SlipKind["slip"] =>
  (cells, pick) =>
    bothSpreads(cells)
      ? times([pick() < 0.5 ? "pre_spread" : "post_spread"], factor)(cells)
      : undefined;

const swapped = (cells: Cells): Cells | undefined =>
  filled(cells, "pre_mean", "post_mean") && cells.pre_mean !== cells.post_mean
    ? {
        ...cells,
        pre_mean: cells.post_mean ?? "",
        post_mean: cells.pre_mean ?? "",
        pre_spread: cells.post_spread ?? "",
        post_spread: cells.pre_spread ?? "",
      }
    : undefined;

const turned = (cells: Cells): Cells | undefined => {
  const signs = ["change_mean", "change_percent_mean", "t_value", "interval_low", "interval_high"];
  const flipped = times(signs, -1)(cells);
  const word = { increase: "decrease", decrease: "increase" }[cells.direction ?? ""];
  if (flipped === undefined && word === undefined) return undefined;
  const next: Cells = { ...cells, ...flipped, ...(word === undefined ? {} : { direction: word }) };
  return filled(cells, "interval_low", "interval_high")
    ? { ...next, interval_low: next.interval_high ?? "", interval_high: next.interval_low ?? "" }
    : next;
};

const where =
  (
    eligible: (cells: Cells, study: readonly Cells[]) => boolean,
    slip: SlipKind["slip"],
  ): SlipKind["slip"] =>
  (cells, pick, study) =>
    eligible(cells, study) ? slip(cells, pick, study) : undefined;

/** Whether another arm of the trial was measured in the same way, so that its numbers can be compared. */
const hasSister = (cells: Cells, study: readonly Cells[]): boolean =>
  filled(cells, "pre_mean") &&
  study.some(
    (other) =>
      other.arm !== cells.arm &&
      filled(other, "pre_mean") &&
      ["outcome", "unit", "method", "test_mode", "test_angle_degrees", "test_side"].every(
        (column) => other[column] === cells[column],
      ),
  );

const every = ["row", "arm", "study"] as const;
const spreadDoubts = [
  "spread-out-of-scale",
  "error-for-deviation",
  "deviation-for-error",
  "spreads-of-two-kinds",
];

export const slipKinds: readonly SlipKind[] = [
  { name: "spread ×10 at one time", levels: every, slip: oneTime(10), named: spreadDoubts },
  { name: "spread ÷10 at one time", levels: every, slip: oneTime(0.1), named: spreadDoubts },
  { name: "spread ×100 at one time", levels: every, slip: oneTime(100), named: spreadDoubts },
  {
    name: "spread ×10 at both times",
    levels: every,
    slip: times(spreads, 10),
    named: spreadDoubts,
  },
  {
    name: "spread ÷10 at both times",
    levels: every,
    slip: times(spreads, 0.1),
    named: spreadDoubts,
  },
  {
    name: "spread ×100 at both times",
    levels: every,
    slip: times(spreads, 100),
    named: spreadDoubts,
  },
  {
    name: "error typed as deviation at one time",
    levels: every,
    slip: oneTime(overRoot),
    named: spreadDoubts,
  },
  {
    name: "error typed as deviation at both times",
    levels: every,
    slip: times(spreads, overRoot),
    named: spreadDoubts,
  },
  {
    name: "before and after swapped, trained arm",
    levels: every,
    slip: where(trained, swapped),
    named: ["against-training", "turned-sign"],
  },
  {
    name: "before and after swapped, arm without exercise",
    levels: every,
    slip: where((cells) => !trained(cells), swapped),
    named: ["against-training", "turned-sign"],
    unknowable:
      "people who do not train rise and fall by a few percent either way; a swapped pair looks the same",
  },
  {
    name: "a mean in pounds at one time",
    levels: every,
    slip: where(
      (cells) => force(cells) && filled(cells, "pre_mean", "post_mean"),
      (cells, pick) => times([pick() < 0.5 ? "pre_mean" : "post_mean"], 2.20462)(cells),
    ),
    named: ["unit-slip", "mean-out-of-scale"],
  },
  {
    name: "means and spreads in pounds against the other arms",
    levels: ["row", "arm"],
    slip: where(
      (cells, study) => force(cells) && hasSister(cells, study),
      times([...means, ...spreads.slice(0, 3)], 2.20462),
    ),
    named: ["mean-out-of-scale"],
  },
  {
    name: "means and spreads ×10 against the other arms",
    levels: ["row", "arm"],
    slip: where(hasSister, times([...means, ...spreads.slice(0, 3)], 10)),
    named: ["mean-out-of-scale"],
  },
  {
    name: "after copied from before",
    levels: every,
    slip: (cells) =>
      filled(cells, "pre_mean", "post_mean") && cells.pre_mean !== cells.post_mean
        ? { ...cells, post_mean: cells.pre_mean ?? "", post_spread: cells.pre_spread ?? "" }
        : undefined,
    named: ["after-is-before"],
  },
  {
    name: "percent as a fraction",
    levels: every,
    slip: times(["change_percent_mean", "change_percent_spread"], 0.01),
    named: ["fraction-for-percentage"],
  },
  {
    name: "effort as a fraction",
    levels: every,
    slip: times(["intensity_percent", "intensity_percent_high"], 0.01),
    named: ["fraction-for-percentage"],
  },
  {
    name: "direction flipped, trained arm",
    levels: every,
    slip: where(trained, turned),
    named: ["against-training", "turned-sign"],
  },
  {
    name: "direction flipped, arm without exercise",
    levels: every,
    slip: where((cells) => !trained(cells), turned),
    named: ["against-training", "turned-sign"],
    unknowable: "as for swapped numbers, unless the means stand beside the printed change",
  },
  {
    name: "hold in minutes",
    levels: every,
    slip: times(["hold_seconds", "hold_seconds_high"], 1 / 60),
    named: ["hold-out-of-scale"],
  },
  {
    name: "hold ×10",
    levels: every,
    slip: times(["hold_seconds", "hold_seconds_high"], 10),
    named: ["hold-out-of-scale", "hold-beyond-endurance"],
  },
  {
    name: "weeks in days",
    levels: every,
    slip: times(["weeks"], 7),
    named: ["weeks-out-of-scale"],
  },
  {
    name: "rest in minutes",
    levels: every,
    slip: times(["rest_between_repetitions_seconds", "rest_between_sets_seconds"], 1 / 60),
    named: ["rest-out-of-scale"],
  },
  {
    name: "people ×10",
    levels: every,
    slip: times(["n_start", "n_end"], 10),
    named: ["people-out-of-scale"],
  },
  {
    name: "size coded as strength",
    levels: every,
    slip: (cells) =>
      cells.outcome_family === "size" ? { ...cells, outcome_family: "strength" } : undefined,
    named: ["family-and-outcome"],
  },
  {
    name: "spread against its own p, t or interval",
    levels: every,
    slip: where(
      (cells) =>
        filled(cells, "pre_mean", "post_mean") &&
        ["t_value", "f_value", "p_value", "interval_low"].some((column) => filled(cells, column)),
      times(spreads, (cells) => overRoot(cells)),
    ),
    named: ["spread-against-test", ...spreadDoubts],
  },
  {
    name: "thousands point read as a decimal point",
    levels: every,
    slip: (cells, pick) => {
      const columns = ["pre_mean", "post_mean"].filter(
        (column) => (numberOf(cells[column]) ?? 0) >= 1000 && (cells[column] ?? "").length <= 7,
      );
      const chosen = columns[Math.floor(pick() * columns.length)];
      return chosen === undefined
        ? undefined
        : { ...cells, [chosen]: (Math.round(Number(cells[chosen])) / 1000).toFixed(3) };
    },
    named: ["unit-slip", "mean-out-of-scale"],
  },
];

/** The columns that a copy of a study under another name rounds. */
export const roundedColumns = [...means, ...spreads];

/** A number as a paper prints it that rounds more: without decimals, or to two figures where it is small. */
export const rounded = (cell: string): string => {
  const value = numberOf(cell);
  if (value === undefined) return cell;
  return String(Math.abs(value) >= 10 ? Math.round(value) : Number(value.toPrecision(2)));
};
