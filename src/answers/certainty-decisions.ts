/** What a person decided of certainty, in a small file: outcome, contrast, domain, levels, reason, by. */
import {
  certainties,
  certaintyDomains,
  type Certainty,
  type Decision,
} from "../certainty/rating.js";
import { readTable } from "../csv/read-table.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import type { Contrast } from "../effects/effect.js";
import { DataError, type Issue } from "../errors.js";
import { plainWord } from "./option.js";

export const decisionColumns = ["outcome", "contrast", "domain", "levels", "reason", "by"] as const;
const domains = [...certaintyDomains, "starting level", "raised"] as const;

/** A decision with the answer it is about; without a contrast it is about each. */
export type PlacedDecision = Decision & Readonly<{ outcome: string; contrast: string }>;

/** Whether a decision is about an answer: the outcome by its name or its short form. */
export const isAbout =
  (names: readonly string[], contrast: Contrast) =>
  ({ outcome, contrast: of }: PlacedDecision): boolean =>
    names.map(plainWord).includes(plainWord(outcome)) &&
    (of === "" || [contrast, contrastShortLabel(contrast)].map(plainWord).includes(plainWord(of)));

/**
 * The decisions of a file. A row without a reason decides nothing: it waits.
 *
 * @throws {DataError} naming every cell that cannot be read
 */
export const readDecisions = (text: string): readonly PlacedDecision[] => {
  const table = readTable(text);
  const issues: Issue[] = [];
  const at = new Map(table.header.map((name, place) => [plainWord(name), place]));
  for (const column of decisionColumns.slice(0, 5))
    if (!at.has(column))
      issues.push({
        ...{ code: "missing-column", severity: "error", line: 1, column, value: "" },
        message: `the file of decisions has no column "${column}"`,
        mend: `its columns are ${decisionColumns.join(", ")}`,
      });
  if (issues.length > 0) throw new DataError(issues);
  const decisions = table.rows.flatMap(({ cells, line }): readonly PlacedDecision[] => {
    const of = (column: (typeof decisionColumns)[number]): string =>
      (cells[at.get(column) ?? -1] ?? "").trim();
    const reason = of("reason");
    if (reason === "") return [];
    const problem = (column: string, needs: string): readonly never[] => {
      issues.push({
        ...{
          code: "unknown-choice",
          severity: "error",
          line,
          column,
          value: of(column as "domain"),
        },
        message: `this is none of ${needs}`,
        mend: `write one of ${needs}`,
      });
      return [];
    };
    const domain = domains.find((one) => plainWord(one) === plainWord(of("domain")));
    if (domain === undefined) return problem("domain", domains.join(", "));
    const word = of("levels").toLowerCase();
    const place = { outcome: of("outcome"), contrast: of("contrast"), reason, by: of("by") };
    if (domain === "starting level")
      return (certainties as readonly string[]).includes(word)
        ? [{ ...place, domain, levels: word as Certainty }]
        : problem("levels", certainties.join(", "));
    const levels = Number(word);
    return word !== "" && Number.isInteger(levels) && levels >= 0 && levels <= 3
      ? [{ ...place, domain, levels }]
      : problem("levels", "0, 1, 2, 3");
  });
  if (issues.length > 0) throw new DataError(issues);
  return decisions;
};
