import { expect, test } from "vitest";
import { covariancesWithout, effectsWithout } from "../../src/synthesis/leave-out.js";
import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import { randomEffects } from "./random-effects.js";

test("identity: leaving a study out equals never having read it", () => {
  const { effects, known } = randomEffects(17, { studies: 9, perStudy: 3 });
  const out = effects.flatMap((effect, i) => (effect.study === "s3" ? [i] : []));
  const first = out[0]!;
  const kept = known.flatMap((block) => {
    if (out.includes(block.indices[0]!)) return [];
    const move = block.indices[0]! > first ? out.length : 0;
    return [{ ...block, indices: block.indices.map((index) => index - move) }];
  });
  expect(covariancesWithout(known, out)).toEqual(kept);
  const result = fitMultilevel(effectsWithout(effects, out), {
    knownCovariances: covariancesWithout(known, out),
  });
  expect(result.studies).toBe(8);
  expect(result.story.effectIds.length).toBe(effects.length - out.length);
});

test("part of a block keeps the covariances of what stays", () => {
  const known = [{ indices: [1, 2, 4], values: [1, 0.1, 0.2, 0.1, 2, 0.3, 0.2, 0.3, 3] }];
  expect(covariancesWithout(known, [2, 0])).toEqual([
    { indices: [0, 2], values: [1, 0.2, 0.2, 3] },
  ]);
  expect(covariancesWithout(known, [1, 2, 4])).toEqual([]);
});
