/** How deep brackets stand in each other, outside of strings. */
const depthOf = (text: string): number => {
  let depth = 0;
  let most = 0;
  for (const [part] of text.matchAll(/"(?:[^"\\]|\\.)*"?|[[\]{}]/gs)) {
    if (part === "[" || part === "{") most = Math.max(most, (depth += 1));
    else if (part === "]" || part === "}") depth -= 1;
  }
  return most;
};

/** Limits of a small file of JSON that a person hands over. */
export const jsonLimits = { characters: 1e8, depth: 40 } as const;

/**
 * What a file of JSON holds.
 *
 * @param refuse makes the error of what was found instead, worded to follow "got"
 * @source none: a reader
 */
export const readJson = (text: string, refuse: (found: string) => Error): unknown => {
  if (text.length > jsonLimits.characters) throw refuse(`${text.length} characters`);
  if (text.includes("\0")) throw refuse("text with a NUL character");
  if (depthOf(text) > jsonLimits.depth)
    throw refuse(`JSON nested more than ${jsonLimits.depth} deep`);
  try {
    return JSON.parse(text) as unknown;
  } catch (error) {
    const [place] = /line \d+ column \d+/.exec(String(error)) ?? [];
    throw refuse(`text that is not JSON${place === undefined ? "" : ` (see ${place})`}`);
  }
};
