/**
 * How often the tests for small studies and for unprinted ones raise an alarm where there is nothing: every trial is
 * printed and none is larger for being small. Kind of evidence: the program's own draws with known truth.
 * `HOLDBOOK_FALSE_ALARMS=400 npx vitest run … this file` prints the table; the tests ask a few.
 */
import { describe, expect, test } from "vitest";
import { selectionModel } from "../../src/certainty/selection-model.js";
import {
  smallStudyRegression,
  type SmallStudyOptions,
} from "../../src/certainty/small-study-regression.js";
import { randomStream, type RandomStream } from "../../src/numeric/random-stream.js";

const full = Number(process.env.HOLDBOOK_FALSE_ALARMS ?? 0);
const files = Math.max(full, 24);
const say = (name: string, alarms: number, of: number): void => {
  const share = alarms / of;
  process.stdout.write(
    `false alarms, ${name}: ${(100 * share).toFixed(1)}% (±${(100 * Math.sqrt((share * (1 - share)) / of)).toFixed(1)}), ${of} of ${files} files tested\n`,
  );
};

const cells = [10, 20].flatMap((studies) => [0, 0.1].map((apart) => ({ studies, apart })));

/** A trial of 6 to 60 people: its size, and the mean and estimated variance of people that differ by 0.35. */
const trial = (stream: RandomStream, mean: number) => {
  const people = Math.round(6 * 10 ** stream.uniform());
  const drawn = Array.from({ length: people }, () => mean + 0.35 * stream.normal());
  const estimate = drawn.reduce((sum, one) => sum + one, 0) / people;
  const squares = drawn.reduce((sum, one) => sum + (one - estimate) ** 2, 0);
  return { people, estimate, variance: squares / (people - 1) / people };
};

/** p of one test in every file; undefined where it is not made. */
const shareOf = (
  name: string,
  { studies, apart }: (typeof cells)[number],
  seed: number,
  pOf: (stream: RandomStream) => number | undefined,
): void => {
  const stream = randomStream(seed + studies + 1000 * apart);
  const told = Array.from({ length: files }, () => pOf(stream)).filter((p) => p !== undefined);
  const alarms = told.filter((p) => p < 0.05).length;
  say(`${name}, ${studies} studies, spread ${apart} between them`, alarms, told.length);
  expect(told.length).toBeGreaterThan(files / 4);
  // Four standard errors over 7%.
  expect(alarms / told.length).toBeLessThan(0.07 + 4 * Math.sqrt((0.07 * 0.93) / told.length));
};

describe("small studies beside large ones", () => {
  const kinds: readonly (readonly [string, SmallStudyOptions, boolean])[] = [
    ["by size, several effects a study", {}, true],
    ["by standard error, independent", { method: "residual-dispersion" }, false],
  ];
  test.each(kinds)("%s", { timeout: 3_600_000 }, (name, options, several) => {
    for (const cell of cells)
      shareOf(name, cell, 1, (stream) => {
        const effects = Array.from({ length: cell.studies }, (_, place) => {
          const level = 0.2 + cell.apart * stream.normal();
          const own = several ? 1 + Math.floor(3 * stream.uniform()) : 1;
          return Array.from({ length: own }, (_one, index) => ({
            ...trial(stream, level),
            study: `Trial ${place + 1}`,
            effectId: `${place + 1} ${index + 1}`,
          }));
        }).flat();
        const answer = smallStudyRegression(effects, {
          ...options,
          ...(several ? { participants: effects.map(({ people }) => [people]) } : {}),
        });
        return answer.kind === "refusal" ? undefined : answer.slope.p;
      });
  });
});

test("unprinted studies: the weight of those without a clear gain", { timeout: 3_600_000 }, () => {
  for (const cell of cells)
    shareOf("unprinted studies", cell, 2, (stream) => {
      const answer = selectionModel(
        Array.from({ length: cell.studies }, (_, place) => ({
          study: `Trial ${place + 1}`,
          ...trial(stream, 0.15 + cell.apart * stream.normal()),
        })),
      );
      return answer.kind === "refusal" ? undefined : answer.estimated?.p;
    });
});
