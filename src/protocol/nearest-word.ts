/** Edits (insertions, deletions, substitutions, swaps of neighbours) that turn one word into another. */
const editDistance = (from: string, to: string): number => {
  let before: number[] = [];
  let above = Array.from({ length: to.length + 1 }, (_, j) => j);
  for (let i = 1; i <= from.length; i++) {
    const row = [i];
    for (let j = 1; j <= to.length; j++) {
      const substitution = (above[j - 1] as number) + (from[i - 1] === to[j - 1] ? 0 : 1);
      let least = Math.min((row[j - 1] as number) + 1, (above[j] as number) + 1, substitution);
      if (i > 1 && j > 1 && from[i - 1] === to[j - 2] && from[i - 2] === to[j - 1]) {
        least = Math.min(least, (before[j - 2] as number) + 1);
      }
      row.push(least);
    }
    before = above;
    above = row;
  }
  return above[to.length] as number;
};

/**
 * The candidate a misspelt word most likely meant, or undefined when none is near: at most one edit for
 * every three letters, and at most four. The first of equally near candidates wins.
 */
export const nearestWord = (word: string, candidates: readonly string[]): string | undefined => {
  const limit = Math.min(4, Math.floor(Math.min(word.length, 64) / 3));
  let best: string | undefined;
  let bestDistance = limit + 1;
  for (const candidate of candidates) {
    if (Math.abs(candidate.length - word.length) >= bestDistance) continue;
    const distance = editDistance(word.toLowerCase(), candidate.toLowerCase());
    if (distance < bestDistance) {
      best = candidate;
      bestDistance = distance;
    }
  }
  return best;
};
