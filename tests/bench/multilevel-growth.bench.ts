import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import type { MultilevelLevel } from "../../src/synthesis/multilevel-options.js";
import { randomEffects } from "../synthesis/random-effects.js";
import { mustHold, type Bench, type Measure } from "./bench.js";
import { growthExponent, shortestInTurns } from "./timing.js";

const wanted = [1_000, 3_000, 10_000];
const levelSets: readonly (readonly MultilevelLevel[])[] = [
  ["study", "effect_id"],
  ["study", "arm", "effect_id"],
];

/** The multilevel fit with robust errors and known covariances as the file grows. */
export const multilevelGrowth: Bench = {
  name: "multilevel-growth",
  title: "Multilevel fit with robust errors at 1,000, 3,000 and 10,000 effects",
  run: async (progress) => {
    const files = wanted.map((count, index) =>
      randomEffects(40 + index, { studies: count / 5, perStudy: 5 }),
    );
    const measures: Measure[] = [];
    for (const levels of levelSets) {
      const fits = files.map(
        ({ effects, known }) =>
          () =>
            fitMultilevel(effects, { levels, knownCovariances: known }),
      );
      for (const fit of fits) {
        const { robust, effects } = fit();
        const average = robust?.coefficients[0];
        // the seeded files have the mean 0.2 + 0.02 × weeks, weeks uniform from 4 to 15
        mustHold(
          `${effects} effects: the average is near the truth`,
          average !== undefined && Math.abs(average.estimate - 0.39) < 4 * average.standardError,
        );
      }
      const name = levels.join(", ");
      progress(`timing ${name}`);
      const seconds = shortestInTurns(fits, 3);
      measures.push({
        what: `growth with the number of effects: ${name}`,
        value: growthExponent(
          files.map(({ effects }) => effects.length),
          seconds,
        ),
        unit: "exponent",
        goal: { atMost: 1.15 },
        how: `slope of log time on log effects (${files.map(({ effects }) => effects.length).join(", ")} effects), shortest of three`,
      });
      seconds.forEach((value, index) =>
        measures.push({
          what: `${files[index]?.effects.length} effects: ${name}`,
          value,
          unit: "seconds",
        }),
      );
    }
    return Promise.resolve(measures);
  },
};
