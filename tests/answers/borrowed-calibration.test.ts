/**
 * Whether an average with borrowed spreads holds the truth. `HOLDBOOK_BORROWED=1000 npx vitest run … this file` asks a
 * thousand files of every cell and prints the table; the tests ask a few of two cells.
 */
import { describe, expect, test } from "vitest";
import { coverageOf, tallyLine, tallyOf, type Cell } from "./borrowed-simulations.js";

const full = Number(process.env.HOLDBOOK_BORROWED ?? 0);
const say = (text: string): void => {
  process.stdout.write(`borrowed spreads: ${text}\n`);
};

const base: Cell = {
  studies: 15,
  missing: 1 / 3,
  which: "at random",
  printsThreshold: false,
  mean: 0.18,
  between: 0.06,
};
/** Gains so small that significance is often in doubt, so that a printed threshold chooses. */
const small = { mean: 0.06, between: 0.05, printsThreshold: true } as const;

const sizes = [5, 7, 15, 40] as const;
const shares = [1 / 3, 2 / 3] as const;
const cells: readonly Cell[] = sizes.flatMap((studies): readonly Cell[] => [
  { ...base, studies, missing: 0 },
  ...shares.flatMap((missing) =>
    (["at random", "small ones more often"] as const).map((which) => ({
      ...base,
      studies,
      missing,
      which,
    })),
  ),
  { ...base, ...small, studies, missing: 0 },
  ...shares.map((missing) => ({ ...base, ...small, studies, missing })),
]);
const nameOf = ({ studies, missing, which, printsThreshold }: Cell): string =>
  `${studies} studies, ${Math.round(100 * missing)}% without a spread ${which}${printsThreshold ? ", small gains, thresholds of significant results" : ""}`;

describe.skipIf(full > 0)("a share of the files", () => {
  const files = 60;

  test("15 studies, two thirds without a spread: the interval holds the average, and borrowing narrows it", () => {
    const cell = { ...base, missing: 2 / 3 };
    const borrowing = tallyOf(cell, files);
    const own = tallyOf(cell, files, { borrowedSpread: "none" });
    say(tallyLine(nameOf(cell), borrowing));
    say(tallyLine("the same without borrowed spreads", own));
    expect(borrowing.averages).toBeGreaterThan(0.8 * files);
    // Of 52 averages at 95%, fewer than 45 hold it once in 200 (binomial).
    expect(borrowing.held).toBeGreaterThanOrEqual(borrowing.averages - 7);
    expect(Math.abs(borrowing.bias)).toBeLessThan(3 * borrowing.biasError + 0.3);
    expect(borrowing.width).toBeLessThan(0.8 * own.width);
  });

  test("printed thresholds of significant results: the bias stays under half a point", () => {
    const cell = { ...base, ...small, missing: 2 / 3 };
    const tally = tallyOf(cell, files);
    say(tallyLine(nameOf(cell), tally));
    expect(tally.held).toBeGreaterThanOrEqual(tally.averages - 7);
    expect(Math.abs(tally.bias)).toBeLessThan(0.5 + 3 * tally.biasError);
  });
});

describe.runIf(full > 0)(`${full} files of every cell`, () => {
  test.each(cells)(
    "%#",
    (cell) => {
      const tally = tallyOf(cell, full);
      say(tallyLine(nameOf(cell), tally));
      const [share, error] = coverageOf(tally);
      // Two Monte Carlo errors are allowed for, so that only what is wrong fails; below seven studies it is printed.
      if (cell.studies >= 7) expect(share + 2 * error).toBeGreaterThan(0.93);
    },
    3_600_000,
  );
});
