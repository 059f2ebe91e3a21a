/** Citation of every row of the register, by which a file of invented rows is known. */
export const demoCitation = "Invented for demonstration";

/** What every surface says while the demonstration register is shown. */
export const demoNotice =
  "INVENTED DATA: every trial in this register was made up to show what the program does; nothing here is evidence.";

/** Its trials are named so, in whatever table they stand. */
const demoStudy = /^invented \d+$/i;

/**
 * Whether any row comes from the invented register, also among rows that cannot be used and in a table of effects made
 * of it: one invented row makes a file no evidence.
 */
export const holdsInvented = (rows: readonly Readonly<{ cells: readonly string[] }>[]): boolean =>
  rows.some(({ cells }) =>
    cells.some((cell) => {
      const text = cell.trim();
      return text === demoCitation || demoStudy.test(text);
    }),
  );
