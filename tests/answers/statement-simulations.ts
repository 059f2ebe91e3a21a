/** Invented files whose truth is known, asked one statement: at the boundary of its claim, clearly inside, clearly outside. */
import { ask } from "../../src/answers/ask.js";
import type { StatementVerdict } from "../../src/certainty/statement-verdict.js";
import { randomStream, type RandomStream } from "../../src/numeric/random-stream.js";
import { codebookText, evidenceOf } from "./evidence-under-test.js";

type Cells = Readonly<Record<string, string | number>>;
/** A true log ratio at what an arm did, and what its row says of that. */
type Arm = Readonly<{ gain: number; cells: Cells }>;

const correlation = 0.9;
/** Deviation between studies of the level, and between arms of a study, on the log scale. */
const apart = { studies: 0.06, arms: 0.03 };

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, one) => sum + one, 0) / values.length;
const deviationOf = (values: readonly number[]): number => {
  const middle = meanOf(values);
  return Math.sqrt(values.reduce((sum, one) => sum + (one - middle) ** 2, 0) / (values.length - 1));
};

/** A row as a paper would print it, of people drawn one by one. */
const rowOf = (
  study: string,
  arm: number,
  { gain, cells }: Arm,
  n: number,
  stream: RandomStream,
): Cells => {
  const people = Array.from({ length: n }, () => {
    const before = stream.normal();
    const after = correlation * before + Math.sqrt(1 - correlation ** 2) * stream.normal();
    return [100 + 15 * before, Math.exp(gain) * (100 + 15 * after)] as const;
  });
  const [pre, post] = [people.map(([one]) => one), people.map(([, other]) => other)];
  return {
    study,
    arm: `arm ${arm + 1}`,
    arm_kind: "isometric",
    n_end: n,
    weeks: 8,
    outcome: "peak isometric torque",
    outcome_family: "strength",
    test_mode: "isometric",
    unit: "N·m",
    statistic: "means at both times",
    spread_kind: "standard deviation",
    pre_post_correlation: correlation,
    pre_mean: meanOf(pre),
    pre_spread: deviationOf(pre),
    post_mean: meanOf(post),
    post_spread: deviationOf(post),
    ...cells,
  };
};

/** Studies of some arms each; every measurement of an arm shares its people's own level. */
const fileOf = (
  studies: number,
  armsOf: (stream: RandomStream) => readonly Arm[],
  seed: number,
) => {
  const stream = randomStream(seed);
  const rows = Array.from({ length: studies }, (_, place) => {
    const level = apart.studies * stream.normal();
    const n = 8 + Math.floor(14 * stream.uniform());
    return armsOf(stream).map((arm, index) =>
      rowOf(
        `Trial ${place + 1}`,
        index,
        { ...arm, gain: arm.gain + level + apart.arms * stream.normal() },
        n,
        stream,
      ),
    );
  });
  return evidenceOf(codebookText(rows.flat()));
};

/** A claim with files in which it is just true, clearly true and clearly false. */
export type ClaimCase = Readonly<{
  name: string;
  statement: Cells;
  /** Arms of one study where the truth lies at the boundary, inside, outside. */
  arms: Readonly<
    Record<"boundary" | "inside" | "outside", (stream: RandomStream) => readonly Arm[]>
  >;
}>;

const strength = { statement: "As it is taught.", outcome: "strength" };
const one = (gain: number) => (): readonly Arm[] => [{ gain, cells: {} }];
const percent = (value: number): number => Math.log1p(value / 100);
const counts = percent(5);

/** Two arms at the ends of a dose, as far apart as is asked. */
const two =
  (added: number, low: Cells, high: Cells, base = 0.15) =>
  (): readonly Arm[] => [
    { gain: base, cells: low },
    { gain: base + added, cells: high },
  ];
const holds = (added: number) =>
  two(
    added,
    { hold_seconds: 3, sets: 4, repetitions: 5 },
    { hold_seconds: 20, sets: 4, repetitions: 5 },
  );
const equal = (added: number) =>
  two(
    added,
    { hold_seconds: 3, sets: 4, repetitions: 10, intensity_percent: 70 },
    { hold_seconds: 30, sets: 4, repetitions: 1, intensity_percent: 70 },
  );
const moving = (added: number) => two(added, { arm_kind: "dynamic" }, { arm_kind: "isometric" });

const places = [30, 40, 50, 60, 70, 80, 90, 100] as const;
/** Three or four arms of a study at intensities drawn from eight. */
const along =
  (curve: (intensity: number) => number) =>
  (stream: RandomStream): readonly Arm[] => {
    const drawn = [...places].sort(() => stream.uniform() - 0.5).slice(0, 4);
    return drawn.map((intensity) => ({
      gain: curve(intensity),
      cells: { intensity_percent: intensity, hold_seconds: 5, sets: 4, repetitions: 5 },
    }));
  };
/** Nothing up to a corner, then a straight rise. */
const risesFrom = (corner: number, perPoint: number) => (at: number) =>
  perPoint * Math.max(0, at - corner);
const levelsAt = (corner: number, perPoint: number, base: number) => (at: number) =>
  base + perPoint * (Math.min(at, corner) - 30);
const peaksAt = (place: number, bend: number) => (at: number) => 0.25 - bend * (at - place) ** 2;

const measured =
  (what: string, values: readonly number[], gainAt: (value: number) => number) =>
  (stream: RandomStream): readonly Arm[] => {
    const shared = 0.8 + 0.4 * stream.uniform();
    return values.map((value) => ({
      gain: shared * gainAt(value),
      cells: {
        arm: "arm 1",
        [what]: value,
        ...(what === "week_measured"
          ? { weeks: 12 }
          : { training_angle_degrees: 60, muscle_length: "middle" }),
      },
    }));
  };
/** A course that reaches so much of week 12's gain in week 3; one half where e⁻³ᐟᵗ solves for it. */
const course = (constant: number) =>
  measured("week_measured", [3, 6, 12], (week) => 0.3 * -Math.expm1(-week / constant));
/** A bell of which a half is left so many degrees away. */
const bell = (width: number) =>
  measured(
    "test_angle_degrees",
    [60, 70, 80, 90, 100],
    (angle) => 0.3 * Math.exp(-Math.LN2 * ((angle - 60) / width) ** 2),
  );
/** The time constant at which share(3) / share(12) is a half: 1 − x = (1 − x⁴)/2 with x = e^(−3/t), found by halving. */
const halfConstant = (() => {
  let [low, high] = [1, 100];
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    const share = Math.expm1(-3 / middle) / Math.expm1(-12 / middle);
    if (share > 0.5) low = middle;
    else high = middle;
  }
  return low;
})();

const c = (
  name: string,
  statement: Cells,
  boundary: ClaimCase["arms"]["boundary"],
  inside: ClaimCase["arms"]["inside"],
  outside: ClaimCase["arms"]["outside"],
): ClaimCase => ({
  name,
  statement: { ...strength, ...statement },
  arms: { boundary, inside, outside },
});

const training = { compared: "training" };
const intensity = { compared: "intensity" };

/** Every kind of claim, with its boundary by its own definition. */
export const claimCases: readonly ClaimCase[] = [
  c("direction, before to after", { ...training, claim: "more" }, one(0), one(0.15), one(-0.15)),
  c(
    "amount",
    { ...training, claim: "amount", least: 10 },
    one(percent(10)),
    one(percent(25)),
    one(percent(-3)),
  ),
  c(
    "no difference, before to after",
    { ...training, claim: "no difference", most: 10 },
    one(percent(10)),
    one(0),
    one(percent(28)),
  ),
  c(
    "range, average at its end",
    { ...training, claim: "range", least: 5, most: 91 },
    one(percent(5)),
    one(percent(40)),
    one(percent(-12)),
  ),
  c(
    "direction of a dose",
    { compared: "hold length", claim: "more" },
    holds(0),
    holds(0.15),
    holds(-0.15),
  ),
  c(
    "no difference of a dose",
    { compared: "hold length", claim: "no difference" },
    holds(counts),
    holds(0),
    holds(0.18),
  ),
  c(
    "direction at equal tension",
    { compared: "hold length", equal: "tension time", claim: "more" },
    equal(0),
    equal(0.15),
    equal(-0.15),
  ),
  c(
    "isometric or dynamic",
    { compared: "isometric or dynamic", claim: "no difference" },
    moving(counts),
    moving(0),
    moving(0.18),
  ),
  c(
    "threshold",
    { ...intensity, claim: "threshold", from: 70 },
    along(risesFrom(50, counts / 20)),
    along(risesFrom(65, 0.008)),
    along(() => 0.2),
  ),
  c(
    "enough",
    { ...intensity, claim: "enough", from: 60 },
    along(levelsAt(100, counts / 40, 0.2)),
    along(levelsAt(50, 0.004, 0.2)),
    along(levelsAt(100, 0.004, 0.1)),
  ),
  c(
    "optimum",
    { ...intensity, claim: "optimum", from: 50, to: 80 },
    along(peaksAt(80, 0.0001)),
    along(peaksAt(65, 0.00025)),
    along((at) => 0.003 * at),
  ),
  c(
    "time course",
    { compared: "weeks", claim: "time course", from: 3, to: 12, least: 50 },
    course(halfConstant),
    course(2),
    course(60),
  ),
  c(
    "joint angle",
    { compared: "joint angle", claim: "joint angle", from: 20, most: 50 },
    bell(20),
    bell(10),
    bell(60),
  ),
];

export type VerdictTally = Readonly<{ files: number }> &
  Readonly<Partial<Record<StatementVerdict, number>>>;

/** The verdicts on files of one truth. */
export const tallyOf = async (
  { name, statement, arms }: ClaimCase,
  truth: keyof ClaimCase["arms"],
  studies: number,
  files: number,
): Promise<VerdictTally> => {
  // Files of their own for every cell, so that its share is one more observation.
  const seed = 10 * claimCases.findIndex((own) => own.name === name) + studies / 100;
  const tally: Partial<Record<StatementVerdict, number>> = {};
  for (let file = 0; file < files; file++) {
    const evidence = fileOf(studies, arms[truth], Math.round(100_000 * seed) + file);
    const { data } = await ask("statements", { statements: [statement] }, evidence);
    const { verdict } = data.statements[0]!;
    tally[verdict!] = (tally[verdict!] ?? 0) + 1;
  }
  return { files, ...tally };
};
