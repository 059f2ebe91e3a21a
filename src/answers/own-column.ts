/** A file with one column more, worked out by whoever asks. */
import { CallError } from "../errors.js";
import { fieldOfColumn } from "../records/codebook.js";
import { isDerivedColumn } from "../records/derived-columns.js";
import { columnSpelling } from "../records/header-columns.js";
import type { Evidence } from "./evidence.js";

/**
 * The file with a column of one's own; the file handed in stays as it is.
 *
 * @param name        of the column
 * @param values      one for each row; undefined leaves a row's cell blank
 * @param fingerprint of the file and the column together, because its answers are not the file's
 * @throws {CallError} "unknown-column" where a column has that name
 */
export const ownColumn = (
  { records, source, ...rest }: Evidence,
  name: string,
  values: readonly (string | number | undefined)[],
  fingerprint: string,
): Evidence => {
  const key = columnSpelling(name);
  const isThere = records.rows.some(({ more }) => more !== undefined && Object.hasOwn(more, key));
  if (key === "" || isThere || fieldOfColumn(key) !== undefined || isDerivedColumn(key))
    throw new CallError({
      code: "unknown-column",
      where: "a column of your own",
      needs: "a name that no column has",
      got: `"${name}"`,
    });
  const rows = records.rows.map((row, at) => {
    const value = values[at];
    return value === undefined ? row : { ...row, more: { ...row.more, [key]: value } };
  });
  return {
    ...rest,
    records: { ...records, rows },
    source: { ...source, name: `${source.name} with ${name}`, fingerprint },
  };
};
