/** The version of this package, as `package.json` has it (a test compares the two). */
export const holdbookVersion = "0.1.0";
