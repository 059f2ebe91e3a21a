const now = (): number => performance.now() / 1000;

/** Seconds that some work takes. */
export const secondsOf = (work: () => unknown): number => {
  const start = now();
  work();
  return now() - start;
};

/** Seconds until some work has settled. */
export const secondsUntil = async (work: () => Promise<unknown>): Promise<number> => {
  const start = now();
  await work();
  return now() - start;
};

/**
 * Shortest seconds of several pieces of work, run in turns so that a busy moment of the machine does not
 * fall on one of them alone. The shortest time is the one least disturbed by other programs.
 */
export const shortestInTurns = (
  works: readonly (() => unknown)[],
  rounds: number,
): readonly number[] => {
  const shortest = works.map(() => Infinity);
  for (let round = 0; round < rounds; round += 1) {
    works.forEach((work, index) => {
      globalThis.gc?.();
      shortest[index] = Math.min(shortest[index] ?? Infinity, secondsOf(work));
    });
  }
  return shortest;
};

/** Slope of log time on log size by least squares: 1 is linear growth, 2 quadratic. */
export const growthExponent = (sizes: readonly number[], seconds: readonly number[]): number => {
  const x = sizes.map(Math.log);
  const y = seconds.map(Math.log);
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, value) => sum + value, 0) / values.length;
  const [middleX, middleY] = [mean(x), mean(y)];
  let across = 0;
  let along = 0;
  x.forEach((value, index) => {
    across += (value - middleX) * ((y[index] ?? 0) - middleY);
    along += (value - middleX) ** 2;
  });
  return across / along;
};
