/** What a file gives to be averaged: groups of like effects, each with its headline and its wider selection. */
import type { EffectSet } from "../effects/effect.js";
import { effectSubset } from "../effects/effect-subset.js";
import { CallError, DataError, type Note } from "../errors.js";
import { grouped } from "../records/grouped.js";
import { meetsRowFilter, parseRowFilter } from "../records/row-filter.js";
import { checkedColumn, rowValue } from "../records/row-value.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import { readyEffects, type ReadyEffects } from "./ready-effects.js";
import type { SynthesisEffect } from "../synthesis/synthesis-input.js";
import { kebabName } from "../tables/dose-table.js";
import type { AverageInput, AverageOptions } from "./average.js";
import { effectsOptionsOf, type EffectChoices } from "./effect-options.js";
import { effectsOf, noRows, usableRows, type Evidence } from "./evidence.js";
import { headlineGroups, type HeadlineGroup } from "./headline-selection.js";

/** Effects averaged together. */
export type PoolGroup = Readonly<{
  /** File-name form. */
  id: string;
  label: string;
  /** Family, way of testing, arms left out; absent for ready effects. */
  kind?: Omit<HeadlineGroup, "id" | "label" | "headline" | "all">;
  /** Value of the column that divides the groups, and the group it divides, where a column was asked for. */
  level?: string;
  part?: string;
  headline: AverageInput & Readonly<{ set?: EffectSet }>;
  /** All angles and weeks, where that is more than the headline. */
  wider?: AverageInput & Readonly<{ set?: EffectSet }>;
}>;

export type PoolGroups = Readonly<{
  groups: readonly PoolGroup[];
  /** The groups before a column divides them, with the column among the effects' moderators. */
  whole: readonly PoolGroup[];
  /** The column that divides them, as the effects name it. */
  column?: string;
  /** The set the effects came from; absent for a table of ready effects. */
  set?: EffectSet;
  notes: readonly Note[];
}>;

export type PoolGroupOptions = EffectChoices &
  Pick<AverageOptions, "moderators" | "levels"> &
  Readonly<{ by?: string | undefined }>;

/** Name of the group when nothing divides the effects. */
export const notGrouped = "all effects";
const blankLevel = "not coded";

const levelsOf = <Item>(
  items: readonly Item[],
  levelOf: (item: Item) => string | number | undefined,
): readonly (readonly [string, readonly Item[]])[] => [
  ...grouped(items, (item) => String(levelOf(item) ?? blankLevel)),
];

const codebookGroups = (evidence: Evidence, options: PoolGroupOptions): PoolGroups => {
  const set = effectsOf(evidence, effectsOptionsOf(options));
  const columns = [...new Set(options.moderators.flat())];
  for (const column of [...columns, ...(options.by === undefined ? [] : [options.by])]) {
    checkedColumn(column, usableRows(evidence));
  }
  const { by } = options;
  const divided = by === undefined || by === "outcome_family" ? [] : [by];
  const input = (effects: EffectSet) => {
    const inputs = effectInputs(effects, {
      moderators: Object.fromEntries(
        [...columns, ...divided].map(
          (column) => [column, ({ row }) => rowValue(row, column)] as const,
        ),
      ),
    });
    return {
      ...inputs,
      ready: false,
      set: effects,
    };
  };
  const groupOf = ({ id, label, headline, all, ...kind }: HeadlineGroup): PoolGroup => ({
    id,
    label,
    kind,
    headline: input(headline),
    ...(all.effects.length > headline.effects.length ? { wider: input(all) } : {}),
  });
  const families = headlineGroups(set);
  const whole = families.map(groupOf);
  const [column] = divided;
  const groups =
    column === undefined
      ? whole
      : families.flatMap((group): readonly PoolGroup[] =>
          levelsOf(group.all.effects, ({ row }) => rowValue(row, column)).map(
            ([level, effects]) => {
              const own = new Set(effects);
              const of = (chosen: EffectSet) => effectSubset(chosen, (effect) => own.has(effect));
              return {
                ...groupOf({
                  ...group,
                  id: `${group.id}-${kebabName(level)}`,
                  label: `${group.label}, ${column} ${level}`,
                  headline: of(group.headline),
                  all: of(group.all),
                }),
                level,
                part: group.id,
              };
            },
          ),
        );
  return {
    groups,
    whole,
    ...(column === undefined ? {} : { column }),
    set,
    notes: set.notes,
  };
};

const columnKey = (name: string): string => name.trim().toLowerCase().replace(/[ -]/g, "_");

/** The value of a ready effect in a column, for conditions and groups. */
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

const readyGroups = ({ table }: Evidence, options: PoolGroupOptions): PoolGroups => {
  const ready = readyEffects(table, {
    moderators: options.moderators,
    levels: options.levels ?? [],
  });
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
  const refused = ready.fates.filter(({ fate }) => fate === "refused" || fate === "set aside");
  const whole = { effects: kept, covariances: [], ready: true };
  const column = ready.moderators.find(
    ({ name }) => by !== undefined && columnKey(name) === columnKey(by),
  )?.name;
  const shown = refused.slice(0, 5).map(({ line, reason }) => `line ${line} (${reason})`);
  return {
    groups: levelsOf(kept, (effect) =>
      by === undefined ? notGrouped : valueIn("--by", by, effect),
    ).map(([level, effects]) => ({
      id: kebabName(level),
      label: level,
      ...(by === undefined ? {} : { level, part: kebabName(notGrouped) }),
      headline: { ...whole, effects },
    })),
    whole: [{ id: kebabName(notGrouped), label: notGrouped, headline: whole }],
    ...(column === undefined ? {} : { column }),
    notes: [
      ...(refused.length === 0
        ? []
        : [
            {
              code: "rows-left-out" as const,
              message: `${refused.length} of ${table.rows.length} rows are not in the answer: ${shown.join("; ")}${refused.length > 5 ? "; and more" : ""}`,
            },
          ]),
      ...ready.notes,
    ],
  };
};

/**
 * Groups of effects to average.
 *
 * Of a file in the codebook's columns: outcome families and ways of testing, never mixed. Of ready effects: all of
 * them. A column asked for divides each further.
 */
export const poolGroups = (evidence: Evidence, options: PoolGroupOptions): PoolGroups =>
  evidence.kind === "ready effects"
    ? readyGroups(evidence, options)
    : codebookGroups(evidence, options);
