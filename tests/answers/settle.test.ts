/**
 * What further trials decide, against brute force: every simulated future written as rows of a file, opened, made into
 * effects and pooled or compared by the ordinary question. Kind of evidence: the whole pipeline, future by future. All
 * futures: HOLDBOOK_SETTLE=300.
 */
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { effectsOf } from "../../src/answers/evidence.js";
import { headlineGroups } from "../../src/answers/headline-selection.js";
import { effectsOptionsOf, effectShape } from "../../src/answers/effect-options.js";
import { resolvedOptions } from "../../src/answers/option.js";
import {
  averageTarget,
  usualDesign,
  verdictTarget,
  type SettleTarget,
} from "../../src/answers/settle-targets.js";
import { settle } from "../../src/answers/settle.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { evidenceOf } from "./evidence-under-test.js";
import { expectPlain, fiveTrials } from "./last-yard.js";

const futures = Number(process.env["HOLDBOOK_SETTLE"] ?? 24);
const scale = "raw-mean-difference";
const options = resolvedOptions(effectShape, { scale });

type Arm = Readonly<{ estimate: number; variance: number; hold: number }>;
const header =
  "study,arm,arm_kind,n_end,muscle_group,hold_seconds,weeks,outcome,outcome_family,unit,statistic,change_mean,change_spread,spread_kind";
/** Rows whose effects are exactly these: the change and its variance, people times that squared. */
const rowsOf = (study: string, people: number, arms: readonly Arm[]): readonly string[] =>
  arms.map(
    ({ estimate, variance, hold }, place) =>
      `${study},arm ${place + 1},isometric,${people},knee extensors,${hold},8,peak isometric torque,strength,N·m,change with spread,${estimate},${Math.sqrt(variance * people)},standard deviation`,
  );

/** Five trials of 20 people an arm, in newton-metres: mean gains apart by trial, longer holds a little better. */
const base = (differences: readonly number[]): readonly string[] =>
  differences.flatMap((difference, trial) =>
    rowsOf(`Trial ${trial + 1}`, 20 + trial, [
      { estimate: 20 + 3 * trial, variance: 9 + trial, hold: 5 },
      { estimate: 20 + 3 * trial + difference, variance: 10 + trial, hold: 20 },
    ]),
  );

const groupOf = (rows: readonly string[]) => {
  const evidence = evidenceOf([header, ...rows].join("\n"));
  return headlineGroups(effectsOf(evidence, effectsOptionsOf(options)))[0]!;
};

/** The same futures decided by the simulation and by the whole pipeline. */
const bothWays = async (
  target: SettleTarget,
  rows: readonly string[],
  plan: Readonly<{ trials: number; people: number }>,
  asked: (rows: readonly string[]) => Promise<string | undefined>,
) => {
  const { truth, trialOf, draws, decide } = target.make(usualDesign);
  const stream = randomStream(11);
  const decided: (readonly [string | undefined, string | undefined])[] = [];
  for (let round = 0; round < futures; round += 1) {
    const { mean, variance } = truth(stream);
    const added = Array.from({ length: plan.trials }, () =>
      trialOf(
        mean + Math.sqrt(variance) * stream.normal(),
        Array.from({ length: draws }, () => stream.normal()),
        plan.people,
      ),
    );
    const written = added.flatMap(({ effects }, place) =>
      rowsOf(
        `Further ${place + 1}`,
        plan.people,
        effects.map(({ estimate, variance: error, dose }) => ({
          estimate,
          variance: error,
          hold: dose === 0 ? 5 : Math.exp(dose),
        })),
      ),
    );
    decided.push([decide(added), await asked([...rows, ...written])]);
  }
  return decided;
};

const averageBy = (amount: number) => async (rows: readonly string[]) => {
  const { data } = await ask("pool", { scale }, evidenceOf([header, ...rows].join("\n")));
  const [told] = data.groups;
  if (told === undefined || !("interval" in told)) return undefined;
  const { low, high } = told.interval;
  return low > amount ? "a gain that counts" : high < amount ? "no gain that counts" : undefined;
};

test("an average, two more trials of 10 people: every future is decided as the pooled answer decides it", async () => {
  const rows = base([2, 1, 3, 0, 2]);
  const amount = 22;
  const target = averageTarget(groupOf(rows).headline, { amount, confidence: 0.95 });
  expect(target.decided).toBe(await averageBy(amount)(rows));
  const decided = await bothWays(target, rows, { trials: 2, people: 10 }, averageBy(amount));
  for (const [simulated, brute] of decided) expect(simulated).toBe(brute);
  expect(new Set(decided.map(([one]) => one)).size).toBeGreaterThan(1);
});

test("the same with ten trials of 60", async () => {
  const rows = base([2, 1, 3, 0, 2]);
  const amount = 24;
  const target = averageTarget(groupOf(rows).headline, { amount, confidence: 0.95 });
  const decided = await bothWays(target, rows, { trials: 10, people: 60 }, averageBy(amount));
  for (const [simulated, brute] of decided) expect(simulated).toBe(brute);
});

test("a verdict on hold length, four more trials of 30 a group: decided as the table of variables decides it", async () => {
  const rows = base([6, -1, 4, 3, 0]);
  const amount = 4;
  const verdictBy = async (all: readonly string[]) => {
    const evidence = evidenceOf([header, ...all].join("\n"));
    const asked = { scale, amount, on: "hold-seconds" };
    const { data } = await ask("variables", asked, evidence);
    const { verdict, side } = data.rows[0]!.verdict;
    return verdict === "favoured"
      ? `${side} is favoured`
      : ["no difference that counts", "a difference, smaller than counts"].includes(verdict)
        ? verdict
        : undefined;
  };
  const target = verdictTarget(groupOf(rows).headline, "holdSeconds", {
    ...{ amount, confidence: 0.95, limbs: 0.5, others: [] },
  });
  expect(target).toMatchObject({ studies: 5, span: { low: 5, high: 20 } });
  const decided = await bothWays(target, rows, { trials: 4, people: 30 }, verdictBy);
  const unlike = decided.filter(([simulated, brute]) => simulated !== brute);
  // Whether a bend hides a difference is asked by the table alone, of what lies inside the amount.
  for (const [simulated, brute] of unlike) {
    expect(["no difference that counts", "a difference, smaller than counts"]).toContain(simulated);
    expect(brute).toBeUndefined();
  }
  expect(unlike.length / decided.length).toBeLessThan(0.1);
  expect(new Set(decided.map(([one]) => one)).size).toBeGreaterThan(1);
});

test("limbs of one person tell more than groups of as many people, and the answer is plain and seeded", async () => {
  const rows = base([6, -1, 4, 3, 0]);
  const file = evidenceOf([header, ...rows].join("\n"));
  const asked = { scale, amount: 4, on: "hold-seconds", simulations: 60 };
  const [first, again] = [await ask("settle", asked, file), await ask("settle", asked, file)];
  expectPlain(first, settle);
  expect(again.data.chances).toEqual(first.data.chances);
  expect(first.data.chances).toHaveLength(20);
  for (const { share, error } of first.data.chances)
    expect(error).toBeCloseTo(Math.sqrt((share * (1 - share)) / 60), 12);
  expect(first.data.designs).toHaveLength(10);
  expect(new Set(first.data.designs.map(({ people }) => people))).toEqual(new Set([150]));
  const chanceOf = (words: RegExp) =>
    first.data.designs.find(({ name }) => words.test(name))!.chance.share;
  expect(chanceOf(/^two limbs.*5 to 20 s, 16 weeks/)).toBeGreaterThanOrEqual(
    chanceOf(/^two groups.*5 to 20 s, 4 weeks/),
  );
  expect(first.data.proposal).toContain("seed 1");
  // What the futures rest on beside the file's own intervals.
  expect(first.sentences.join(" ")).toMatch(
    /The futures assume an error of one person's change of [\d.]+.*a spread between trials drawn from what these studies leave open/,
  );
});

test("what is decided already needs no trial", async () => {
  const answer = await ask(
    "settle",
    { on: "average", outcome: "strength", simulations: 20 },
    fiveTrials,
  );
  expect(answer.headline).toContain("decided already (a gain that counts)");
  expect(answer.data.refusal?.code).toBe("decided-already");
  expect(answer.data.chances).toEqual([]);
});
