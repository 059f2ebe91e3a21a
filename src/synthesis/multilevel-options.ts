/** Options of the multilevel model, resolved once. */
import { CallError } from "../errors.js";
import type { LikelihoodKind } from "./block-likelihood.js";
import { checkChoice, checkConfidence, checkEffects } from "./check-effects.js";
import {
  multilevelIntervals,
  predictionFreedoms,
  robustCorrections,
  type AskedInference,
} from "./inference-choices.js";
import type { KnownCovariance, ModeratorTerm, SynthesisEffect } from "./synthesis-input.js";

export const multilevelLevels = ["study", "arm", "effect_id"] as const;
export type MultilevelLevel = (typeof multilevelLevels)[number];

export type MultilevelOptions = Readonly<{
  /** Levels with a random intercept, from the outermost in. */
  levels?: readonly MultilevelLevel[];
  heterogeneity?: LikelihoodKind;
  /**
   * Which interval is shown first (see headlineAnswer). The model's own is Student t with effects −
   * coefficients degrees of freedom, unless `normal`; a multilevel model has no single residual scale.
   */
  interval?: AskedInference["interval"];
  /** Correction of the cluster-robust errors, by study. */
  robust?: AskedInference["robust"];
  predictionDegreesOfFreedom?: AskedInference["predictionDegreesOfFreedom"];
  /** Sampling covariances of effects that share people or controls. */
  knownCovariances?: readonly KnownCovariance[];
  moderators?: readonly ModeratorTerm[];
  /** Reference level by categorical moderator; the first in text order where not given. */
  references?: Readonly<Record<string, string>>;
  /** Should profile-likelihood intervals of the variance parts be computed? */
  profileIntervals?: boolean;
  confidence?: number;
  maxIterations?: number;
}>;

/** The model a question puts its own moderator into. */
export type WorkingModelOptions = Omit<
  MultilevelOptions,
  "moderators" | "references" | "profileIntervals"
>;

export const multilevelDefaults = {
  levels: ["study", "effect_id"],
  heterogeneity: "restricted-maximum-likelihood",
  interval: "cluster-robust",
  robust: "bias-reduced-satterthwaite",
  predictionDegreesOfFreedom: "full",
  knownCovariances: [],
  moderators: [],
  references: {},
  profileIntervals: false,
  confidence: 0.95,
  maxIterations: 200,
} as const satisfies Required<MultilevelOptions>;

export type ResolvedMultilevelOptions = Required<MultilevelOptions>;

/**
 * Options with every field present, refused where they cannot be meant.
 * @throws {CallError} "bad-levels", "unknown-choice", "not-a-confidence", "arms-missing" and those of the effects
 * @source none: a guard
 */
export const resolveMultilevel = (
  effects: readonly SynthesisEffect[],
  options: MultilevelOptions,
  where: string,
): ResolvedMultilevelOptions => {
  const resolved: ResolvedMultilevelOptions = { ...multilevelDefaults, ...options };
  checkEffects(effects, where);
  checkConfidence(resolved.confidence, where);
  checkChoice(
    "heterogeneity",
    resolved.heterogeneity,
    ["restricted-maximum-likelihood", "maximum-likelihood"],
    where,
  );
  checkChoice("interval", resolved.interval, multilevelIntervals, where);
  checkChoice("robust", resolved.robust, robustCorrections, where);
  checkChoice(
    "predictionDegreesOfFreedom",
    resolved.predictionDegreesOfFreedom,
    predictionFreedoms,
    where,
  );
  const places = resolved.levels.map((level) => multilevelLevels.indexOf(level));
  const ordered = places.every((place, i) => place >= 0 && (i === 0 || places[i - 1]! < place));
  if (places.length === 0 || !ordered) {
    throw new CallError({
      code: "bad-levels",
      where,
      needs: `levels among ${multilevelLevels.join(", ")}, each once and in this order`,
      got: resolved.levels.join(", ") || "none",
    });
  }
  if (resolved.levels.includes("arm") && effects.every((effect) => effect.arm === undefined)) {
    throw new CallError({
      code: "arms-missing",
      where,
      needs: "arm ids when arm is one of the levels",
      got: "effects without any",
      try: "add an arm column or leave the level out",
    });
  }
  return resolved;
};
