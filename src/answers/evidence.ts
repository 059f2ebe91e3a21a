/** A file as every question takes it: its rows, and its effects on the scale and contrast asked for. */
import type { CsvTable } from "../csv/csv-table.js";
import { holdsInvented } from "../demo/demo-notice.js";
import { effectSubset } from "../effects/effect-subset.js";
import type { Effect, EffectSet } from "../effects/effect.js";
import { effectsFromRows } from "../effects/effects-from-rows.js";
import type { EffectsOptions } from "../effects/effects-options.js";
import { CallError, DataError } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { readRecords } from "../records/read-records.js";
import type { RecordSet } from "../records/record-set.js";
import { rowsThatMeet } from "../records/row-filter.js";
import type { FileLines } from "./named-lines.js";
import { withRowDoubts } from "./row-doubts.js";

/** Which bytes an answer rests on, by name and fingerprint. */
export type EvidenceSource = Readonly<{
  name: string;
  /** SHA-256 of the file, hexadecimal. */
  fingerprint: string;
  /** Whether the file holds rows of the invented demonstration register. */
  invented: boolean;
}>;

/** An open file. */
export type Evidence = Readonly<{
  source: EvidenceSource;
  table: CsvTable;
  /** Rows in the codebook's columns, or ready effects that only need averaging. */
  kind: "codebook" | "ready effects";
  /** What the codebook makes of the file; of ready effects, its rows are not used. */
  records: RecordSet;
  /** Which lines are whose, where several files were opened as one. */
  files?: readonly FileLines[];
  /** Effects that are left, where a sweep asks again without some. */
  keeps?: (effect: Effect) => boolean;
}>;

/** Columns that only a table in the codebook's columns has. */
const codebookColumns = ["statistic", "pre_mean", "change_mean", "effect_scale"];

/** Whether a table holds ready effects; its other columns, whatever their names, are moderators. */
const isReadyTable = (table: CsvTable): boolean => {
  const columns = new Set(table.header.map((name) => name.trim().toLowerCase()));
  if (codebookColumns.some((name) => columns.has(name))) return false;
  if (columns.has("variance") || columns.has("standard_error")) return true;
  return columns.has("effect") && !columns.has("outcome");
};

/**
 * A file opened for questions.
 *
 * @param file name, fingerprint and table of what was read
 * @source none: a change of form
 */
export const openEvidence = ({
  name,
  fingerprint,
  table,
}: Readonly<{ name: string; fingerprint: string; table: CsvTable }>): Evidence => {
  const isReady = isReadyTable(table);
  const records = readRecords(table);
  return {
    source: { name, fingerprint, invented: holdsInvented(table.rows) },
    table,
    kind: isReady ? "ready effects" : "codebook",
    records,
  };
};

/**
 * The rows of a file, or a stop with every problem listed when none can be used.
 *
 * @throws {DataError}
 */
export const requiredRows = ({ rows, issues }: RecordSet): readonly OutcomeRow[] => {
  if (rows.length > 0) return rows;
  const errors = issues.filter(({ severity }) => severity === "error");
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

/**
 * The usable rows of a file in the codebook's columns.
 *
 * @throws {DataError} with every problem listed when no row can be used
 * @throws {CallError} "ready-effects" for a table that has no rows of outcomes
 */
export const usableRows = ({ kind, records }: Evidence): readonly OutcomeRow[] => {
  if (kind === "ready effects")
    throw new CallError({
      code: "ready-effects",
      where: "this question",
      needs: "a file in the codebook's columns",
      got: "a table of ready effects, which can only be averaged",
      try: "holdbook pool averages it",
    });
  return requiredRows(records);
};

/** The refusal when conditions leave nothing. */
export const noRows = (where: string): CallError =>
  new CallError({
    code: "no-rows",
    where: "--where",
    needs: "conditions that at least one row meets",
    got: `"${where}"`,
  });

/**
 * The usable rows that conditions keep; all of them without conditions.
 *
 * @param where conditions as people type them, e.g. `outcome_family=strength, weeks>=8`
 */
export const chosenRows = (
  evidence: Evidence,
  where: string | undefined,
): readonly OutcomeRow[] => {
  const rows = usableRows(evidence);
  if (where === undefined) return rows;
  const kept = rowsThatMeet(rows, where);
  if (kept.length === 0) throw noRows(where);
  return kept;
};

const made = new WeakMap<Evidence, Map<string, EffectSet>>();

/** What rows become effects by, with the conditions they meet. */
export type EvidenceEffectsOptions = EffectsOptions &
  Readonly<{
    where?: string | undefined;
    /** `none` takes effects that share people as independent. */
    outcomeCorrelations?: "assumed" | "none";
  }>;

/**
 * Effects of the chosen rows; made once for the same conditions and options, so that every question speaks of
 * the same effects.
 */
export const effectsOf = (
  evidence: Evidence,
  { where, outcomeCorrelations, ...options }: EvidenceEffectsOptions,
): EffectSet => {
  const sets = made.get(evidence) ?? new Map<string, EffectSet>();
  made.set(evidence, sets);
  const key = JSON.stringify([where, outcomeCorrelations, options]);
  const known = sets.get(key);
  if (known !== undefined) return known;
  const all = withRowDoubts(
    evidence.records,
    effectsFromRows(chosenRows(evidence, where), options),
  );
  const left = evidence.keeps === undefined ? all : effectSubset(all, evidence.keeps);
  const set = outcomeCorrelations === "none" ? { ...left, blocks: [] } : left;
  sets.set(key, set);
  return set;
};

/** Lines of the rows behind some effects, ascending, each once. */
export const linesOf = ({ effects }: Pick<EffectSet, "effects">): readonly number[] =>
  [
    ...new Set(
      effects.flatMap(({ row, comparatorRow }) =>
        comparatorRow === undefined ? [row.line] : [row.line, comparatorRow.line],
      ),
    ),
  ].sort((first, second) => first - second);
