/**
 * Coaching effects of eight schools with their standard errors: Rubin DB (1981) Journal of Educational
 * Statistics 6:377–401, table 1, rounded to whole points as manuals of general modelling software print them.
 */
export const eightSchools = {
  estimates: [28, 8, -3, 7, -1, 1, 18, 12],
  standardErrors: [15, 10, 16, 11, 9, 11, 10, 18],
} as const;
