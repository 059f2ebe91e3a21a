/** One study's correlations of one kind: value and participants of each. */
export type StudyCorrelations = Readonly<{
  study: string;
  correlations: readonly Readonly<{ arm: string; value: number; participants: number }>[];
}>;

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
  let weighted = 0;
  let total = 0;
  let speaking = 0;
  for (const study of studies) {
    const usable = study.correlations.filter(
      ({ value, participants }) => Math.abs(value) < 1 && participants > 3,
    );
    if (usable.length === 0) continue;
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
    weighted += weight * (inside / insideWeight);
    total += weight;
    speaking += 1;
  }
  return speaking === 0
    ? undefined
    : { correlation: Math.tanh(weighted / total), studies: speaking };
};
