/** The way from a start to a target, one change a week, within the rules. Longer than most: rules are read together. */
import { nearMaximalAbovePercent } from "../protocol/derived-quantities.js";
import type { AngleWay, RampLevel, RampRule, Work } from "./ramp-start.js";

const rounding = 1e-9;

/** What can change from one week to the next: exactly one of these, or nothing. */
export const rampVariables = [
  "sets",
  "repetitions",
  "hold length",
  "sessions a week",
  "intensity",
  "at long length",
  "muscle length",
  "intent",
] as const;
export type RampVariable = (typeof rampVariables)[number];

/** A level on the way, and what was changed to come to it; the first has no change. */
export type RampStage = Readonly<{ level: RampLevel; changed?: RampVariable }>;

/** Sessions a week taken where none are said, for torque–time and for turns. */
const turns = (sessions: number | undefined): number => sessions ?? 2;

const torqueTime = ({ sets, repetitions, holdSeconds, effortPercent }: Work): number =>
  sets * repetitions * holdSeconds * effortPercent;

/** Sessions of a week near the middle of the range beside those at long length. */
export const mainSessions = ({ sessionsPerWeek, long }: RampLevel): number => {
  const all = turns(sessionsPerWeek);
  // With fewer than two sessions a week there is none to take turns with: both stand in one visit.
  return long === undefined || all < 2 ? all : all - long.sessions;
};

/** Torque–time of a week, percent of MVC times seconds. */
export const weeklyTorqueTime = (level: RampLevel): number =>
  mainSessions(level) * torqueTime(level.main) +
  (level.long === undefined ? 0 : level.long.sessions * torqueTime(level.long));

/** Holds below this are not shortened to make room for one more; the intensity gives way. */
const shortestMadeShorter = 6;
/** Largest step at long length above near-maximal, points of MVC. Chosen here, no source. */
const nearMaximalStep = 5;

/**
 * Work a little further on than `now`, nearest the largest step first: more and longer holds where room for them can be
 * made, else more intensity. Room is never made below `lowest`, the intensity it all began with: lighter holds than a
 * person does already would be no working up.
 */
const further = (
  now: Work,
  goal: Work,
  rule: RampRule,
  lowest: number,
): readonly (readonly [RampVariable, Work])[] => {
  const eased = (
    variable: RampVariable,
    next: Work,
    shorter: boolean,
  ): readonly (readonly [RampVariable, Work])[] => {
    const list: (readonly [RampVariable, Work])[] = [[variable, next]];
    if (shorter && next.holdSeconds >= shortestMadeShorter)
      for (let hold = Math.ceil(next.holdSeconds) - 1; hold >= next.holdSeconds / 2; hold -= 1)
        list.push([variable, { ...next, holdSeconds: hold }]);
    else
      for (
        let effort = Math.ceil(next.effortPercent) - 1;
        effort >= Math.max(lowest, next.effortPercent / 2);
        effort -= 1
      )
        list.push([variable, { ...next, effortPercent: effort }]);
    return list;
  };
  if (now.repetitions < goal.repetitions)
    return [
      ...eased("repetitions", { ...now, repetitions: now.repetitions + 1 }, true),
      ...harder(now, goal, rule),
    ];
  if (now.sets < goal.sets)
    return [...eased("sets", { ...now, sets: now.sets + 1 }, true), ...harder(now, goal, rule)];
  const grain = now.holdSeconds < 7 ? 0.5 : 1;
  const holds: (readonly [RampVariable, Work])[] = [];
  const most = Math.min(goal.holdSeconds, now.holdSeconds + Math.max(grain, 5));
  if (now.holdSeconds < goal.holdSeconds - rounding) {
    for (
      let hold = most;
      hold > now.holdSeconds + rounding;
      hold = Math.ceil(hold / grain - 1 - rounding) * grain
    )
      holds.push(["hold length", { ...now, holdSeconds: hold }]);
    const least = Math.min(goal.holdSeconds, now.holdSeconds + grain);
    return [
      ...holds,
      ...eased("hold length", { ...now, holdSeconds: least }, false),
      ...harder(now, goal, rule),
    ];
  }
  return harder(now, goal, rule);
};

/** More intensity, the largest step first. */
const harder = (
  now: Work,
  goal: Work,
  rule: RampRule,
): readonly (readonly [RampVariable, Work])[] => {
  const efforts: (readonly [RampVariable, Work])[] = [];
  const top = Math.min(goal.effortPercent, now.effortPercent + rule.largestEffortStepPercent);
  for (
    let effort = top;
    effort > now.effortPercent + rounding;
    effort = Math.ceil(effort - 1 - rounding)
  )
    efforts.push(["intensity", { ...now, effortPercent: effort }]);
  return efforts;
};

const sameWork = (a: Work, b: Work): boolean =>
  a.sets === b.sets &&
  a.repetitions === b.repetitions &&
  Math.abs(a.holdSeconds - b.holdSeconds) < rounding &&
  Math.abs(a.effortPercent - b.effortPercent) < rounding;

/** The first sessions at long length: half the intensity and half the holds, or one hold half as long. */
const begun = (level: RampLevel): readonly RampStage[] => {
  const { main, sessionsPerWeek } = level;
  const { sets, repetitions } = main;
  const single = sets * repetitions === 1;
  const half = (count: number): number => Math.max(1, Math.floor(count / 2));
  const longest = single ? main.holdSeconds / 2 : main.holdSeconds;
  const all = turns(sessionsPerWeek);
  const lengths = Array.from(
    { length: Math.max(1, Math.floor(longest)) },
    (_, less) => longest - less,
  );
  // Where it stands in one visit with the other, half of each can be too much; then it begins lighter still.
  return [2, 4, 8].flatMap((share) =>
    lengths.map((holdSeconds) => ({
      changed: "at long length" as const,
      level: {
        ...level,
        long: {
          sets: sets > 1 ? half(sets) : 1,
          repetitions: sets > 1 ? repetitions : half(repetitions),
          holdSeconds,
          effortPercent: Math.max(1, Math.floor(main.effortPercent / share)),
          sessions: all < 2 ? all : Math.floor(all / 2),
          step: 1,
        },
      },
    })),
  );
};

/** What can come next at long length: a step of the angle first, then work, then one more of the week's sessions. */
const longMoves = (
  level: RampLevel,
  goal: RampLevel,
  rule: RampRule,
  way: AngleWay,
  settledEffort: number,
  lowest: number,
): readonly RampStage[] => {
  const { long, main, sessionsPerWeek } = level;
  if (long === undefined) return [];
  const at = (change: Partial<NonNullable<RampLevel["long"]>>): RampStage => ({
    changed: "at long length",
    level: { ...level, long: { ...long, ...change } },
  });
  if (long.step < way.steps) return [at({ step: long.step + 1 })];
  if (sameWork(long, goal.main)) {
    const { sessions, step: _step, ...work } = long;
    const all = turns(sessionsPerWeek);
    const { long: _long, ...rest } = level;
    return sessionsPerWeek === undefined || all < 2 || sessions + 1 >= all
      ? [{ changed: "muscle length", level: { ...rest, main: work, atTargetLength: true } }]
      : [at({ sessions: sessions + 1 })];
  }
  // Never ahead of the sessions near the middle of the range, and in intensity two weeks behind them.
  const ceiling = { ...main, effortPercent: Math.min(main.effortPercent, settledEffort) };
  const calm = {
    ...rule,
    largestEffortStepPercent:
      long.effortPercent + rule.largestEffortStepPercent > nearMaximalAbovePercent
        ? Math.max(
            nearMaximalStep,
            Math.min(rule.largestEffortStepPercent, nearMaximalAbovePercent - long.effortPercent),
          )
        : rule.largestEffortStepPercent,
  };
  return further(long, ceiling, calm, lowest).map(([, work]) => at(work));
};

export type RampPath = Readonly<{
  stages: readonly RampStage[];
  /** Whether the last stage is the target. */
  arrived: boolean;
}>;

/** No way is looked for beyond this many weeks. */
const longestWay = 208;

/**
 * The stages from a start to a target, as few as the rules allow.
 *
 * Each changes one thing: nothing rises by more than the rule in a week's torque–time, and angle and intensity never
 * together, because each is a change of its own. Long muscle length begins in the second week, light and short, and takes
 * turns with the middle of the range; more holds and longer ones come before more intensity.
 *
 * @param finished whether most people finish every session of a level
 * @source none: common practice for the order, chosen here for the sizes
 */
export const rampPath = (
  start: RampLevel,
  goal: RampLevel,
  rule: RampRule,
  way: AngleWay,
  finished: (level: RampLevel) => boolean,
): RampPath => {
  const stages: RampStage[] = [{ level: start }];
  const lowest = Math.floor(start.main.effortPercent);
  const isThere = ({
    main,
    sessionsPerWeek,
    atTargetLength,
    withTargetIntent,
  }: RampLevel): boolean =>
    atTargetLength &&
    withTargetIntent &&
    sessionsPerWeek === goal.sessionsPerWeek &&
    sameWork(main, goal.main);
  while (stages.length < longestWay) {
    const { level } = stages.at(-1)!;
    if (isThere(level)) return { stages, arrived: true };
    const most = weeklyTorqueTime(level) * (1 + rule.largestWeeklyRise) + rounding;
    const fits = (next: RampStage): boolean =>
      weeklyTorqueTime(next.level) <= most && finished(next.level);
    const { main, sessionsPerWeek, long } = level;
    const sessionsTo = goal.sessionsPerWeek;
    const more: readonly RampStage[] =
      sessionsPerWeek === undefined || sessionsTo === undefined || sessionsPerWeek >= sessionsTo
        ? []
        : Array.from(
            { length: Math.max(1, Math.ceil(main.effortPercent) - lowest + 1) },
            (_, less) => ({
              changed: "sessions a week" as const,
              level: {
                ...level,
                sessionsPerWeek: Math.min(sessionsTo, sessionsPerWeek + 1),
                main: { ...main, effortPercent: Math.ceil(main.effortPercent) - less },
              },
            }),
          );
    const mainMoves: readonly RampStage[] = [
      ...more,
      ...further(main, goal.main, rule, lowest).map(([changed, work]) => ({
        changed,
        level: { ...level, main: work },
      })),
    ];
    const settled = stages.at(-2)?.level.main.effortPercent ?? 0;
    const longOnes =
      !level.atTargetLength && long === undefined
        ? begun(level)
        : longMoves(level, goal, rule, way, settled, Math.floor(lowest / 2));
    const intent: readonly RampStage[] =
      level.withTargetIntent || mainMoves.length > 0 || longOnes.length > 0
        ? []
        : [{ changed: "intent", level: { ...level, withTargetIntent: true } }];
    // The two kinds of session take turns in being taken further.
    const isLongsTurn = long === undefined || stages.length % 2 === 1;
    const next = (isLongsTurn ? [...longOnes, ...mainMoves] : [...mainMoves, ...longOnes])
      .concat(intent)
      .find(fits);
    if (next === undefined) break;
    stages.push(next);
  }
  return { stages, arrived: false };
};

/** A stage for each week: those given beyond the fewest let stages last longer, from the first on. */
export const weeklyStages = (stages: readonly RampStage[], weeks: number): readonly RampStage[] => {
  const spare = Math.max(0, weeks - stages.length);
  const each = Math.floor(spare / stages.length);
  const first = spare % stages.length;
  return stages
    .flatMap((stage, index): readonly RampStage[] => [
      stage,
      ...Array.from({ length: each + (index < first ? 1 : 0) }, () => ({ level: stage.level })),
    ])
    .slice(0, weeks);
};
