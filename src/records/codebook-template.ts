import { columnOf, fieldNames } from "./codebook.js";

/** A blank file to fill in: the codebook's columns as the header of a CSV, and no rows. */
export const codebookTemplate = (): string => `${fieldNames.map(columnOf).join(",")}\n`;
