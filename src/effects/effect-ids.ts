import type { OutcomeRow } from "../records/outcome-row.js";

type Contrasted = Readonly<{ treated: OutcomeRow; comparator?: OutcomeRow }>;

const nameOf = ({ treated, comparator }: Contrasted): string =>
  [
    treated.study,
    comparator === undefined ? treated.arm : `${treated.arm} against ${comparator.arm}`,
    treated.outcome,
    treated.testAngleDegrees === undefined ? undefined : `${treated.testAngleDegrees}°`,
    treated.testSitePercent === undefined ? undefined : `site ${treated.testSitePercent}%`,
    treated.testSide === "untrained" ? "untrained side" : undefined,
    treated.weekMeasured === undefined ? undefined : `week ${treated.weekMeasured}`,
  ]
    .filter((part) => part !== undefined)
    .join(" · ");

/**
 * An id for each effect that a person can read and the order of the rows cannot change: study, arms,
 * outcome and test; the line is added where that is not unique.
 *
 * @source none: convention of this project
 */
export const effectIds = (effects: readonly Contrasted[]): readonly string[] => {
  const names = effects.map(nameOf);
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return names.map((name, index) =>
    (counts.get(name) ?? 0) > 1 ? `${name} · line ${effects[index]?.treated.line ?? 0}` : name,
  );
};
