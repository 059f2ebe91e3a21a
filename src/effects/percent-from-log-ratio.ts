/**
 * Percent change that a log ratio stands for.
 *
 * Interval limits are turned one by one; a standard error or variance is never turned.
 *
 *   percent = 100·(e^x − 1)
 *
 * @param logRatio  natural logarithm of a ratio
 * @returns percent, above −100
 * @source none: definition
 * @example
 * percentFromLogRatio(0)
 * // => 0
 */
export const percentFromLogRatio = (logRatio: number): number => 100 * Math.expm1(logRatio);

/**
 * Log ratio that a percent change stands for; the inverse of `percentFromLogRatio`.
 *
 * @source none: definition
 */
export const logRatioFromPercent = (percent: number): number => Math.log1p(percent / 100);
