import { effectSubset } from "../effects/effect-subset.js";
import type { EffectSet } from "../effects/effect.js";
import { CallError, DataError } from "../errors.js";
import { meetsRowFilter, parseRowFilter } from "../records/row-filter.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import type { MultilevelLevel } from "../synthesis/multilevel-options.js";
import { readyEffects, type ReadyEffects, type ReadyRowFate } from "../synthesis/ready-effects.js";
import type {
  KnownCovariance,
  ModeratorTerm,
  SynthesisEffect,
} from "../synthesis/synthesis-input.js";
import { noRows, rowValue, type AnalysisCommandOptions } from "./analysis-options.js";
import { effectsOfFile } from "./effects-of-file.js";
import type { InputFile } from "./read-input.js";
import { refusedRowsLine } from "./refused-rows.js";

/** Options that say what goes into an average. */
export type PoolInputOptions = AnalysisCommandOptions &
  Readonly<{
    moderators: readonly ModeratorTerm[];
    /** Levels that will have random intercepts, as far as they were asked for. */
    levels: readonly MultilevelLevel[];
    by?: string;
  }>;

/** What is pooled: named groups of effects with their covariances. */
export type PoolGroup = Readonly<{
  name: string;
  effects: readonly SynthesisEffect[];
  covariances: readonly KnownCovariance[];
}>;

export type PoolInput = Readonly<{
  groups: readonly PoolGroup[];
  /** The set the effects came from; absent for a table of ready effects. */
  set: EffectSet | undefined;
  warnings: readonly string[];
}>;

/** Columns that only a table in the codebook's columns has. */
const codebookColumns = ["statistic", "pre_mean", "change_mean", "effect_scale"];

/** Whether a table holds ready effects; its other columns, whatever their names, are moderators. */
const isReadyTable = ({ table }: InputFile): boolean => {
  const columns = new Set(table.header.map((name) => name.trim().toLowerCase()));
  if (codebookColumns.some((name) => columns.has(name))) return false;
  if (columns.has("variance") || columns.has("standard_error")) return true;
  return columns.has("effect") && !columns.has("outcome");
};

const grouped = <Item>(
  items: readonly Item[],
  nameOf: (item: Item) => string,
): ReadonlyMap<string, readonly number[]> => {
  const groups = new Map<string, number[]>();
  items.forEach((item, position) => {
    const name = nameOf(item);
    const group = groups.get(name);
    if (group === undefined) groups.set(name, [position]);
    else group.push(position);
  });
  return groups;
};

/** Name of the group when nothing divides the effects. */
export const notGrouped = "all effects";
const blankGroup = "not coded";

const columnKey = (name: string): string => name.trim().toLowerCase().replace(/[ -]/g, "_");

/** The value of an effect in a column of a ready table, for `--where` and `--by`. */
const readyColumns = (
  ready: ReadyEffects,
): ReadonlyMap<string, (effect: SynthesisEffect) => string | number | undefined> =>
  new Map([
    ["study", ({ study }) => study],
    ["arm", ({ arm }) => arm],
    ["effect_id", ({ effectId }) => effectId],
    ["effect", ({ estimate }) => estimate],
    ["variance", ({ variance }) => variance],
    ...ready.moderators.map(
      ({ name }) =>
        [columnKey(name), ({ moderators }: SynthesisEffect) => moderators?.[name]] as const,
    ),
  ]);

/** Groups out of a table of ready effects. */
const readyInput = (file: InputFile, options: PoolInputOptions): PoolInput => {
  const ready = readyEffects(file.table, options);
  if (!ready.usable)
    throw new DataError(ready.issues.filter(({ severity }) => severity === "error"));
  const columns = readyColumns(ready);
  const valueIn = (option: string, column: string, effect: SynthesisEffect) => {
    const value = columns.get(columnKey(column));
    if (value === undefined)
      throw new CallError({
        code: "unknown-column",
        where: option,
        needs: `columns of the file: ${[...columns.keys()].join(", ")}`,
        got: `"${column}"`,
      });
    return value(effect);
  };
  const { where, by } = options;
  const conditions = where === undefined ? [] : parseRowFilter(where);
  const kept = ready.effects.filter((effect) =>
    meetsRowFilter(conditions, (column) => valueIn("--where", column, effect)),
  );
  if (kept.length === 0) throw noRows(where ?? "");
  const names = grouped(kept, (effect) =>
    by === undefined ? notGrouped : String(valueIn("--by", by, effect) ?? blankGroup),
  );
  const refused = ready.fates.filter(({ fate }) => fate === "refused" || fate === "set aside");
  return {
    groups: [...names].map(([name, positions]) => ({
      name,
      effects: positions.map((position) => kept[position]!),
      covariances: [],
    })),
    set: undefined,
    warnings: [...refusedFates(refused, file), ...ready.notes.map(({ message }) => message)],
  };
};

const refusedFates = (refused: readonly ReadyRowFate[], file: InputFile): readonly string[] => {
  if (refused.length === 0) return [];
  const shown = refused.slice(0, 5).map(({ line, reason }) => `line ${line} (${reason})`);
  return [
    `${refused.length} of ${file.table.rows.length} rows are not in the answer: ${shown.join("; ")}${refused.length > 5 ? "; and more" : ""}`,
  ];
};

/** Groups out of a table in the codebook's columns: outcome families are never pooled together. */
const codebookInput = (file: InputFile, options: PoolInputOptions): PoolInput => {
  const { records, set } = effectsOfFile(file, options, "holdbook pool");
  const columns = [...new Set(options.moderators.flat())];
  const names = grouped(set.effects, ({ row }) => {
    const family = row.outcomeFamily ?? blankGroup;
    if (options.by === undefined || options.by === "outcome_family") return family;
    return `${family}, ${options.by} ${String(rowValue(row, options.by) ?? blankGroup)}`;
  });
  const groups = [...names].map(([name, positions]): PoolGroup => {
    const wanted = new Set(positions.map((position) => set.effects[position]));
    const inputs = effectInputs(
      effectSubset(set, (effect) => wanted.has(effect)),
      {
        moderators: Object.fromEntries(
          columns.map((column) => [column, ({ row }) => rowValue(row, column)] as const),
        ),
      },
    );
    return { name, ...inputs };
  });
  return {
    groups,
    set,
    warnings: [...refusedRowsLine(records), ...set.notes.map(({ message }) => message)],
  };
};

/** What a file gives to be averaged: groups of effects with their covariances, and doubts about the file. */
export const poolInput = (file: InputFile, options: PoolInputOptions): PoolInput =>
  isReadyTable(file) ? readyInput(file, options) : codebookInput(file, options);
