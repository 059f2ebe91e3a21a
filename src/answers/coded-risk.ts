/** Judgements of risk of bias, as they are coded on the page, put into the rows of a file. */
import { judgements, riskDomainNames, type RiskDomain } from "../certainty/risk-of-bias.js";
import type { CsvTable } from "../csv/csv-table.js";
import { columnOf } from "../records/codebook.js";

export type JudgedField = RiskDomain | "riskReason";

/** What was judged of some studies, by study and field; a field that is not there stays as it is. */
export type JudgedStudies = Readonly<
  Record<string, Readonly<Partial<Record<JudgedField, string>>>>
>;

/** Words that a domain can be judged with; blank where it is not coded. */
export const judgedWords = ["", ...judgements.filter((word) => word !== "not coded")] as const;

/** Fields that a person judges, in their order. */
export const judgedFields: readonly JudgedField[] = [...riskDomainNames, "riskReason"];

const plain = (name: string): string => name.trim().toLowerCase().replaceAll(/[ -]/g, "_");

/**
 * A table with judgements put into every row of their studies; columns that are missing are added at the end.
 *
 * @returns header, rows and, apart, the rows that changed
 * @source none: a change of cells
 */
export const withJudgements = (
  { header, rows }: Pick<CsvTable, "header" | "rows">,
  judged: JudgedStudies,
): Readonly<{
  header: readonly string[];
  rows: readonly (readonly string[])[];
  changed: readonly (readonly string[])[];
}> => {
  const names = header.map(plain);
  const missing = judgedFields.map(columnOf).filter((name) => !names.includes(name));
  const columns = [...names, ...missing];
  const study = names.indexOf("study");
  const changed: (readonly string[])[] = [];
  const all = rows.map(({ cells }) => {
    const before = columns.map((_, place) => cells[place] ?? "");
    const own = judged[(cells[study] ?? "").trim()] ?? {};
    const after = before.map((cell, place) => {
      const field = judgedFields.find((name) => columnOf(name) === columns[place]);
      return field === undefined ? cell : (own[field] ?? cell);
    });
    if (after.some((cell, place) => cell !== before[place])) changed.push(after);
    return after;
  });
  return { header: [...header, ...missing], rows: all, changed };
};
