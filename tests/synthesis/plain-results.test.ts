import { expect, test } from "vitest";
import { leaveEachOut } from "../../src/certainty/leave-each-out.js";
import { smallStudyRegression } from "../../src/certainty/small-study-regression.js";
import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import { headlineAnswer } from "../../src/synthesis/headline-answer.js";
import { levelMeans } from "../../src/synthesis/level-means.js";
import { permutationTest } from "../../src/synthesis/permutation-test.js";
import { poolEffects } from "../../src/synthesis/pool-effects.js";
import { randomEffects } from "./random-effects.js";

const { effects, known } = randomEffects(5, { studies: 12, perStudy: 2 });
const moderators = ["weeks", "measure"];
const options = { moderators, references: { measure: "tendon" }, knownCovariances: known };
const studies = [...new Set(effects.map(({ study }) => study))];

/** Places of whatever a file of JSON cannot hold; unlimited degrees of freedom are left to the answers. */
const notPlain = (value: unknown, place: string): readonly string[] => {
  if (value === null || typeof value === "string" || typeof value === "boolean") return [];
  if (typeof value === "number") {
    const unlimited = value === Infinity && /[dD]egreesOfFreedom$/.test(place);
    return Number.isFinite(value) || unlimited ? [] : [`${place}: ${value}`];
  }
  if (typeof value !== "object") return [`${place}: ${typeof value}`];
  const plain = Array.isArray(value) || Object.getPrototypeOf(value) === Object.prototype;
  if (!plain) return [`${place}: ${value?.constructor.name}`];
  return Object.entries(value as object).flatMap(([key, one]) => notPlain(one, `${place}.${key}`));
};

test.each<[string, () => unknown]>([
  ["poolEffects", () => poolEffects(effects, { moderators, interval: "normal" })],
  ["one effect", () => poolEffects(effects.slice(0, 1))],
  [
    "headlineAnswer",
    () => headlineAnswer(fitMultilevel(effects, { ...options, profileIntervals: true })),
  ],
  [
    "a normal interval",
    () => headlineAnswer(fitMultilevel(effects, { ...options, interval: "normal" })),
  ],
  ["levelMeans", () => levelMeans(effects, "measure", { knownCovariances: known })],
  ["levelMeans, as asked", () => levelMeans(effects, "measure", { interval: "normal" })],
  [
    "permutationTest",
    () =>
      permutationTest(effects, {
        ...{ moderator: "measure", permutations: 99 },
        model: { kind: "multilevel", options },
      }),
  ],
  [
    "smallStudyRegression",
    () => smallStudyRegression(effects, { participants: effects.map((_, i) => [6 + i, 9]) }),
  ],
  [
    "leaveEachOut",
    () =>
      leaveEachOut(studies, poolEffects(effects), (name) =>
        poolEffects(effects.filter(({ study }) => study !== name)),
      ),
  ],
])("%s: plain JSON, the same after a journey through text", (_name, make) => {
  const result = make();
  expect(notPlain(result, "result")).toEqual([]);
  const unlimited = (_key: string, value: unknown) => (value === Infinity ? null : value);
  expect(JSON.parse(JSON.stringify(result))).toEqual(
    JSON.parse(JSON.stringify(structuredClone(result), unlimited)),
  );
});

test("the reference level asked for: the same difference with the other sign, robust and permuted alike", () => {
  const other = { ...options, references: { measure: "size" } };
  const [one, two] = [fitMultilevel(effects, options), fitMultilevel(effects, other)];
  const term = (result: typeof one, name: string) =>
    [result.coefficients, result.robust!.coefficients].map((list) =>
      list.find((coefficient) => coefficient.term === name)!,
    );
  term(one, "measure: size").forEach((row, i) => {
    const turned = term(two, "measure: tendon")[i]!;
    expect(turned.estimate).toBeCloseTo(-row.estimate, 9);
    expect(turned.standardError).toBeCloseTo(row.standardError, 9);
    expect(turned.degreesOfFreedom).toBeCloseTo(row.degreesOfFreedom, 7);
  });
  const permuted = (model: typeof options) =>
    permutationTest(effects, {
      ...{ moderator: "measure", permutations: 99, seed: 3 },
      model: { kind: "multilevel", options: model },
    });
  expect(permuted(options).p).toBe(permuted(other).p);
  expect(permuted(options).p).toBeGreaterThan(0);
});
