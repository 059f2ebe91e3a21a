/** The mean of each level of a category, from one model, and whether the means differ. */
import type { Note } from "../errors.js";
import { studyCount } from "./check-effects.js";
import { fittedMultilevel } from "./fitted-multilevel.js";
import { robustMethod } from "./headline-answer.js";
import { modelInference, predictionRange, unitContrast } from "./inference.js";
import { showsRobust } from "./inference-choices.js";
import { resolveMultilevel, type WorkingModelOptions } from "./multilevel-options.js";
import { fewFreedomNote, robustContrasts } from "./multilevel-robust.js";
import { multilevelStory } from "./story.js";
import type { SynthesisEffect } from "./synthesis-input.js";
import type { Coefficient, Interval, OmnibusTest, Story } from "./synthesis-results.js";

/** Below this many studies in a level its mean is shown and no difference is claimed. */
export const fewestStudiesToClaim = 4;

export type LevelMean = Readonly<{
  level: string;
  effects: number;
  studies: number;
  /** Null where the level has no error of its own: one study is no average. */
  mean: Coefficient | null;
  /** Where the true effect of a further study of this level would fall; null under three studies. */
  predictionInterval: Interval | null;
  /** True under four studies: too few to claim that this level differs from another. */
  tooFewToClaim: boolean;
}>;

/** The mean of each group of effects, and whether they differ. */
export type LevelMeans = Readonly<{
  moderator: string;
  /** By growing number where every level is one, else in text order. */
  levels: readonly LevelMean[];
  /** That the means of `compared` are all equal; null where the studies cannot test it. */
  difference: OmnibusTest | null;
  /** The levels the test compares. */
  compared: readonly string[];
  /** True where any level has under four studies: whatever p is, too few studies to claim. */
  tooFewToClaim: boolean;
  varianceByLevel: Readonly<Record<string, number>>;
  effects: number;
  studies: number;
  story: Story;
}>;

const where = "levelMeans";

/**
 * The mean of every level of a moderator from one multilevel model over all levels, with cluster-robust
 * intervals, and the small-sample test that the means are equal.
 *
 *   y = Σ_l μ_l · [level = l] + Σ u + e;  difference: F of μ_l − μ_reference = 0, all l that can be tested
 *
 * The variance between true effects is one for all levels, so that a level of few studies borrows it. Values
 * are categories here, also where they are numbers. A level of one study has no mean, and stays out of the
 * test. The model's own errors are used where they are asked for.
 *
 * @param effects those without a value of the moderator are set aside with a note
 * @param moderator its name among the effects' moderators
 * @param options as for fitMultilevel
 * @returns means, test, flags for too few studies, story
 * @throws {CallError} those of fitMultilevel, "one-level" where only one level is there
 * @throws {ConvergenceError} when the variance parts do not settle
 * @source Tipton and Pustejovsky (2015) Journal of Educational and Behavioral Statistics 40:604–634 (test); four
 *   studies: none, the house's limit
 */
export const levelMeans = (
  effects: readonly SynthesisEffect[],
  moderator: string,
  options: WorkingModelOptions = {},
): LevelMeans => {
  const rows = effects.map((effect) => categorical(effect, moderator));
  const counted = levelsOf(rows, moderator);
  const reference = [...counted].sort((a, b) => b.studies - a.studies)[0]?.level ?? "";
  const resolved = resolveMultilevel(
    rows,
    {
      ...options,
      moderators: [moderator],
      references: { [moderator]: reference },
    },
    where,
  );
  const fitted = fittedMultilevel(rows, resolved, where);
  const robust = showsRobust(resolved) ? robustContrasts(fitted, resolved) : undefined;
  const { fit, design } = fitted;
  const freedom =
    resolved.interval === "normal" ? Infinity : fitted.rows.length - design.matrix.columns;
  const inference = showsRobust(resolved)
    ? robust
    : modelInference(fit.coefficients, fit.covariance, freedom, resolved.confidence);
  const columnOf = (level: string) => design.columnNames.indexOf(`${moderator}: ${level}`);
  const spread = Object.values(fitted.varianceByLevel).reduce((sum, part) => sum + part, 0);
  const levels = counted.map((one): LevelMean => {
    const contrast = unitContrast(design.columnNames.length, 0);
    if (one.level !== reference) contrast[columnOf(one.level)] = 1;
    const mean = one.studies < 2 ? undefined : inference?.of(one.level, contrast);
    return {
      ...one,
      mean: mean ?? null,
      predictionInterval:
        mean === undefined || one.studies < 3
          ? null
          : predictionRange(mean, spread, resolved.predictionDegreesOfFreedom, resolved.confidence),
      tooFewToClaim: one.studies < fewestStudiesToClaim,
    };
  });
  const compared = levels.flatMap(({ level, mean }) => (mean === null ? [] : [level]));
  const columns = compared.flatMap((level) => (level === reference ? [] : [columnOf(level)]));
  const difference = columns.length === 0 ? null : (inference?.test(columns) ?? null);
  const story = multilevelStory({
    fitted,
    options: resolved,
    subject: `means by ${moderator} from one multilevel model`,
    predicted: levels.some(({ predictionInterval }) => predictionInterval !== null),
    notes: [
      ...(robust?.notes ?? []),
      ...fewFreedomNote(
        levels.flatMap(({ mean }) => mean ?? []),
        resolved,
      ),
      ...doubts(levels, difference),
    ],
  });
  return {
    moderator,
    levels,
    difference,
    compared,
    tooFewToClaim: levels.some((level) => level.tooFewToClaim),
    varianceByLevel: fitted.varianceByLevel,
    effects: fitted.rows.length,
    studies: studyCount(fitted.rows),
    story: {
      ...story,
      intervalMethod: showsRobust(resolved)
        ? robustMethod[resolved.robust]
        : `as asked for: ${story.intervalMethod}`,
      notes: story.notes.filter(({ code }) => code !== "reference-level"),
    },
  };
};

/** The effect with its level as text. */
const categorical = (effect: SynthesisEffect, moderator: string): SynthesisEffect => {
  const value = effect.moderators?.[moderator];
  if (typeof value !== "number" || !Number.isFinite(value)) return effect;
  return { ...effect, moderators: { ...effect.moderators, [moderator]: String(value) } };
};

const levelsOf = (
  rows: readonly SynthesisEffect[],
  moderator: string,
): readonly Readonly<{ level: string; effects: number; studies: number }>[] => {
  const byLevel = new Map<string, SynthesisEffect[]>();
  for (const row of rows) {
    const level = row.moderators?.[moderator];
    if (typeof level !== "string" || level === "") continue;
    byLevel.set(level, [...(byLevel.get(level) ?? []), row]);
  }
  const names = [...byLevel.keys()].sort();
  if (names.every((name) => Number.isFinite(Number(name)))) names.sort((a, b) => +a - +b);
  return names.map((level) => {
    const own = byLevel.get(level)!;
    return { level, effects: own.length, studies: studyCount(own) };
  });
};

const doubts = (levels: readonly LevelMean[], difference: OmnibusTest | null): readonly Note[] => {
  const named = (chosen: readonly LevelMean[]) =>
    chosen
      .map(({ level, studies }) => `${level} (${studies} ${studies === 1 ? "study" : "studies"})`)
      .join(", ");
  const few = levels.filter(({ tooFewToClaim }) => tooFewToClaim);
  const without = levels.filter(({ mean }) => mean === null);
  return [
    ...(few.length === 0
      ? []
      : [
          {
            code: "too-few-studies-to-claim" as const,
            message: `too few studies to claim a difference: ${named(few)}; at least ${fewestStudiesToClaim} studies in each group are needed`,
          },
        ]),
    ...(without.length === 0
      ? []
      : [
          {
            code: "level-without-mean" as const,
            message: `no mean and no part in the comparison: ${named(without)}; one study is no average, and shows nothing of how studies differ`,
          },
        ]),
    ...(difference === null
      ? [
          {
            code: "difference-not-tested" as const,
            message: "these studies cannot test whether the means differ",
          },
        ]
      : []),
  ];
};
