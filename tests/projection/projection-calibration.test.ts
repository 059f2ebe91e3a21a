import { describe, expect, test } from "vitest";
import { demoTruthDefaults } from "../../src/demo/demo-truth.js";
import { impliedSpread, simulateEffects, type SimulatedEffects } from "../demo/simulate-effects.js";
import type { EffectSet } from "../../src/effects/effect.js";
import { normalProbability } from "../../src/numeric/normal.js";
import { randomStream, type RandomStream } from "../../src/numeric/random-stream.js";
import { mean } from "simple-statistics";
import { compareProtocols } from "../../src/projection/compare-protocols.js";
import { individualResponse } from "../../src/projection/individual-response.js";
import { prepareProjection } from "../../src/projection/prepare-projection.js";
import { projectProtocol } from "../../src/projection/project-protocol.js";
import { projectionPriors } from "../../src/projection/projection-priors.js";
import type { Range } from "../../src/projection/three-ranges.js";
import type { Prescription } from "../../src/protocol/prescription.js";
import { handMadeSet, sessionOf } from "../dose/hand-made-set.js";

// Against known truth over many simulated registers; the numbers found stand in the test's output.

const goal = "strength at the trained angle";
const truth = demoTruthDefaults;
const quadrature = { points: 6, tolerance: Infinity } as const;
const percent = (share: number): string => `${(100 * share).toFixed(1)}%`;
const say = (text: string): void => {
  process.stdout.write(`projection, simulated registers: ${text}\n`);
};

/** The simulated effects with rows; `effortOf` turns the simulated dose into an effort. */
const setOf = (simulated: SimulatedEffects, effortOf: (dose: number) => number): EffectSet =>
  handMadeSet(
    simulated.effects.map(({ study, arm, estimate, variance, moderators }) => ({
      study,
      arm,
      estimate,
      variance,
      row: sessionOf(4, 5, 6, effortOf(Number(moderators.dose))),
    })),
    simulated.covariances,
  );

const at = (intensityPercent: number): Prescription => ({
  sets: 4,
  repetitions: 5,
  holdSeconds: 6,
  intensityPercent,
  sessionsPerWeek: 3,
  weeks: 8,
});

describe("coverage of the three ranges", () => {
  const registers = 100;
  const spread = {
    trained: impliedSpread(truth, "strength", true).change,
    control: impliedSpread(truth, "strength", false).change,
  };
  /** Variance among so many people drawn from a spread. */
  const drawnVariance = (deviation: number, people: number, stream: RandomStream): number => {
    let squares = 0;
    for (let i = 1; i < people; i++) squares += (deviation * stream.normal()) ** 2;
    return squares / (people - 1);
  };
  const stream = randomStream(2024);
  const found = Array.from({ length: registers }, () => {
    const simulated = simulateEffects({ studies: 14, arms: [1, 3], effects: [1, 2] }, stream);
    const individual = individualResponse(
      Array.from({ length: 6 }, (_, i) => ({
        study: String(i),
        trained: [{ variance: drawnVariance(spread.trained, 12, stream), participants: 12 }],
        control: { variance: drawnVariance(spread.control, 12, stream), participants: 12 },
      })),
      projectionPriors(goal).individualScale,
    );
    const prepared = prepareProjection(
      setOf(simulated, () => 75),
      {
        goal,
        quadrature,
        individual,
        // a change holds two errors, and in the simulation everyday variation is the controls'
        measurementError: { deviation: spread.control / Math.SQRT2, source: "the simulation" },
      },
    );
    const projection = projectProtocol(prepared, at(75), { course: false });
    if (projection.kind !== "projection") throw new Error(projection.reason);
    const { varianceByLevel: levels } = simulated;
    const group = levels.study + levels.arm + levels.effectId;
    return {
      middle: simulated.effects[0]!.curveGain,
      ranges: projection.ranges,
      group: Math.sqrt(group),
      person: Math.sqrt(group + spread.trained ** 2),
    };
  });
  /** Probability that a normal draw around the truth lies in a range: exact, so that little noise is left. */
  const inside = ({ low, high }: Range, middle: number, deviation: number): number =>
    normalProbability((high - middle) / deviation) - normalProbability((low - middle) / deviation);

  test("the average over such studies", () => {
    const coverage = mean(
      found.map(({ middle, ranges: { average } }) =>
        average.low <= middle && middle <= average.high ? 1 : 0,
      ),
    );
    say(`average covers ${percent(coverage)} of ${registers} (stated 95%)`);
    expect(coverage).toBeGreaterThan(0.95 - 3 * Math.sqrt((0.95 * 0.05) / registers));
  });

  test("a new group", () => {
    const coverage = mean(
      found.map(({ middle, ranges, group }) => inside(ranges.newGroup, middle, group)),
    );
    say(`a new group lies inside with ${percent(coverage)} (stated 95%)`);
    expect(coverage).toBeGreaterThan(0.93);
    expect(coverage).toBeLessThan(0.985);
  });

  test("a single person", () => {
    const coverage = mean(
      found.map(({ middle, ranges, person }) => inside(ranges.person, middle, person)),
    );
    say(`a single person's measured change lies inside with ${percent(coverage)} (stated 95%)`);
    expect(coverage).toBeGreaterThan(0.935);
    expect(coverage).toBeLessThan(0.975);
  });

  test("ranges are not wider than they need be", () => {
    const needed = 2 * 1.959963984540054;
    const ratio = mean(
      found.map(({ ranges, person }) => (ranges.person.high - ranges.person.low) / person / needed),
    );
    say(`a person's range is ${ratio.toFixed(3)} times as wide as with everything known`);
    expect(ratio).toBeGreaterThan(0.95);
    expect(ratio).toBeLessThan(1.2);
  });
});

describe("calibration of the probability that one protocol is better", () => {
  // Slopes are drawn from the prior, so probabilities have to come true as often as they say.
  const registers = 120;
  const perDose = 0.05;
  const priors = { ...projectionPriors(goal), slopeDeviation: 0.6 };
  const stream = randomStream(77);
  const found = Array.from({ length: registers }, () => {
    const slope = priors.slopeDeviation * stream.normal();
    const context = priors.contextualDeviation * stream.normal();
    const simulated = simulateEffects(
      {
        studies: 12,
        arms: [1, 3],
        line: { within: slope * perDose, between: (slope + context) * perDose },
      },
      stream,
    );
    const prepared = prepareProjection(
      setOf(simulated, (dose) => 75 * Math.exp(perDose * dose)),
      { goal, quadrature, priors },
    );
    const compared = compareProtocols(prepared, [at(85), at(65)], { course: false });
    if (compared.kind !== "comparison") throw new Error(compared.reason);
    const [difference] = compared.differences;
    const real = slope * Math.log(85 / 65);
    return { difference: difference!, real };
  });

  test("stated probabilities add up to what happened", () => {
    const stated = found.map(({ difference }) => difference.probabilityFirstBetter);
    const happened = found.map(({ real }) => (real > 0 ? 1 : 0));
    const noise = Math.sqrt(stated.reduce((sum, p) => sum + p * (1 - p), 0));
    const gap = happened.reduce<number>((sum, hit, i) => sum + hit - stated[i]!, 0);
    say(`first better stated ${percent(mean(stated))}, happened ${percent(mean(happened))}`);
    expect(Math.abs(gap)).toBeLessThan(3 * noise);
  });

  test.each([
    [0.5, 0.75],
    [0.75, 0.95],
    [0.95, 1.0001],
  ])("the side favoured with %d to %d is right that often", (low, high) => {
    const chosen = found.flatMap(({ difference: { probabilityFirstBetter: p }, real }) => {
      const sure = Math.max(p, 1 - p);
      return sure >= low && sure < high ? [{ sure, hit: p > 0.5 === real > 0 ? 1 : 0 }] : [];
    });
    const sure = chosen.map((one) => one.sure);
    const noise = Math.sqrt(sure.reduce((sum, p) => sum + p * (1 - p), 0));
    const gap = chosen.reduce((sum, one) => sum + one.hit - one.sure, 0);
    say(
      `favoured with ${percent(mean(sure))}: right ${percent(mean(chosen.map((one) => one.hit)))} of ${chosen.length}`,
    );
    expect(chosen.length).toBeGreaterThan(10);
    expect(Math.abs(gap)).toBeLessThan(3 * noise + 1);
  });

  test("the difference's range holds the true difference", () => {
    const coverage = mean(
      found.map(({ difference: { average }, real }) =>
        average.low <= real && real <= average.high ? 1 : 0,
      ),
    );
    say(`the range of a difference covers ${percent(coverage)} of ${registers} (stated 95%)`);
    expect(Math.abs(coverage - 0.95)).toBeLessThan(3 * Math.sqrt((0.95 * 0.05) / registers));
  });

  test("what is called better is better, as often as the rule says", () => {
    const called = found.filter(({ difference }) => difference.verdict.call !== "tie");
    const right = called.filter(
      ({ difference, real }) => (difference.verdict.call === "first is better") === real > 0,
    );
    say(`called better ${called.length} times, rightly ${right.length} times`);
    expect(called.length).toBeGreaterThan(20);
    expect(right.length / called.length).toBeGreaterThan(0.9);
  });
});
