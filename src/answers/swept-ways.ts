/** How an answer about one kind of outcome comes out in each way of analysing it; a way asked once is kept. */
import { crossedWays, type Way, type WayAnswer } from "../certainty/sweep.js";
import { doseAxes, type DoseAxisName } from "../dose/dose-axes.js";
import { variableEvidence } from "../dose/variable-table.js";
import type { EffectSet } from "../effects/effect.js";
import { isRefusal, refusal, type Refusal } from "../errors.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import { averageOf, type AverageOptions } from "./average.js";
import type { EffectChoices } from "./effect-options.js";
import type { Evidence } from "./evidence.js";
import type { HeadlineGroup } from "./headline-selection.js";
import {
  chosenWay,
  groupUnder,
  namesOf,
  sweptChoices,
  type ChoiceOfLevels,
} from "./swept-choices.js";

/** What every way is asked with, but for what it chooses otherwise. */
export type WaysAsked = Omit<
  AverageOptions,
  "moderators" | "references" | "permutations" | "profile"
> &
  EffectChoices &
  Readonly<{ on?: DoseAxisName | undefined; most: number }>;

/** What a way gives, as plain data. */
export type WayResult = WayAnswer | Refusal;

/** Ways of one answer. */
type SweptWays = Readonly<{
  /** Every choice behind the answer; a way takes a level of each. */
  all: readonly ChoiceOfLevels[];
  /** What a way gives; asked once. */
  at: (way: Way) => WayResult;
  isKnown: (way: Way) => boolean;
  /** Takes in what a way gave elsewhere. */
  keep: (way: Way, result: WayResult) => void;
}>;

const averageOptions = (options: WaysAsked): AverageOptions & EffectChoices => ({
  ...options,
  ...{ moderators: [], references: {}, permutations: 0, profile: false },
});

/** The change over the doses of a variable inside studies, of some effects. */
const changeOver = (
  set: EffectSet,
  group: HeadlineGroup,
  on: DoseAxisName,
  confidence: number,
): WayResult => {
  const [row] = variableEvidence(set, group.label, 1, { axes: [on], confidence });
  return (
    row?.within ??
    refusal("not-told", row?.missing.within ?? `no study compares ${doseAxes[on].label}`)
  );
};

/** The ways of the answer about a kind of outcome. */
const sweptWays = (evidence: Evidence, group: HeadlineGroup, options: WaysAsked): SweptWays => {
  const { on, confidence } = options;
  const asked = averageOptions(options);
  const all = sweptChoices(evidence, group, asked, on === undefined);
  const under = groupUnder(evidence, group.id);
  const found = (way: Way): WayResult => {
    const chosen = chosenWay(all, way, asked);
    const own = under(chosen.options);
    const set = own && chosen.setOf(own);
    if (own === undefined || set === undefined || set.effects.length === 0)
      return refusal("no-effects", "no effect is left");
    if (on !== undefined) return changeOver(set, own, on, confidence);
    const told = averageOf({ ...effectInputs(set), ready: false }, chosen.options);
    return told.kind === "refusal" ? told : told.result;
  };
  const known = new Map<string, WayResult>();
  return {
    all,
    at: (way) => {
      const key = way.join();
      const before = known.get(key);
      if (before !== undefined) return before;
      const own = found(way);
      const { low, high } = isRefusal(own) ? { low: 0, high: 0 } : own.interval;
      const result = isRefusal(own) ? own : { estimate: own.estimate, interval: { low, high } };
      known.set(key, result);
      return result;
    },
    isKnown: (way) => known.has(way.join()),
    keep: (way, result) => known.set(way.join(), result),
  };
};

/** The choices that are crossed with one another, those of them that leave an answer at two levels at least. */
type CrossedChoices = Readonly<{
  choices: readonly ChoiceOfLevels[];
  /** Levels that leave no answer by themselves: told, and not crossed. */
  without: readonly string[];
  /** What of all choices a way of these takes; of the others it takes what is shown. */
  whole: (way: Way) => Way;
}>;

/** What is crossed; every level is asked by itself for it. */
const crossedChoices = ({ all, at }: SweptWays): CrossedChoices => {
  const shown: Way = all.map(() => 0);
  const without: string[] = [];
  const kept = all.flatMap((choice, place) => {
    const levels = choice.levels.flatMap((_, level) => {
      const left = level === 0 || !isRefusal(at(shown.with(place, level)));
      if (!left) without.push(`${choice.name} ${choice.levels[level]!.level}`);
      return left ? [level] : [];
    });
    return levels.length < 2 ? [] : [{ place, levels }];
  });
  return {
    choices: kept.map(({ place, levels }) => ({
      name: all[place]!.name,
      levels: levels.map((level) => all[place]!.levels[level]!),
    })),
    without,
    whole: (way) =>
      kept.reduce<Way>(
        (whole, { place, levels }, index) => whole.with(place, levels[way[index]!]!),
        shown,
      ),
  };
};

const inOrder = (first: Way, second: Way): number => {
  const place = first.findIndex((level, index) => level !== second[index]);
  return place < 0 ? 0 : first[place]! - second[place]!;
};

/** A kind of outcome with its ways; what is crossed is looked for when it is first wanted. */
export type OpenedGroup = Readonly<{
  group: HeadlineGroup;
  ways: SweptWays;
  crossed: () => CrossedChoices;
  /** How many ways are asked, and those of them that are still to be, those of the same effects beside one another. */
  open: () => Readonly<{ count: number; left: readonly Way[] }>;
}>;

/** A kind of outcome opened for a sweep. */
export const openedGroup = (
  evidence: Evidence,
  group: HeadlineGroup,
  options: WaysAsked,
): OpenedGroup => {
  const ways = sweptWays(evidence, group, options);
  let kept: Readonly<{ crossed: CrossedChoices; asked: readonly Way[] }> | undefined;
  const made = () => {
    const crossed = crossedChoices(ways);
    const isNone = crossed.choices.length === 0 || isRefusal(ways.at(ways.all.map(() => 0)));
    const { ways: asked } = crossedWays(namesOf(crossed.choices), options);
    return { crossed, asked: isNone ? [] : asked.map(crossed.whole).sort(inOrder) };
  };
  return {
    group,
    ways,
    crossed: () => (kept ??= made()).crossed,
    open: () => {
      const { asked } = (kept ??= made());
      return { count: asked.length, left: asked.filter((way) => !ways.isKnown(way)) };
    },
  };
};
