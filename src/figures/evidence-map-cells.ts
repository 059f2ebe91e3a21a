import { CallError } from "../errors.js";

/** One arm measured in one outcome family. */
export type MappedArm = Readonly<{
  study: string;
  arm: string;
  outcomeFamily: string;
  /** Percent of the maximum; left out where the source does not state it. */
  intensityPercent?: number | undefined;
  holdSeconds?: number | undefined;
  participants?: number | undefined;
}>;

/** Values from `from` up to, but not including, `to`. */
export type EvidenceBand = Readonly<{ label: string; from: number; to: number }>;

export type EvidenceBands = Readonly<{
  intensityPercent: readonly EvidenceBand[];
  holdSeconds: readonly EvidenceBand[];
}>;

/** Bands that part common prescriptions; a value on a boundary counts in the higher band. */
export const evidenceBandDefaults: EvidenceBands = {
  intensityPercent: [
    { label: "under 40%", from: 0, to: 40 },
    { label: "40 to 60%", from: 40, to: 60 },
    { label: "60 to 80%", from: 60, to: 80 },
    { label: "80 to 95%", from: 80, to: 95 },
    { label: "95% and over", from: 95, to: Infinity },
  ],
  holdSeconds: [
    { label: "under 3", from: 0, to: 3 },
    { label: "3 to 6", from: 3, to: 6 },
    { label: "6 to 15", from: 6, to: 15 },
    { label: "15 to 30", from: 15, to: 30 },
    { label: "30 to 60", from: 30, to: 60 },
    { label: "60 +", from: 60, to: Infinity },
  ],
};

export type EvidenceCounts = Readonly<{
  studies: number;
  arms: number;
  /** People in the arms that state them. */
  people: number;
  armsWithoutPeople: number;
}>;

export type EvidenceCell = EvidenceCounts &
  Readonly<{ outcomeFamily: string; effort: string; hold: string }>;

export type EvidenceMap = Readonly<{
  families: readonly string[];
  efforts: readonly string[];
  holds: readonly string[];
  /** Every combination of family, effort and hold, the empty ones too. */
  cells: readonly EvidenceCell[];
  /** The whole of each family, each arm and person once. */
  totals: readonly (EvidenceCounts & Readonly<{ outcomeFamily: string }>)[];
}>;

export const notStated = "not stated";

const bandOf = (
  value: number | undefined,
  bands: readonly EvidenceBand[],
  name: string,
): string => {
  if (value === undefined) return notStated;
  const band = bands.find(({ from, to }) => value >= from && value < to);
  if (band !== undefined) return band.label;
  throw new CallError({
    code: "outside-bands",
    where: "evidenceMapCells",
    needs: `bands that hold every ${name}`,
    got: String(value),
    try: "give bands from 0 to Infinity, or set the row aside",
  });
};

const counted = (arms: readonly MappedArm[]): EvidenceCounts => {
  const peopleOf = new Map<string, number | undefined>();
  for (const { study, arm, participants } of arms) {
    const key = JSON.stringify([study, arm]);
    const known = peopleOf.get(key);
    peopleOf.set(key, known === undefined ? participants : Math.max(known, participants ?? known));
  }
  const people = [...peopleOf.values()];
  return {
    studies: new Set(arms.map(({ study }) => study)).size,
    arms: peopleOf.size,
    people: people.reduce<number>((sum, each) => sum + (each ?? 0), 0),
    armsWithoutPeople: people.filter((each) => each === undefined).length,
  };
};

/**
 * How much evidence there is for each combination of effort and hold length, by outcome family.
 *
 * Each arm counts once in a cell however many rows it has there; its people are the most that any of
 * those rows states. Combinations nobody studied are listed with zeros, since they are the point of the
 * map. Arms that do not state effort or hold stand in bands of their own.
 *
 * @param arms  one entry for each arm and outcome, repeats allowed
 * @throws {CallError} "outside-bands" when a value lies in no band, NaN included
 */
export const evidenceMapCells = (
  arms: readonly MappedArm[],
  bands: EvidenceBands = evidenceBandDefaults,
): EvidenceMap => {
  const groups = new Map<string, MappedArm[]>();
  const keyOf = (family: string, effort: string, hold: string) =>
    JSON.stringify([family, effort, hold]);
  const seen = { effort: new Set<string>(), hold: new Set<string>() };
  for (const arm of arms) {
    const effort = bandOf(arm.intensityPercent, bands.intensityPercent, "effort");
    const hold = bandOf(arm.holdSeconds, bands.holdSeconds, "hold length");
    seen.effort.add(effort);
    seen.hold.add(hold);
    const key = keyOf(arm.outcomeFamily, effort, hold);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [arm]);
    else group.push(arm);
  }
  const families = [...new Set(arms.map(({ outcomeFamily }) => outcomeFamily))];
  const labels = (of: readonly EvidenceBand[], stated: ReadonlySet<string>) => [
    ...of.map(({ label }) => label),
    ...(stated.has(notStated) ? [notStated] : []),
  ];
  const efforts = labels(bands.intensityPercent, seen.effort);
  const holds = labels(bands.holdSeconds, seen.hold);
  return {
    families,
    efforts,
    holds,
    cells: families.flatMap((outcomeFamily) =>
      efforts.flatMap((effort) =>
        holds.map((hold) => ({
          outcomeFamily,
          effort,
          hold,
          ...counted(groups.get(keyOf(outcomeFamily, effort, hold)) ?? []),
        })),
      ),
    ),
    totals: families.map((outcomeFamily) => ({
      outcomeFamily,
      ...counted(arms.filter((arm) => arm.outcomeFamily === outcomeFamily)),
    })),
  };
};
