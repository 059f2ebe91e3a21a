/** One study's correlations of one kind: value and participants of each. */
export type StudyCorrelations = Readonly<{
  study: string;
  correlations: readonly Readonly<{ arm: string; value: number; participants: number }>[];
}>;

/** A study's say: its average on Fisher's z scale and its weight; undefined when nothing of it is usable. */
export type StudyVoice = Readonly<{ z: number; weight: number }>;

/**
 * What one study says: its correlations averaged on Fisher's z scale, and the weight of its arms' people.
 *
 * @param study  correlations; those of ±1 and beyond, or from three people or fewer, are left out
 * @returns average and weight, or undefined when none is usable
 * @source Fisher RA (1921) Metron 1:3–32
 */
export const studyVoice = (study: StudyCorrelations): StudyVoice | undefined => {
  const usable = study.correlations.filter(
    ({ value, participants }) => Math.abs(value) < 1 && participants > 3,
  );
  if (usable.length === 0) return undefined;
  const armWeights = new Map<string, number>();
  let inside = 0;
  let insideWeight = 0;
  for (const { arm, value, participants } of usable) {
    const weight = participants - 3;
    inside += weight * Math.atanh(value);
    insideWeight += weight;
    armWeights.set(arm, Math.max(weight, armWeights.get(arm) ?? 0));
  }
  const weight = [...armWeights.values()].reduce((sum, one) => sum + one, 0);
  return { z: inside / insideWeight, weight };
};

/**
 * One correlation from several studies, averaged on Fisher's z scale.
 *
 * A study speaks once: its correlations are averaged first, and it weighs what its arms' people allow,
 * however many outcomes it prints, because the people are the same.
 *
 *   z = artanh r      z̄ = Σ w·z / Σ w      w = Σ over the study's arms of (n − 3)      r̄ = tanh z̄
 *
 * @param studies  correlations strictly within −1 to 1 from arms of more than 3 people; others are left out
 * @returns the correlation, and how many studies spoke; undefined when none did
 * @source Fisher RA (1921) Metron 1:3–32
 */
export const pooledCorrelation = (
  studies: readonly StudyCorrelations[],
): Readonly<{ correlation: number; studies: number }> | undefined => {
  const voices = studies.map(studyVoice).filter((voice) => voice !== undefined);
  if (voices.length === 0) return undefined;
  const weighted = voices.reduce((sum, { z, weight }) => sum + z * weight, 0);
  const total = voices.reduce((sum, { weight }) => sum + weight, 0);
  return { correlation: Math.tanh(weighted / total), studies: voices.length };
};
