/** Which effects share a random intercept at each level, by the text of their ids alone. */
import type { Note } from "../errors.js";
import { groupsByText, type LevelGroups } from "./multilevel-blocks.js";
import type { MultilevelLevel } from "./multilevel-options.js";
import type { SynthesisEffect } from "./synthesis-input.js";

export type ResolvedLevels = Readonly<{
  /** Levels that are fitted, outermost first. */
  fitted: readonly LevelGroups[];
  notes: readonly Note[];
}>;

/**
 * The id of an effect at a level, as it stands; an effect without an arm is in its study's unnamed arm.
 * @source none: a reading
 */
export const levelId = (effect: SynthesisEffect, level: MultilevelLevel): string => {
  if (level === "study") return effect.study;
  if (level === "effect_id") return effect.effectId;
  return effect.arm ?? `unnamed arm of ${effect.study}`;
};

/**
 * The levels that can be told apart on these effects, and a note on each that cannot.
 *
 * A level with a single group says nothing about a variance between groups; two levels that group the
 * effects alike have one variance between them, which the outer one keeps.
 *
 * @source none: identifiability
 */
export const resolveLevels = (
  effects: readonly SynthesisEffect[],
  levels: readonly MultilevelLevel[],
): ResolvedLevels => {
  const notes: Note[] = [];
  const fitted: LevelGroups[] = [];
  for (const level of levels) {
    const groups = groupsByText(
      level,
      effects.map((effect) => levelId(effect, level)),
    );
    if (groups.groups === 1) {
      notes.push({
        code: "level-with-one-group",
        message: `all effects share one ${levelWords[level]}, so its variance cannot be estimated and is held at zero`,
      });
      continue;
    }
    const twin = fitted.find((other) => sameGrouping(other, groups));
    if (twin !== undefined) {
      notes.push({
        code: "levels-coincide",
        message: `${levelWords[level]} and ${levelWords[twin.level as MultilevelLevel]} group the effects alike: their variances cannot be told apart, and the whole stands at the level of the ${levelWords[twin.level as MultilevelLevel]}`,
      });
      continue;
    }
    fitted.push(groups);
  }
  if (levels.includes("arm")) {
    const unnamed = effects.filter((effect) => effect.arm === undefined).length;
    if (unnamed > 0) {
      notes.push({
        code: "unnamed-arms",
        message: `${unnamed} effects name no arm; each study's are taken as one unnamed arm`,
      });
    }
  }
  return { fitted, notes: [...notes, ...sharedIdNotes(effects, levels)] };
};

const levelWords = { study: "study", arm: "arm", effect_id: "effect id" } as const satisfies Record<
  MultilevelLevel,
  string
>;

/**
 * A note for each level below the study whose ids are used in two studies.
 * @param levels the levels looked at
 * @param fitted whether these levels have random intercepts, which such effects then share
 * @source none: a check
 */
export const sharedIdNotes = (
  effects: readonly SynthesisEffect[],
  levels: readonly MultilevelLevel[],
  fitted = true,
): readonly Note[] =>
  levels.flatMap((level) => {
    if (level === "study") return [];
    const studyOf = new Map<string, string>();
    const shared = new Set<string>();
    for (const effect of effects) {
      if (level === "arm" && effect.arm === undefined) continue;
      const id = levelId(effect, level);
      const study = studyOf.get(id);
      if (study === undefined) studyOf.set(id, effect.study);
      else if (study !== effect.study) shared.add(id);
    }
    if (shared.size === 0) return [];
    const ids = [...shared].sort();
    const shown =
      ids.length <= 8 ? ids.join(", ") : `${ids.slice(0, 8).join(", ")} and ${ids.length - 8} more`;
    const word = level === "arm" ? "arm" : "effect";
    const consequence = fitted
      ? `ids are taken as they stand, so these effects share one random intercept across studies: make the ids different if they are different ${word}s`
      : `this answer has no random intercepts by ${word}, so nothing is shared here; before a model with that level, make the ids different if they are different ${word}s`;
    return [
      {
        code: level === "arm" ? "arm-shared-between-studies" : "effect-id-shared-between-studies",
        message: `${word} ${ids.length === 1 ? "id" : "ids"} ${shown} ${ids.length === 1 ? "stands" : "stand"} in more than one study; ${consequence}`,
      },
    ];
  });

const sameGrouping = (a: LevelGroups, b: LevelGroups): boolean => {
  if (a.groups !== b.groups) return false;
  const match = new Int32Array(a.groups).fill(-1);
  for (let row = 0; row < a.groupOf.length; row++) {
    const group = a.groupOf[row]!;
    if (match[group] === -1) match[group] = b.groupOf[row]!;
    else if (match[group] !== b.groupOf[row]!) return false;
  }
  return true;
};
