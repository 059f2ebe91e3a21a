/** Statements about the course over weeks, about joint angles, and about how long a hold can be kept. */
import { fewestStatementStudies, sideOf } from "../certainty/statement-verdict.js";
import { enduranceTime } from "../endurance/endurance-time.js";
import { holdingModifier, holdingStudy } from "../endurance/fatigue-parameters.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { confidenceWords } from "../tables/number-format.js";
import { linesOf } from "./evidence.js";
import { jointAngleQuestion } from "./joint-angle.js";
import { askedOf } from "./prepared.js";
import { groundOf, type Asking, type Tested } from "./statement-ground.js";
import { time } from "./time.js";

const { average: needed, "head to head": headToHead } = fewestStatementStudies;
const percent = ({ low, high }: Interval): Interval => ({ low: 100 * low, high: 100 * high });
const everything: Interval = { low: -Infinity, high: Infinity };

/** Share of a later gain that is there at an earlier week. */
export const courseTested = (asking: Asking): Tested => {
  const { evidence, reading, options } = asking;
  const { from, to, outcome } = reading;
  const what = `share of the gain of week ${to!} that is there at week ${from!}`;
  const ground = groundOf({ ...asking, reading: { ...reading, unit: "%" } }, what, needed);
  if (!("group" in ground)) return ground;
  const { group, claimed } = ground;
  const at = (confidence: number) =>
    askedOf(time, evidence, {
      ...options,
      ...{ confidence, outcome, weeks: [from!], referenceWeek: to! },
    }).prepared.asked.find((one) => one.group.id === group.id)?.answer;
  const answer = at(options.confidence);
  const base = {
    ...{ about: `${group.label}, ${what}`, unit: "%", claimed, needed, trials: [] },
    studies: answer?.studies ?? 0,
    lines: answer === undefined ? [] : linesOf(group.all),
  };
  const share = answer?.shares[0];
  if (share === undefined)
    return {
      ...base,
      why:
        answer === undefined
          ? "no arm was measured more than once during training"
          : answer.timeConstant.kind === "refusal"
            ? answer.timeConstant.reason
            : "the earlier week does not lie before the later one",
    };
  const interval = (confidence: number): Interval => percent(at(confidence)!.shares[0]!.interval);
  return {
    ...base,
    estimate: 100 * share.share,
    interval,
    side: (confidence) => sideOf(interval(confidence), claimed),
  };
};

/**
 * Coverage by which a share left is judged: half of the error that is asked for. At the boundary of the claim the interval as
 * asked decided 7.1 ± 0.8% of 1000 invented files of 16 studies (8 studies: 5.5 ± 1.1% of 400), most of them against; by this
 * one 3.7 ± 0.7% of 680 are decided.
 */
const asAngle = (confidence: number): number => 1 - (1 - confidence) / 2;

/** Share of the gain at the trained angle that is left elsewhere, or whether one length carries over further. */
export const angleTested = (asking: Asking): Tested => {
  const { evidence, reading, options } = asking;
  const { from, outcome } = reading;
  const byLength = reading.compared === "muscleLength";
  const what = byLength
    ? "width of the carry-over after training at long length, as a multiple of that at short length"
    : `share of the gain at the trained angle that is left ${from!}° away`;
  const ground = groundOf({ ...asking, reading: { ...reading, unit: "%" } }, what, needed);
  if (!("group" in ground)) return ground;
  const { group } = ground;
  const claimed = !byLength
    ? ground.claimed
    : from === 1
      ? { low: -Infinity, high: 1 }
      : { low: 1, high: Infinity };
  const at = (confidence: number) =>
    askedOf(jointAngleQuestion, evidence, {
      ...options,
      ...{ confidence, outcome },
      ...(byLength ? {} : { degrees: [from!] }),
    }).prepared.asked.find((one) => one.group.id === group.id)?.answer;
  const answer = at(options.confidence);
  const lengths = answer?.lengths ?? [];
  const base = {
    ...{ about: `${group.label}, ${what}`, unit: byLength ? "" : "%", claimed, needed },
    studies: new Set(lengths.flatMap(({ points }) => points.map(({ study }) => study))).size,
    trials: [],
    lines: answer === undefined ? [] : linesOf(group.all),
  };
  if (answer === undefined)
    return { ...base, why: "no outcome was tested at two distances from a trained angle" };
  if (byLength) {
    const { longAgainstShort: told } = answer;
    if (told.kind === "refusal") return { ...base, why: told.reason };
    const interval = (confidence: number): Interval => {
      const own = at(confidence)!.longAgainstShort;
      return own.kind === "refusal" ? everything : own.widthRatio.interval;
    };
    return {
      ...base,
      estimate: told.widthRatio.estimate,
      interval,
      side: (confidence) => sideOf(interval(confidence), claimed),
    };
  }
  // Lengths trained at stand for themselves: the one with the most studies is asked, unless a condition names one.
  const [lead] = lengths
    .filter(({ left }) => left.length > 0)
    .sort((a, b) => b.studies - a.studies);
  if (lead === undefined) {
    const missing = lengths.flatMap(({ halfWidth }) =>
      halfWidth.kind === "told" ? [] : [halfWidth.reason],
    );
    return { ...base, why: missing[0] ?? "no share can be told" };
  }
  const interval = (confidence: number): Interval => {
    const own = at(confidence)?.lengths.find((one) => one.muscleLength === lead.muscleLength);
    return own?.left[0] === undefined ? everything : percent(own.left[0].interval);
  };
  return {
    ...base,
    about: `${base.about}, after training at ${lead.muscleLength === "not coded" ? "a length that is not coded" : `${lead.muscleLength} length`}`,
    studies: lead.studies,
    estimate: 100 * lead.left[0]!.share,
    interval,
    side: (confidence) => sideOf(interval(asAngle(confidence)), claimed),
    ...(sideOf(interval(options.confidence), claimed) !==
    sideOf(interval(asAngle(options.confidence)), claimed)
      ? {
          why: `a share left is judged by its ${confidenceWords(asAngle(options.confidence))} interval, as a width looks better known than it is`,
        }
      : {}),
  };
};

/** How long a hold can be kept: published endurance times, which no file of training changes. */
export const enduranceTested = ({ reading }: Asking): Tested => {
  const claimed = { low: reading.least ?? -Infinity, high: reading.most ?? Infinity };
  if (reading.compared === "action") {
    const { ratio, low, high } = holdingModifier();
    const interval = { low: 1 / high, high: 1 / low };
    return {
      about: "time that pushing can be kept up, as a multiple of holding",
      ...{ unit: "", claimed, estimate: 1 / ratio, interval: () => interval },
      ...{ studies: 1, needed: headToHead, lines: [] },
      why: `one published study compared them, in ${holdingStudy.participants} people at ${holdingStudy.intensityPercent}% of MVC`,
      trials: [
        { study: "Schaefer 2017", value: 1 / ratio, interval, side: sideOf(interval, claimed) },
      ],
    };
  }
  const { centralSeconds, lowSeconds, highSeconds } = enduranceTime(reading.from!, "general");
  const interval = { low: lowSeconds, high: highSeconds };
  return {
    about: `time one hold at ${reading.from!}% of MVC can be kept, by published endurance times of all joints and not by this file`,
    ...{ unit: "s", claimed, estimate: centralSeconds, interval: () => interval, isFixed: true },
    side: () => sideOf(interval, claimed),
    ...{ studies: needed, needed, trials: [], lines: [] },
  };
};
