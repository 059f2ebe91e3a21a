/**
 * Five studies with pre-test, post-test and control. Data and results typed from memory, not copied
 * from the paper; that they belong together is shown by the results they reproduce.
 */
export const morris2008 = {
  cite: "Morris SB (2008) Organizational Research Methods 11:364–386, Table 5 (from memory)",
  studies: [
    [30.6, 15.0, 38.5, 11.6, 20, 23.1, 13.8, 19.7, 14.8, 20, 0.47, "0.77"],
    [23.5, 3.1, 26.8, 4.1, 50, 24.9, 4.1, 25.3, 3.3, 42, 0.64, "0.80"],
    [0.5, 0.1, 0.7, 0.1, 9, 0.6, 0.2, 0.6, 0.2, 9, 0.77, "1.20"],
    [53.4, 14.5, 75.9, 4.4, 10, 55.7, 17.3, 60.7, 17.9, 11, 0.89, "1.05"],
    [35.6, 4.7, 36.0, 4.6, 14, 34.8, 3.1, 33.4, 6.9, 14, 0.44, "0.44"],
  ],
} as const;
