import { DataError } from "../errors.js";
import type { RecordSet } from "../records/record-set.js";

/** One line that says how many rows had to be left out, or nothing. */
export const refusedRowsLine = (records: RecordSet): readonly string[] => {
  const refused = records.fates.filter(({ fate }) => fate === "refused").length;
  return refused === 0
    ? []
    : [
        `${refused} of ${records.rowsInFile} rows were refused and are not in what follows; holdbook check lists them with their mends.`,
      ];
};

/**
 * Stops with every problem listed when no row can be used.
 *
 * @throws {DataError}
 */
export const requireRows = (records: RecordSet): void => {
  if (records.rows.length > 0) return;
  const errors = records.issues.filter(({ severity }) => severity === "error");
  throw new DataError(
    errors.length > 0
      ? errors
      : [
          {
            code: "no-rows",
            severity: "error",
            line: 0,
            column: "",
            value: "",
            message: "no row of the file can be used",
            mend: "holdbook check says what became of each row",
          },
        ],
  );
};
