/** Which effects may swap a moderator's values when the moderator does nothing. */
import type { SynthesisEffect } from "./synthesis-input.js";

/** Effects that carry one value together. */
export type ExchangeableUnit = Readonly<{ rows: readonly number[]; value: number | string }>;

export type ExchangeableGroup = Readonly<{
  kind: "studies" | "effects" | "effects inside studies";
  /** Units are exchanged inside each list. */
  units: readonly (readonly ExchangeableUnit[])[];
}>;

/**
 * Units that may be exchanged: whole studies when the moderator does not vary inside any, else effects:
 * all of them when rows are independent, inside their own study when they are not.
 *
 * Effects without the moderator's value take no part.
 *
 * @source Higgins and Thompson (2004) Statistics in Medicine 23:1663–1682; blocks: none, exchangeability
 */
export const exchangeableUnits = (
  effects: readonly SynthesisEffect[],
  moderator: string,
  kind: "pooled" | "multilevel",
): ExchangeableGroup => {
  const byStudy = new Map<string, ExchangeableUnit[]>();
  effects.forEach((effect, row) => {
    const value = effect.moderators?.[moderator];
    if (value === undefined) return;
    const list = byStudy.get(effect.study) ?? [];
    list.push({ rows: [row], value });
    byStudy.set(effect.study, list);
  });
  const studies = [...byStudy.values()];
  const constant = studies.every((units) => units.every((unit) => unit.value === units[0]!.value));
  if (constant) {
    return {
      kind: "studies",
      units: [
        studies.map((units) => ({
          rows: units.flatMap((unit) => unit.rows),
          value: units[0]!.value,
        })),
      ],
    };
  }
  if (kind === "pooled") return { kind: "effects", units: [studies.flat()] };
  return { kind: "effects inside studies", units: studies };
};
