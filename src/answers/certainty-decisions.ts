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
/** What can be decided: the domains, and where a rating starts and ends. */
export const decidedDomains = [...certaintyDomains, "starting level", "raised"] as const;
export type DecidedDomain = (typeof decidedDomains)[number];
/** Most levels to lower or raise by. */
export const mostLevels = 3;

/** A decision with the answer it is about; without a contrast it is about each. */
export type PlacedDecision = Decision & Readonly<{ outcome: string; contrast: string }>;

/** Whether a decision is about an answer: the outcome by its name or its short form. */
export const isAbout =
  (names: readonly string[], contrast: Contrast) =>
  ({ outcome, contrast: of }: Pick<PlacedDecision, "outcome" | "contrast">): boolean =>
    names.map(plainWord).includes(plainWord(outcome)) &&
    (of === "" || [contrast, contrastShortLabel(contrast)].map(plainWord).includes(plainWord(of)));

/** What a file decides, and how many of its rows give a reason and no level. */
export type ReadDecisions = Readonly<{
  decisions: readonly PlacedDecision[];
  withoutLevels: number;
}>;

/**
 * The decisions of a file. A row without a reason or without levels decides nothing: it waits.
 *
 * @throws {DataError} naming every cell that cannot be read
 */
export const readDecisions = (text: string): ReadDecisions => {
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
  let withoutLevels = 0;
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
    const domain = decidedDomains.find((one) => plainWord(one) === plainWord(of("domain")));
    if (domain === undefined) return problem("domain", decidedDomains.join(", "));
    const word = of("levels").toLowerCase();
    if (word === "") {
      withoutLevels += 1;
      return [];
    }
    const place = { outcome: of("outcome"), contrast: of("contrast"), reason, by: of("by") };
    if (domain === "starting level")
      return (certainties as readonly string[]).includes(word)
        ? [{ ...place, domain, levels: word as Certainty }]
        : problem("levels", certainties.join(", "));
    const levels = Number(word);
    return Number.isInteger(levels) && levels >= 0 && levels <= mostLevels
      ? [{ ...place, domain, levels }]
      : problem("levels", "0, 1, 2, 3");
  });
  if (issues.length > 0) throw new DataError(issues);
  return { decisions, withoutLevels };
};
