/** Rows that exist but have no weight, by name: no refusal may read as if the file did not hold them. */
import type { EffectSet } from "../effects/effect.js";
import { listed } from "../protocol/listed.js";
import { grouped } from "../records/grouped.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { capital, counted, formatNumber } from "../tables/number-format.js";
import type { Evidence } from "./evidence.js";
import { wantedNumbers } from "./row-fates.js";

/** More studies than this are counted. */
const studiesNamed = 8;
const valuesNamed = 6;

/** Which of the rows a question is about, and what is said of those of one study. */
export type NotWeightedAbout = Readonly<{
  /** Chooses among all of them, so that an arm or a study can be asked for as a whole. */
  of?: (rows: readonly OutcomeRow[]) => readonly OutcomeRow[];
  detail?: (rows: readonly OutcomeRow[]) => string;
}>;

/**
 * A sentence that names them with the numbers that would help; empty where there are none. Asked about the whole file
 * it says in any case why rows give no effect, where none does.
 */
export type NotWeighted = (about?: NotWeightedAbout) => string;

/** Numbers that rows differ in, ascending, each once: "35, 50, 65 and 80"; of many, the first and the last. */
export const valuesOf = (
  rows: readonly OutcomeRow[],
  valueOf: (row: OutcomeRow) => number | undefined,
): string => {
  const values = [...new Set(rows.flatMap((row) => valueOf(row) ?? []))].sort((a, b) => a - b);
  const shown = [
    ...new Set(
      values.map((value) => formatNumber(value, { digits: Number.isInteger(value) ? 0 : 1 })),
    ),
  ];
  return shown.length > valuesNamed ? `${shown[0]!} to ${shown.at(-1)!}` : listed(shown);
};

/** Rows of the arms that were tested at two values or more, as a course over weeks or angles needs. */
export const armsThatDiffer = (
  rows: readonly OutcomeRow[],
  valueOf: (row: OutcomeRow) => number | undefined,
): readonly OutcomeRow[] =>
  [
    ...grouped(rows, ({ study, arm, outcome }) => JSON.stringify([study, arm, outcome])).values(),
  ].flatMap((own) => (new Set(own.flatMap((row) => valueOf(row) ?? [])).size < 2 ? [] : own));

/** The rows of a file's effects that only lack numbers, ready to be named. */
export const notWeighted = (
  { records }: Evidence,
  { rowUses, scale, effects }: Pick<EffectSet, "rowUses" | "scale" | "effects">,
): NotWeighted => {
  const reasons = new Map(
    rowUses.flatMap(({ line, lacksNumbers, reason }) =>
      lacksNumbers === true ? [[line, reason] as const] : [],
    ),
  );
  const rows = records.rows.filter(({ line }) => reasons.has(line));
  return ({ of, detail = (own) => counted(own.length, "row") }: NotWeightedAbout = {}) => {
    const why = (row: OutcomeRow): string => {
      const numbers = wantedNumbers(row, scale === "log-ratio-of-means");
      // The columns' names stand in the table of what became of each row.
      return numbers === ""
        ? `as ${reasons.get(row.line)!}`
        : `for want of ${numbers.replace(/ \([a-z_ ,]*_[a-z_ ,]*\)/g, "")}`;
    };
    const wanted = [...grouped(of === undefined ? rows : of(rows), why)].map(([reason, own]) => {
      const studies = [...grouped(own, ({ study }) => study)];
      const more = studies.length - studiesNamed;
      const names = studies.slice(0, studiesNamed).map(([study, some]) => {
        const told = detail(some);
        return told === "" ? study : `${study} (${told})`;
      });
      return `${names.join(", ")}${more > 0 ? ` and ${counted(more, "more study", "more studies")}` : ""}, ${reason}`;
    });
    if (wanted.length > 0) return `In the file, but without a weight: ${wanted.join("; ")}.`;
    return of === undefined && effects.length === 0
      ? `${capital(counted(rowUses.length, "row"))}: ${[...grouped(rowUses, ({ reason }) => reason)]
          .map(([reason, own]) => `${own.length} × ${reason}`)
          .join("; ")}.`
      : "";
  };
};
