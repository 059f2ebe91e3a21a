import { randomStream } from "../../src/numeric/random-stream.js";
import type { KnownCovariance, SynthesisEffect } from "../../src/synthesis/synthesis-input.js";

export type RandomEffectsOptions = Readonly<{
  studies: number;
  perStudy: number;
  /** Standard deviations of the study, arm and effect intercepts. */
  deviations?: readonly [number, number, number];
  /** Use the same arm ids in every study. */
  sharedArms?: boolean;
}>;

/** A seeded file of effects in arms in studies, with two moderators and correlated sampling errors. */
export const randomEffects = (
  seed: number,
  options: RandomEffectsOptions,
): Readonly<{ effects: readonly SynthesisEffect[]; known: readonly KnownCovariance[] }> => {
  const stream = randomStream(seed);
  const [study, arm, effect] = options.deviations ?? [0.3, 0.15, 0.2];
  const effects: SynthesisEffect[] = [];
  const known: KnownCovariance[] = [];
  for (let s = 0; s < options.studies; s++) {
    const count = 1 + stream.integer(2 * options.perStudy - 1);
    const studyPart = study * stream.normal();
    const weeks = 4 + stream.integer(12);
    const first = effects.length;
    let armPart = 0;
    for (let i = 0; i < count; i++) {
      if (i % 2 === 0) armPart = arm * stream.normal();
      const variance = 0.01 + 0.08 * stream.uniform();
      const measure = ["size", "strength", "tendon"][stream.integer(3)]!;
      const armNumber = Math.floor(i / 2);
      effects.push({
        effectId: `e${effects.length}`,
        study: `s${s}`,
        arm: options.sharedArms === true ? `arm ${armNumber}` : `s${s} arm ${armNumber}`,
        estimate:
          0.2 +
          0.02 * weeks +
          studyPart +
          armPart +
          effect * stream.normal() +
          Math.sqrt(variance) * stream.normal(),
        variance,
        moderators: { weeks, measure },
      });
    }
    if (count > 1) {
      const rows = effects.slice(first);
      known.push({
        indices: rows.map((_, i) => first + i),
        values: rows.flatMap((a, i) =>
          rows.map((b, j) => (i === j ? a.variance : 0.4 * Math.sqrt(a.variance * b.variance))),
        ),
      });
    }
  }
  return { effects, known };
};
