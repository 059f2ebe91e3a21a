/** Refusals shared by the models of this room. */
import { CallError } from "../errors.js";
import type { SynthesisEffect } from "./synthesis-input.js";

/**
 * Nothing; refuses an empty list, an estimate that is not finite and a variance that is not above zero.
 * @throws {CallError} "no-effects", "not-finite", "not-positive"
 * @source none: a guard
 */
export const checkEffects = (effects: readonly SynthesisEffect[], where: string): void => {
  if (effects.length === 0) {
    throw new CallError({
      code: "no-effects",
      where,
      needs: "at least one effect with its variance",
      got: "none",
    });
  }
  for (const effect of effects) {
    if (!Number.isFinite(effect.estimate)) {
      throw new CallError({
        code: "not-finite",
        where,
        needs: "finite estimates",
        got: `${effect.estimate} for effect ${effect.effectId}`,
      });
    }
    if (!(effect.variance > 0) || effect.variance === Infinity) {
      throw new CallError({
        code: "not-positive",
        where,
        needs: "finite variances above zero",
        got: `${effect.variance} for effect ${effect.effectId}`,
      });
    }
  }
};

/**
 * Nothing; refuses a confidence outside (0, 1).
 * @throws {CallError} "not-a-confidence"
 * @source none: a guard
 */
export const checkConfidence = (confidence: number, where: string): void => {
  if (confidence > 0 && confidence < 1) return;
  throw new CallError({
    code: "not-a-confidence",
    where,
    needs: "a confidence between 0 and 1",
    got: String(confidence),
    ...(confidence > 1 && confidence < 100 ? { try: `did you mean ${confidence / 100}?` } : {}),
  });
};

/**
 * Nothing; refuses a choice that is not on the list.
 * @throws {CallError} "unknown-choice"
 * @source none: a guard
 */
export const checkChoice = (
  option: string,
  value: string,
  choices: readonly string[],
  where: string,
): void => {
  if (choices.includes(value)) return;
  throw new CallError({
    code: "unknown-choice",
    where,
    needs: `${option} among ${choices.join(", ")}`,
    got: `"${value}"`,
  });
};

/** Number of different studies, by their id text. */
export const studyCount = (effects: readonly SynthesisEffect[]): number =>
  new Set(effects.map((effect) => effect.study)).size;
