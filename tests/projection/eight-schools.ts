/** Coaching effects of eight schools with their standard errors: Rubin DB (1981), table 1, from memory. */
export const eightSchools = {
  estimates: [28, 8, -3, 7, -1, 1, 18, 12],
  standardErrors: [15, 10, 16, 11, 9, 11, 10, 18],
} as const;
