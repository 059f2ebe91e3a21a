/** Where nothing can be pooled, what single trials compared leads; where something is, it stands folded beside. */
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { firstWave, shippedEvidence } from "./evidence-under-test.js";

const published = () => shippedEvidence(firstWave);

test("variables of the published outcomes lead with single trials, each with its numbers as printed", async () => {
  // Without borrowed spreads, so that nothing can be pooled.
  const asked = { borrowedSpread: "none" };
  const { headline, sentences, tables, figures } = await ask("variables", asked, published());
  // Kubo 2001: 31.8 (17.2) and 33.9 (14.4) of 8 people, limbs of the same people.
  expect(headline).toMatch(
    /^Strength: no doses can be pooled; single trials compared them\. Kubo 2001 J Physiol, hold length 1 s against 20 s: 31\.8% and 33\.9%, difference 2\.1 points \(/,
  );
  const size = sentences.find((sentence) => sentence.startsWith("Size:"))!;
  expect(size).toContain("Kubo 2001 J Physiol, hold length 1 s against 20 s: 7.4% and 7.6%");
  const tendon = tables.find(({ id }) => id === "single-trials-tendon")!;
  expect(tendon.place).toBeUndefined();
  expect(tendon.rows.map(({ told }) => told)).toEqual([
    "16% → 20%: 4.0 points (no interval)",
    "16% → 22%: 6.0 points (no interval)",
    // 100·(201.4 − 186.7)/186.7 and 100·(228.1 − 167.7)/167.7.
    expect.stringMatching(/^7\.9% → 36\.0%: 28\.1 points \(/),
  ]);
  const drawn = figures.filter(({ name }) => name === "single-trials").flatMap(drawnFigures);
  expect(drawn.map(({ id }) => id)).toContain("single-trials-tendon");
});

test("a dose that cannot be told shows its trials alone; the refusal stays in the data", async () => {
  const asked = { on: "intensityPercent", outcome: "tendon" };
  const { headline, tables, data } = await ask("dose", asked, published());
  expect(headline).toContain("Massey 2018, intensity 75% of MVC against 80% of MVC: 16% and 20%");
  expect(tables[0]!.rows.map(({ variable }) => variable)).toEqual(["intensity", "intensity"]);
  expect(data.refusal).not.toBeNull();
});

test("where doses are pooled the table is folded, and nothing of it is in the headline", async () => {
  const demo = shippedEvidence("demo-register.csv");
  const { headline, tables, figures } = await ask(
    "dose",
    { on: "holdSeconds", outcome: "size" },
    demo,
  );
  expect(headline).toMatch(/^Size against hold length/);
  expect(tables.find(({ id }) => id === "single-trials-size")!.place).toBe("folded");
  expect(figures.map(({ name }) => name)).not.toContain("single-trials");
});

test("a trial of exactly the two protocols leads the comparison, whichever is named first", async () => {
  const [short, long] = ["3 x (50 x 1 s) at 70%, 4/week", "4 x 20 s at 70%, 4/week"];
  const one = await ask("compare", { protocol: [short, long] }, published());
  expect(one.headline).toMatch(
    /^Kubo 2001 J Physiol compared A and B themselves \(strength, peak isometric torque; lines 31 and 33\): A 31\.8%, B 33\.9%, A minus B −2\.1 points \(−13\.2 to 9\.0\)\. Kubo K, Kanehisa H/,
  );
  expect(one.sentences[0]).toMatch(/^Strength at the trained angle/);
  const turned = await ask("compare", { protocol: [long, short] }, published());
  expect(turned.headline).toContain(
    "lines 33 and 31): A 33.9%, B 31.8%, A minus B 2.1 points (−9.0 to 13.2)",
  );
  const other = await ask("compare", { protocol: ["3 x (50 x 1 s) at 75%", long] }, published());
  expect(other.data.exactTrials).toEqual([]);
});

test("a goal that cannot be projected shows the trials nearest to the protocols", async () => {
  const protocol = ["50 x 1 s at 70%", "4 x 20 s at 70%"];
  const { headline, tables, figures } = await ask(
    "compare",
    { protocol, goal: "tendon" },
    published(),
  );
  expect(headline).toMatch(/^Nothing is compared/);
  const near = tables.find(({ id }) => id === "single-trials-tendon-near")!;
  expect(near.place).toBeUndefined();
  expect(near.rows.every(({ steps }) => /^[AB] \d+\.\d, [AB] \d+\.\d$/.test(steps!))).toBe(true);
  expect(figures.map(({ data: { id } }) => id)).toContain("single-trials-tendon-near");
});
