/**
 * How often a verdict is wrong, by kind of claim, with the truth at the boundary of the claim, and how often it is decided
 * where the truth lies clearly inside. `HOLDBOOK_STATEMENTS=400 npx vitest run … this file` asks so many files of every
 * cell and prints the table; the tests ask a few of three kinds. `HOLDBOOK_STATEMENT_STUDIES=8,16` and
 * `HOLDBOOK_STATEMENT_KINDS=optimum,enough` choose cells.
 */
import { expect, test } from "vitest";
import { claimCases, tallyOf } from "./statement-simulations.js";

const full = Number(process.env.HOLDBOOK_STATEMENTS ?? 0);
const say = (text: string): void => {
  process.stdout.write(`statements, invented files: ${text}\n`);
};
const percentOf = (count: number, of: number): string => {
  const share = count / of;
  return `${(100 * share).toFixed(1)}% (±${(100 * Math.sqrt((share * (1 - share)) / of)).toFixed(1)})`;
};

const decided = ({ supported = 0, against = 0 }): number => supported + against;

test.skipIf(full > 0)(
  "at the boundary of a claim few files decide, and clearly inside most do",
  { timeout: 300_000 },
  async () => {
    const files = 20;
    for (const name of ["direction, before to after", "no difference of a dose", "amount"]) {
      const own = claimCases.find((one) => one.name === name)!;
      const boundary = await tallyOf(own, "boundary", 8, files);
      const inside = await tallyOf(own, "inside", 8, files);
      say(
        `${name}, 8 studies: decided ${decided(boundary)} of ${files} at the boundary, supported ${inside.supported ?? 0} of ${files} inside, against ${inside.against ?? 0}`,
      );
      // Five or more of 20 happen once in 390 times at one in twenty (binomial, by hand).
      expect(decided(boundary)).toBeLessThan(5);
      expect(inside.against ?? 0).toBeLessThan(2);
      if (name !== "no difference of a dose")
        expect(inside.supported ?? 0).toBeGreaterThan(files / 2);
    }
  },
);

test.skipIf(full === 0)("every kind of claim", { timeout: 36_000_000 }, async () => {
  const sizes = (process.env.HOLDBOOK_STATEMENT_STUDIES ?? "4,8,16").split(",").map(Number);
  const kinds = process.env.HOLDBOOK_STATEMENT_KINDS?.split(",") ?? [];
  for (const studies of sizes)
    for (const one of claimCases.filter(({ name }) => kinds.length === 0 || kinds.includes(name))) {
      const boundary = await tallyOf(one, "boundary", studies, full);
      const inside = await tallyOf(one, "inside", studies, Math.ceil(full / 4));
      const outside = await tallyOf(one, "outside", studies, Math.ceil(full / 4));
      say(
        [
          `${one.name}, ${studies} studies`,
          `at the boundary supported ${percentOf(boundary.supported ?? 0, full)}, against ${percentOf(boundary.against ?? 0, full)}`,
          `clearly inside supported ${percentOf(inside.supported ?? 0, inside.files)}, against ${inside.against ?? 0} of ${inside.files}`,
          `clearly outside against ${percentOf(outside.against ?? 0, outside.files)}, supported ${outside.supported ?? 0} of ${outside.files}`,
        ].join("; "),
      );
    }
});
