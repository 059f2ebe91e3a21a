import { Option, type Command } from "commander";
import { CallError } from "../errors.js";
import { fitMultilevel } from "../synthesis/fit-multilevel.js";
import {
  heterogeneityEstimators,
  type HeterogeneityName,
} from "../synthesis/heterogeneity/estimators.js";
import { robustCorrections } from "../synthesis/inference-choices.js";
import { multilevelLevels, type MultilevelLevel } from "../synthesis/multilevel-options.js";
import {
  poolDefaults,
  poolEffects,
  pooledIntervals,
  pooledModels,
} from "../synthesis/pool-effects.js";
import type { ModeratorTerm } from "../synthesis/synthesis-input.js";
import type { MultilevelResult, PooledResult } from "../synthesis/synthesis-results.js";
import {
  numberOption,
  optionsThatMakeEffects,
  withAnalysisOptions,
  type AnalysisCommandOptions,
} from "./analysis-options.js";
import type { CommandRegistration } from "./commands.js";
import { jsonText } from "./json-text.js";
import { poolJson } from "./pool-json.js";
import { pooledText } from "./pooled-text.js";
import { notGrouped, poolInput, type PoolGroup } from "./pool-input.js";
import { readInput } from "./read-input.js";

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

/** One group pooled: one level unless several are asked for or the effects are known to be dependent. */
const pooledGroup = (
  group: PoolGroup,
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
  if (heterogeneity !== "restricted-maximum-likelihood" && heterogeneity !== "maximum-likelihood")
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
    interval: interval === "hartung-knapp" ? "cluster-robust" : interval,
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
      .argument(
        "<file>",
        "codebook table, or ready effects: study, effect, variance (or standard_error)",
      ),
  )
    .option("--by <column>", "one answer for each value of this column")
    .option(
      "--levels <levels>",
      `random intercepts, among ${multilevelLevels.join(",")} (codebook tables: all three; ready effects: each row its own)`,
    )
    .option(
      "--moderators <columns>",
      "explain differences by these, e.g. weeks,measure or weeks by measure",
    )
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
    .action(async (path: string, options: Options, command: Command) => {
      const file = await readInput(path);
      const input = poolInput(file, {
        ...options,
        moderators: moderatorTerms(options.moderators),
        levels: levelsOf(options.levels) ?? [],
      });
      const fromCodebook = input.set !== undefined;
      const idle = fromCodebook ? [] : optionsThatMakeEffects(command);
      const prepared = {
        ...input,
        warnings: [
          ...idle.map(
            (name) => `${name} changes nothing here: the effects of this table are ready made`,
          ),
          ...input.warnings,
        ],
      };
      const answers = prepared.groups.map((group) => {
        terminal.progress(`pooling ${group.name} (${group.effects.length} effects)`);
        return { group: group.name, result: pooledGroup(group, options, fromCodebook) };
      });
      if (options.json === true) {
        const objects = answers.map(({ group, result }) => ({
          group,
          ...poolJson(result, prepared.warnings),
        }));
        const [only] = objects;
        // One group is the object itself, so that a script reads `estimate` at the top; asked for by
        // a column, groups are a list however many there are.
        if (only !== undefined && objects.length === 1 && options.by === undefined) {
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
