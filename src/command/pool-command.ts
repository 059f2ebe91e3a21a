import { Option } from "commander";
import { effectSubset } from "../effects/effect-subset.js";
import type { EffectSet } from "../effects/effect.js";
import { effectsFromRows } from "../effects/effects-from-rows.js";
import { CallError, DataError } from "../errors.js";
import { readRecords } from "../records/read-records.js";
import { meetsRowFilter, parseRowFilter } from "../records/row-filter.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import { fitMultilevel } from "../synthesis/fit-multilevel.js";
import { heterogeneityEstimators, type HeterogeneityName } from "../synthesis/heterogeneity/estimators.js";
import {
  multilevelLevels,
  robustCorrections,
  type MultilevelLevel,
} from "../synthesis/multilevel-options.js";
import { poolDefaults, poolEffects, pooledIntervals, pooledModels } from "../synthesis/pool-effects.js";
import { readyEffects } from "../synthesis/ready-effects.js";
import type { KnownCovariance, ModeratorTerm, SynthesisEffect } from "../synthesis/synthesis-input.js";
import type { MultilevelResult, PooledResult } from "../synthesis/synthesis-results.js";
import {
  chosenRows,
  effectsOptionsOf,
  numberOption,
  rowValue,
  withAnalysisOptions,
  type AnalysisCommandOptions,
} from "./analysis-options.js";
import type { CommandRegistration } from "./commands.js";
import { jsonText } from "./json-text.js";
import { poolJson } from "./pool-json.js";
import { pooledText } from "./pooled-text.js";
import { readInput, type InputFile } from "./read-input.js";
import { refusedRowsLine, requireRows } from "./refused-rows.js";

type Options = AnalysisCommandOptions &
  Readonly<{
    levels?: string;
    moderators?: string;
    heterogeneity: HeterogeneityName;
    interval: (typeof pooledIntervals)[number];
    model: (typeof pooledModels)[number];
    robust: (typeof robustCorrections)[number];
    confidence: number;
    by?: string;
    profile?: true;
    json?: true;
  }>;

/** What is pooled: named groups of effects with their covariances. */
type Group = Readonly<{
  name: string;
  effects: readonly SynthesisEffect[];
  covariances: readonly KnownCovariance[];
}>;

type Prepared = Readonly<{
  groups: readonly Group[];
  /** The set the effects came from; absent for a table of ready effects. */
  set: EffectSet | undefined;
  warnings: readonly string[];
}>;

/** `weeks, measure, weeks by measure` as terms of a model. */
const moderatorTerms = (text: string | undefined): readonly ModeratorTerm[] =>
  (text ?? "")
    .split(",")
    .map((term) => term.trim())
    .filter((term) => term !== "")
    .map((term) => {
      const parts = term.split(/\s+by\s+/);
      return parts.length === 1 ? term : parts;
    });

const levelsOf = (text: string | undefined): readonly MultilevelLevel[] | undefined => {
  if (text === undefined) return undefined;
  const named = text.split(",").map((level) => level.trim().replaceAll("-", "_"));
  const unknown = named.filter((level) => !multilevelLevels.some((known) => known === level));
  if (unknown.length > 0)
    throw new CallError({
      code: "bad-levels",
      where: "--levels",
      needs: `levels among ${multilevelLevels.join(", ")}`,
      got: unknown.join(", "),
    });
  // The order of nesting is fixed, so the order they were typed in does not matter.
  return multilevelLevels.filter((level) => named.includes(level));
};

const isReadyTable = ({ table }: InputFile): boolean => {
  const columns = table.header.map((name) => name.trim().toLowerCase());
  return (
    columns.includes("effect") &&
    (columns.includes("variance") || columns.includes("standard_error")) &&
    !columns.includes("outcome")
  );
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

const notGrouped = "all effects";
const blankGroup = "not coded";

/** Groups out of a table of ready effects. */
const preparedReady = (file: InputFile, options: Options): Prepared => {
  const terms = moderatorTerms(options.moderators);
  const ready = readyEffects(file.table, { moderators: terms });
  const errors = ready.issues.filter(({ severity }) => severity === "error");
  if (!ready.usable) throw new DataError(errors);
  const refused = ready.fates.filter(({ fate }) => fate === "refused" || fate === "set aside");
  const kept = ready.effects.filter((effect) => {
    if (options.where === undefined) return true;
    const value = (column: string): string | number | undefined =>
      ({ study: effect.study, arm: effect.arm, effect_id: effect.effectId, ...effect.moderators })[
        column
      ];
    return meetsRowFilter(parseRowFilter(options.where), value);
  });
  const names = grouped(kept, ({ moderators, study }) => {
    if (options.by === undefined) return notGrouped;
    if (options.by === "study") return study;
    if (!ready.moderators.some(({ name }) => name === options.by))
      throw new CallError({
        code: "unknown-column",
        where: "--by",
        needs: `one of the file's columns: ${ready.moderators.map(({ name }) => name).join(", ")}`,
        got: `"${options.by}"`,
      });
    return String(moderators?.[options.by] ?? blankGroup);
  });
  return {
    groups: [...names].map(([name, positions]) => ({
      name,
      effects: positions.map((position) => kept[position]!),
      covariances: [],
    })),
    set: undefined,
    warnings: [
      ...(refused.length > 0
        ? [
            `${refused.length} of ${file.table.rows.length} rows are not in the answer: ${refused
              .slice(0, 5)
              .map(({ line, reason }) => `line ${line} (${reason})`)
              .join("; ")}${refused.length > 5 ? "; and more" : ""}`,
          ]
        : []),
      ...ready.notes.map(({ message }) => message),
    ],
  };
};

/** Groups out of a table in the codebook's columns: outcome families are never pooled together. */
const preparedCodebook = (file: InputFile, options: Options): Prepared => {
  const records = readRecords(file.table);
  requireRows(records);
  const rows = chosenRows(records.rows, options.where);
  const set = effectsFromRows(rows, effectsOptionsOf(options));
  if (set.effects.length === 0)
    throw new CallError({
      code: "no-effects",
      where: "holdbook pool",
      needs: "at least one row that reaches the scale and contrast",
      got: "none",
      try: `holdbook effects ${file.name} says why for each row`,
    });
  const columns = [...new Set(moderatorTerms(options.moderators).flat())];
  const names = grouped(set.effects, ({ row }) => {
    const family = row.outcomeFamily ?? blankGroup;
    if (options.by === undefined || options.by === "outcome_family") return family;
    return `${family}, ${options.by} ${String(rowValue(row, options.by) ?? blankGroup)}`;
  });
  const groups = [...names].map(([name, positions]): Group => {
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

/** One group pooled: one level unless several are asked for or the effects are known to be dependent. */
const pooledGroup = (
  group: Group,
  options: Options,
  fromCodebook: boolean,
): PooledResult | MultilevelResult => {
  const moderators = moderatorTerms(options.moderators);
  const levels = levelsOf(options.levels) ?? (fromCodebook ? multilevelLevels : undefined);
  if (levels === undefined || group.effects.length === 1) {
    return poolEffects(group.effects, {
      model: options.model,
      heterogeneity: options.heterogeneity,
      interval: options.interval,
      confidence: options.confidence,
      moderators,
    });
  }
  const { heterogeneity, interval } = options;
  if (
    heterogeneity !== "restricted-maximum-likelihood" &&
    heterogeneity !== "maximum-likelihood"
  )
    throw new CallError({
      code: "unknown-choice",
      where: "--heterogeneity with several levels",
      needs: "restricted-maximum-likelihood or maximum-likelihood",
      got: heterogeneity,
    });
  if (interval === "hartung-knapp-unguarded")
    throw new CallError({
      code: "unknown-choice",
      where: "--interval with several levels",
      needs: "hartung-knapp, student-t or normal",
      got: interval,
    });
  return fitMultilevel(group.effects, {
    levels,
    heterogeneity,
    interval,
    robust: options.robust,
    knownCovariances: group.covariances,
    moderators,
    confidence: options.confidence,
    profileIntervals: options.profile === true,
  });
};

/** `holdbook pool FILE`: the average of the effects and how far studies differ. */
export const poolCommand: CommandRegistration = (program, terminal) => {
  withAnalysisOptions(
    program
      .command("pool")
      .description("average the effects and say how far studies differ")
      .argument("<file>", "codebook table, or ready effects: study, effect, variance (or standard_error)"),
  )
    .option("--by <column>", "one answer for each value of this column")
    .option(
      "--levels <levels>",
      `random intercepts, among ${multilevelLevels.join(",")} (codebook tables: all three; ready effects: each row its own)`,
    )
    .option("--moderators <columns>", "explain differences by these, e.g. weeks,measure or weeks by measure")
    .addOption(
      new Option("--heterogeneity <estimator>", "how the variance between studies is estimated")
        .choices(Object.keys(heterogeneityEstimators))
        .default(poolDefaults.heterogeneity),
    )
    .addOption(
      new Option("--interval <method>", "how the interval of the average is made")
        .choices(pooledIntervals)
        .default(poolDefaults.interval),
    )
    .addOption(
      new Option("--model <model>", "one true effect, or a distribution of effects")
        .choices(pooledModels)
        .default(poolDefaults.model),
    )
    .addOption(
      new Option("--robust <correction>", "correction of the cluster-robust errors")
        .choices(robustCorrections)
        .default("bias-reduced-satterthwaite"),
    )
    .option("--confidence <share>", "coverage of the intervals", numberOption("--confidence"), 0.95)
    .option("--profile", "also give profile-likelihood intervals of the variance parts")
    .option("--json", "print one JSON object")
    .action(async (path: string, options: Options) => {
      const file = await readInput(path);
      const ready = isReadyTable(file);
      const prepared = ready ? preparedReady(file, options) : preparedCodebook(file, options);
      const answers = prepared.groups.map((group) => {
        terminal.progress(`pooling ${group.name} (${group.effects.length} effects)`);
        return { group: group.name, result: pooledGroup(group, options, !ready) };
      });
      if (options.json === true) {
        const objects = answers.map(({ group, result }) => ({
          group,
          ...poolJson(result, prepared.warnings),
        }));
        const [only] = objects;
        // One group is printed as the object itself, so that a script reads `estimate` at the top.
        if (only !== undefined && objects.length === 1) {
          const { group, ...answer } = only;
          terminal.out(jsonText(group === notGrouped ? answer : only));
        } else terminal.out(jsonText({ groups: objects }));
        return;
      }
      terminal.out(
        pooledText(answers, {
          scale: prepared.set?.scale,
          warnings: prepared.warnings,
          width: terminal.width,
        }),
      );
    });
};
