/** Ends of many values. */
/** Lowest of many values; Infinity of none. A loop, since very long argument lists are refused. */
export const lowest = (values: Iterable<number>): number => {
  let low = Infinity;
  for (const value of values) if (value < low) low = value;
  return low;
};

/** Highest of many values; −Infinity of none. */
export const highest = (values: Iterable<number>): number => {
  let high = -Infinity;
  for (const value of values) if (value > high) high = value;
  return high;
};
