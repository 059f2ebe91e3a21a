/** What stands beside every headline, as printed and as data: against other questions, and brute force. */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { averagePrior, averageWithPrior } from "../../src/answers/average-with-prior.js";
import type { HeadlineLines } from "../../src/answers/headline-lines.js";
import { codebookText, evidenceOf, outcomeRow, shippedEvidence } from "./evidence-under-test.js";
import { percent } from "./last-yard.js";

type Range = Readonly<{ low: number; high: number }>;

/** What is read here of a group in an answer's data. */
type Told = Readonly<{
  id: string;
  estimate: number;
  interval: Range;
  betweenVariance: number;
  beside: HeadlineLines | null;
  movesMost?: string | null;
  leftOut: readonly Readonly<{ name: string; answer: Readonly<{ estimate: number }> | null }>[];
  slope: Readonly<{ p: number }>;
}>;
const groupsOf = (answer: Readonly<{ data: object }>): readonly Told[] =>
  (answer.data as { groups: readonly Told[] }).groups;
const firstOf = (answer: Readonly<{ data: object }>): Told => groupsOf(answer)[0]!;

const published = () => shippedEvidence("published-outcomes.csv");
const demo = () => shippedEvidence("demo-register.csv");
const besideTable = (answer: {
  tables: readonly { id: string; rows: readonly Readonly<Record<string, string>>[] }[];
}) => answer.tables.find(({ id }) => id.startsWith("beside-averages"))!.rows;

describe("other correlations", () => {
  test("where every one is assumed, each is the average with that correlation asked for", async () => {
    const tendon = await ask("pool", { outcome: "tendon" }, published());
    const { correlations } = firstOf(tendon).beside!;
    // Four with a spread of their own, six with a borrowed one.
    expect([correlations!.assumed, correlations!.effects]).toEqual([10, 10]);
    for (const told of correlations!.answers) {
      const asked = { outcome: "tendon", correlation: told.correlation };
      const direct = firstOf(await ask("pool", asked, published()));
      expect(told.estimate).toBeCloseTo(direct.estimate, 9);
      expect(told.interval.high).toBeCloseTo(direct.interval.high, 9);
      expect(told.betweenDeviation).toBeCloseTo(Math.sqrt(direct.betweenVariance), 9);
      expect(direct.beside!.correlations).toBeUndefined();
    }
    const words = besideTable(tendon).find(({ what }) => what === "other correlations")!["told"]!;
    expect(words).toMatch(
      /^10 of 10 effects rest on an assumed pre–post correlation\. At 0\.5, 0\.8 and 0\.95/,
    );
    for (const { estimate } of correlations!.answers)
      expect(words).toContain(`${percent(estimate)}%`);
  });

  test("printed correlations stay, and few assumed ones are not looked into", async () => {
    const rows = (assumed: number) =>
      evidenceOf(
        codebookText(
          [120, 111, 118, 107].map((post, place) =>
            outcomeRow(`Ash ${place}`, post, place < assumed ? { pre_post_correlation: "" } : {}),
          ),
        ),
      );
    const one = firstOf(await ask("pool", {}, rows(1))).beside!;
    expect(one.correlations).toBeUndefined();
    const two = firstOf(await ask("pool", {}, rows(2))).beside!;
    expect(two.correlations!.assumed).toBe(2);
    // With 0.9 printed for the other two, 0.5 for these weighs them less: nearer to 118 and 107.
    const [low, , high] = two.correlations!.answers;
    expect(low!.estimate).toBeLessThan(high!.estimate);
  });

  test("the words say when I² hangs on the correlation", async () => {
    const rows = besideTable(await ask("pool", {}, demo()));
    const [symptoms] = rows.slice(rows.findIndex(({ group }) => group === "symptoms"));
    expect(symptoms!["told"]).toMatch(
      /The spread between studies depends on it: .*I² \d+%, \d+% and \d+%\.$/,
    );
  });
});

test("one study fewer is what influence finds by leaving out every one", async () => {
  const pooled = await ask("pool", {}, demo());
  const left = await ask("influence", {}, demo());
  const rows = besideTable(pooled);
  for (const { id, movesMost, leftOut } of groupsOf(left)) {
    const own = groupsOf(pooled).find((group) => group.id === id)!.beside!.movesMost;
    expect(own?.name).toBe(movesMost ?? undefined);
    if (movesMost === null || movesMost === undefined) continue;
    const { answer } = leftOut.find(({ name }) => name === movesMost)!;
    expect(rows.map(({ told }) => told)).toContainEqual(
      expect.stringMatching(
        new RegExp(`^Moves most without ${movesMost}: ${percent(answer!.estimate)}% \\(`),
      ),
    );
  }
});

describe("small studies", () => {
  test("under ten: how many, and what may be unprinted", async () => {
    const { tables } = await ask("pool", { borrowedSpread: "none" }, published());
    const table = tables.find(({ id }) => id.startsWith("beside-averages"))!;
    expect(table.rows.map(({ told }) => told)).toContain(
      "Not tested: 3 studies are fewer than ten.",
    );
    expect(table.notes.join(" ")).toContain("an average may be too high");
    // Herbert 1998 prints no number of people, and the standard error of a log ratio holds the effect.
    expect(table.rows.map(({ told }) => told)).toContain(
      "Not tested: without Herbert 1998, whose people are not known, 9 studies are fewer than ten.",
    );
  });

  test("from ten the test of the question small-studies", async () => {
    const file = evidenceOf(
      codebookText(
        [31, 6, 24, 9, 15, 12, 40, 7, 18, 28, 11].map((people, place) =>
          outcomeRow(`Ash ${place}`, 110 + 60 / people + (place % 3), { n_end: people }),
        ),
      ),
    );
    const { smallStudies } = firstOf(await ask("pool", {}, file)).beside!;
    const direct = firstOf(await ask("small-studies", {}, file));
    expect(direct.slope.p).toBeLessThan(1);
    expect((smallStudies as unknown as Told).slope.p).toBeCloseTo(direct.slope.p, 12);
    const rows = besideTable(await ask("pool", {}, file));
    expect(rows.at(-1)!["told"]).toMatch(/\(p [=<] 0\.\d+, 11 studies\)\.$/);
  });
});

/** The posterior of an average by a plain sum over a fine grid of τ, and its quantile by halving. */
const bruteForce = (
  y: readonly number[],
  v: readonly number[],
  prior: Readonly<{ average: number; study: number }>,
  probability: number,
): number => {
  const normalProbability = (x: number): number => {
    // Abramowitz and Stegun 7.1.26 is too rough: the integral itself, by Simpson's rule.
    const steps = 400;
    const from = -9;
    if (x <= from) return 0;
    let sum = 0;
    for (let i = 0; i <= steps; i++) {
      const at = from + ((x - from) * i) / steps;
      sum += Math.exp((-at * at) / 2) * (i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2);
    }
    return (((x - from) / steps / 3) * sum) / Math.sqrt(2 * Math.PI);
  };
  const parts = Array.from({ length: 1500 }, (_, i) => {
    const tau = ((i + 0.5) / 1500) * 7 * prior.study;
    const w = v.map((one) => 1 / (one + tau * tau));
    const precision = w.reduce((sum, one) => sum + one, 0) + 1 / prior.average ** 2;
    const mean = w.reduce((sum, one, k) => sum + one * y[k]!, 0) / precision;
    const logDensity =
      -0.5 * (tau / prior.study) ** 2 +
      0.5 * w.reduce((sum, one) => sum + Math.log(one), 0) -
      0.5 * Math.log(precision) -
      0.5 * (w.reduce((sum, one, k) => sum + one * y[k]! ** 2, 0) - precision * mean ** 2);
    return { mean, deviation: 1 / Math.sqrt(precision), weight: Math.exp(logDensity) };
  });
  const total = parts.reduce((sum, { weight }) => sum + weight, 0);
  let [low, high] = [-2, 2];
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    const below =
      parts.reduce(
        (sum, { mean, deviation, weight }) =>
          sum + weight * normalProbability((middle - mean) / deviation),
        0,
      ) / total;
    if (below < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
};

const effectsOf = (y: readonly number[], v: readonly number[]) => ({
  effects: y.map((estimate, place) => ({
    effectId: `e${place}`,
    study: `s${place}`,
    arm: `a${place}`,
    estimate,
    variance: v[place]!,
  })),
  covariances: [],
});

describe("with a stated prior", () => {
  const prior = averagePrior("tendon", "log-ratio-of-means")!;

  test("is what a fine grid gives, as stated, halved and doubled", () => {
    const [y, v] = [
      [0.41, 0.12, 0.25],
      [0.0021, 0.0064, 0.0035],
    ];
    for (const { times, estimate, interval } of averageWithPrior(effectsOf(y, v), prior, 0.9)
      .answers) {
      const scaled = { average: times * prior.average, study: times * prior.study };
      expect(estimate).toBeCloseTo(bruteForce(y, v, scaled, 0.5), 3);
      expect(interval.low).toBeCloseTo(bruteForce(y, v, scaled, 0.05), 3);
      expect(interval.high).toBeCloseTo(bruteForce(y, v, scaled, 0.95), 3);
    }
  });

  test("tendon of the published outcomes reads something better than −73 to 571%", async () => {
    const tendon = await ask("pool", { outcome: "tendon" }, published());
    const { answers } = firstOf(tendon).beside!.withPrior!;
    const said = tendon.sentences.find((sentence) => sentence.startsWith("With a stated prior"))!;
    const shown = answers.map(
      ({ estimate, interval: { low, high } }) =>
        `${percent(estimate)}% (${percent(low)} to ${percent(high)}%)`,
    );
    // e^0.3 = 1.35 and e^0.2 = 1.221.
    expect(said).toBe(
      `With a stated prior (the average around no change ± 35%, studies differing by 22%): ${shown[0]!}; the prior halved ${shown[1]!}, doubled ${shown[2]!}.`,
    );
    expect(answers[0]!.interval.high).toBeLessThan(Math.log(2));
    expect(answers[0]!.interval.low).toBeGreaterThan(Math.log(0.85));
  });

  test("none for a family without a stated prior: blood pressure", async () => {
    const pressure = firstOf(await ask("pool", { outcome: "blood pressure" }, published()));
    expect(pressure.beside!.withPrior).toBeUndefined();
  });

  test("none for more than six studies, points, or an average that columns explain", async () => {
    const groups = groupsOf(await ask("pool", {}, demo()));
    const withOne = groups.filter(({ beside }) => beside?.withPrior !== undefined);
    expect(withOne).toEqual([]);
    const explained = await ask("pool", { moderators: "weeks", outcome: "strength" }, demo());
    expect(firstOf(explained)).toMatchObject({ beside: null });
  });

  test("holds the truth about as often as it says, where the truth is of the size it supposes", () => {
    let state = 20_261_127;
    const uniform = (): number => {
      state = (state * 48_271) % 2_147_483_647;
      return state / 2_147_483_647;
    };
    const normal = (): number =>
      Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const files = 120;
    let held = 0;
    for (let file = 0; file < files; file++) {
      const [y, v]: [number[], number[]] = [[], []];
      for (let study = 0; study < 3; study++) {
        const error = 0.03 + 0.06 * uniform();
        y.push(0.2 + 0.1 * normal() + error * normal());
        v.push(error ** 2);
      }
      const { low, high } = averageWithPrior(effectsOf(y, v), prior, 0.95).answers[0]!.interval;
      if (low <= 0.2 && 0.2 <= high) held += 1;
    }
    // 95% less three Monte Carlo errors of 2 points.
    expect(held / files).toBeGreaterThan(0.89);
  });
});
