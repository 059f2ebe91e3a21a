import type { OutcomeRow } from "../records/outcome-row.js";

/** Citation of every row of the register, by which a file of invented rows is known. */
export const demoCitation = "Invented for demonstration";

/** What every surface says while the demonstration register is shown. */
export const demoNotice =
  "INVENTED DATA: every trial in this register was made up to show what the program does; nothing here is evidence.";

/** Whether any row comes from the invented register: one invented row makes a file no evidence. */
export const isDemoRegister = (rows: readonly OutcomeRow[]): boolean =>
  rows.some(({ citation }) => citation === demoCitation);
