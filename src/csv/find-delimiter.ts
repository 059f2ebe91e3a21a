const candidates = [",", ";", "\t", "|"] as const;

/** How often a character stands outside quotes in each of the first lines. */
const countsPerLine = (text: string, mark: string): number[] => {
  const counts: number[] = [];
  let count = 0;
  let quoted = false;
  let filled = false;
  for (const character of text) {
    if (character === '"') quoted = !quoted;
    if (!quoted && (character === "\n" || character === "\r")) {
      if (filled) counts.push(count);
      count = 0;
      filled = false;
      if (counts.length === 20) return counts;
    } else {
      filled = true;
      if (!quoted && character === mark) count += 1;
    }
  }
  if (filled) counts.push(count);
  return counts;
};

/**
 * The character that separates the cells of a table: comma, semicolon, tab or vertical bar.
 *
 * The header decides, for it is all words: the candidate that splits it and splits most of the next
 * lines into the same number of cells wins; among equals the one that makes more cells. A header that
 * none of them splits is one column, and the answer is a comma.
 *
 * @param start the beginning of the file, a few lines or more
 */
export const findDelimiter = (start: string): string => {
  let best = ",";
  let bestScore = 0;
  for (const mark of candidates) {
    const counts = countsPerLine(start, mark);
    const first = counts[0] ?? 0;
    if (first === 0) continue;
    const same = counts.filter((count) => count === first).length / counts.length;
    const score = same * 1000 + Math.min(first, 900);
    if (score > bestScore) {
      bestScore = score;
      best = mark;
    }
  }
  return best;
};
