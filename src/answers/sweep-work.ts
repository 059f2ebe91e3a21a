/** A file made ready for its sweep: the ways of averages and of verdicts, each asked once, by whoever has a hand free. */
import type { Way } from "../certainty/sweep.js";
import type { Evidence } from "./evidence.js";
import type { HeadlineGroup } from "./headline-selection.js";
import { outcomeGroups } from "./outcome-groups.js";
import type { Sharing, Tell } from "./question.js";
import { verdictWays, type VerdictWays } from "./swept-verdicts.js";
import { openedGroup, type OpenedGroup, type WaysAsked } from "./swept-ways.js";

/** What a sweep is asked with. */
export type SweepWorkAsked = WaysAsked &
  Readonly<{ outcome?: string | undefined; verdicts: boolean }>;

/** What is kept of a file for its sweep. */
export type SweepWork = Readonly<{
  evidence: Evidence;
  opened: (group: HeadlineGroup) => OpenedGroup;
  /** Every kind of outcome that is asked about. */
  groups: (options: SweepWorkAsked) => readonly OpenedGroup[];
  verdicts: (options: SweepWorkAsked, tell?: Tell) => VerdictWays;
}>;

const madeOnce = <Made>(kept: Map<string, Made>, key: string, make: () => Made): Made => {
  const made = kept.get(key) ?? make();
  kept.set(key, made);
  return made;
};

/** Nothing is asked yet. */
export const sweepWork = (evidence: Evidence, options: SweepWorkAsked): SweepWork => {
  const opened = new Map<string, OpenedGroup>();
  const groups = new Map<string, readonly OpenedGroup[]>();
  const verdicts = new Map<string, VerdictWays>();
  const open = (group: HeadlineGroup): OpenedGroup =>
    madeOnce(opened, group.id, () => openedGroup(evidence, group, options));
  return {
    evidence,
    opened: open,
    groups: (asked) =>
      madeOnce(groups, asked.outcome ?? "", () => outcomeGroups(evidence, asked).groups.map(open)),
    verdicts: (asked, tell = () => undefined) =>
      madeOnce(verdicts, asked.outcome ?? "", () =>
        verdictWays(evidence, outcomeGroups(evidence, asked).groups, asked, tell),
      ),
  };
};

/** Fewer ways than these are asked sooner than another thread has begun. */
const fewestShared = 100;
/** Ways in a piece: enough that handing it over costs nothing beside it. */
const waysInPiece = 5;

/** Some ways of the answer about a kind of outcome, or of the verdicts where none is named. */
type Piece = Readonly<{ group?: string; ways: readonly Way[] }>;

const cut = (ways: readonly Way[], size: number): readonly (readonly Way[])[] =>
  Array.from({ length: Math.ceil(ways.length / size) }, (_, piece) =>
    ways.slice(piece * size, (piece + 1) * size),
  );

const waysOf = (
  work: SweepWork,
  options: SweepWorkAsked,
  { group: id }: Piece,
): Readonly<{ at: (way: Way) => unknown; keep: (way: Way, result: never) => void }> => {
  return id === undefined
    ? work.verdicts(options)
    : work.groups(options).find(({ group }) => group.id === id)!.ways;
};

const sum = (numbers: readonly number[]): number => numbers.reduce((total, one) => total + one, 0);

/** Ways of averages are shared from a hundred on; those of verdicts always, as each is a whole table. */
export const sweepSharing: Sharing<SweepWorkAsked, SweepWork> = {
  pieces: (work, options): readonly Piece[] => {
    if (options.verdicts) return cut(work.verdicts(options).left(), 1).map((ways) => ({ ways }));
    const groups = work.groups(options);
    return sum(groups.map(({ open }) => open().count)) < fewestShared
      ? []
      : groups.flatMap(({ group, open }) =>
          cut(open().left, waysInPiece).map((ways) => ({ group: group.id, ways })),
        );
  },
  done: (work, options, piece: Piece) => {
    const { at } = waysOf(work, options, piece);
    return piece.ways.map(at);
  },
  keep: (work, options, piece: Piece, results: readonly never[]) => {
    const { keep } = waysOf(work, options, piece);
    for (const [place, way] of piece.ways.entries()) keep(way, results[place]!);
  },
  told: (work, options) => {
    if (options.verdicts) {
      const { asked, left } = work.verdicts(options);
      return `verdicts: ${asked()} of ${asked() + left().length} ways`;
    }
    const groups = work.groups(options);
    const all = groups.map(({ open }) => open());
    const count = sum(all.map((one) => one.count));
    const label = groups.length === 1 ? `${groups[0]!.group.label}: ` : "";
    return `${label}${count - sum(all.map(({ left }) => left.length))} of ${count} ways`;
  },
};
