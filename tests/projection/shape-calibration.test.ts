import { describe, expect, test } from "vitest";
import { cellLine, cells, shareOf, talliesOf, type Cell } from "./shape-registers.js";

// Whether ranges hold the truth and calls are right when the shape of a dose is not known beforehand: doses that follow
// the logarithm, level off, turn, or count less in longer holds. `npm run calibrate` runs 200 registers of every cell and
// prints the table; the tests take a share of two cells.

const full = Number(process.env.HOLDBOOK_REGISTERS ?? 0);
const say = (text: string): void => {
  process.stdout.write(`projection, shapes not known: ${text}\n`);
};
const seedOf = (cell: Cell): number => 100 + cells.indexOf(cell);

describe.skipIf(full > 0)("a share of the registers", () => {
  const cellOf = (truth: Cell["truth"]): Cell =>
    cells.find((cell) => cell.truth === truth && cell.studies === 12 && !cell.confounded)!;
  const registers = 24;

  test("an inverted U: the range of the average holds it, where one logarithm does not", () => {
    const cell = cellOf("inverted U");
    const averaged = talliesOf(cell, registers, seedOf(cell));
    say(cellLine(cell, averaged));
    const held = shareOf(averaged, "averagesHeld", "averages");
    expect(held.whole).toBeGreaterThan(100);
    expect(held.share).toBeGreaterThan(0.9);
    // 288 trials of 24 files: a share of 0.95 has an error of 0.013
    const left = shareOf(averaged, "leftOutInside", "leftOut");
    expect(left.whole).toBe(288);
    expect(left.share).toBeGreaterThan(0.91);
    expect(left.share).toBeLessThan(0.99);
    const alone = talliesOf(cell, registers, seedOf(cell), ["logarithm"]);
    say(`with the logarithm alone: ${cellLine(cell, alone)}`);
    expect(shareOf(alone, "averagesHeld", "averages").share).toBeLessThan(held.share - 0.1);
  });

  test("a dose that follows the logarithm: it still speaks, and rightly", () => {
    const cell = cellOf("log-linear");
    const tallies = talliesOf(cell, registers, seedOf(cell));
    say(cellLine(cell, tallies));
    expect(shareOf(tallies, "averagesHeld", "averages").share).toBeGreaterThan(0.9);
    const called = shareOf(tallies, "largeCalled", "large");
    expect(called.share).toBeGreaterThan(0.25);
    expect(shareOf(tallies, "largeRight", "largeCalled").share).toBeGreaterThan(0.9);
    expect(shareOf(tallies, "smallCalled", "small").share).toBeLessThan(0.1);
  });
});

describe.runIf(full > 0)(`${full} registers of every cell`, () => {
  test.each(cells)(
    "$truth, $studies studies, confounded: $confounded",
    (cell) => {
      const tallies = talliesOf(cell, full, seedOf(cell));
      say(cellLine(cell, tallies));
      // Two Monte Carlo errors are allowed for, so that only what is wrong fails.
      const held = shareOf(tallies, "averagesHeld", "averages");
      expect(held.share + 2 * held.error).toBeGreaterThan(0.9);
      const right = shareOf(tallies, "largeRight", "largeCalled");
      if (right.whole >= 50) expect(right.share + 2 * right.error).toBeGreaterThan(0.9);
      const small = shareOf(tallies, "smallCalled", "small");
      expect(small.share - 2 * small.error).toBeLessThan(0.1);
      if (cell.truth === "log-linear" && cell.studies === 12 && !cell.confounded) {
        const called = shareOf(tallies, "largeCalled", "large");
        expect(called.share + 2 * called.error).toBeGreaterThan(0.25);
      }
    },
    36_000_000,
  );
});
