import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/** More people measured than started. */
export const peopleLostAndFound: RowCheck = (row) =>
  row.nStart !== undefined && row.nEnd !== undefined && row.nEnd > row.nStart
    ? [
        rowIssue(row, "nEnd", "warning", {
          code: "more-at-the-end",
          message: `more people were measured than the ${row.nStart} who started`,
          mend: "check both; people and limbs may have been counted in one column",
        }),
      ]
    : noDoubts;
