/** Kind of evidence: identities between what is said, tabled, drawn and handed on. */
import { shownDuration } from "../../src/tables/shown-duration.js";
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { explore, type ExploreData } from "../../src/answers/explore.js";
import { expectPlain, fiveTrials, limits, percent } from "./last-yard.js";

const within = { minutes: 12, sessions: 3, intensityUpTo: 80, joint: "knee", goal: "size" };
const found = async (options: Readonly<Record<string, unknown>> = {}) =>
  ask("explore", { ...within, ...options }, fiveTrials);
const frontierOf = ({ data }: Readonly<{ data: ExploreData }>) => {
  if (data.answer === null) throw new Error("nothing found");
  return data.answer;
};
const one = (value: number): string => value.toFixed(1);

describe("the most for the time", () => {
  test("both ends have the same digits in words, table, figure and data", async () => {
    const answer = await found({ keep: "hard" });
    const { points } = frontierOf(answer);
    expect(points.length).toBeGreaterThan(1);
    const [first, last] = [points[0]!, points.at(-1)!];
    const end = ({ written, minutesPerWeek, projection: { ranges } }: typeof first): string =>
      `${written} takes ${shownDuration(Math.round(60 * minutesPerWeek))} a week and is expected to give ${percent(ranges.average.estimate)}% on average (95% range ${limits(ranges.average)}%; a single person ${limits(ranges.person)}%)`;
    expect(answer.headline).toBe(
      `Size: at the short end, ${end(first)}; at the long end, ${end(last)}.`,
    );
    const { rows } = answer.tables.find(({ id }) => id === "frontier-size")!;
    expect(rows.map(({ average, newGroup, person }) => [average, newGroup, person])).toEqual(
      points.map(({ projection: { ranges } }) => [
        `${percent(ranges.average.estimate)} (${limits(ranges.average)})`,
        limits(ranges.newGroup),
        limits(ranges.person),
      ]),
    );
    expect(rows.map(({ session, week }) => [session, week])).toEqual(
      points.map(({ minutesPerSession, minutesPerWeek }) => [
        one(minutesPerSession),
        one(minutesPerWeek),
      ]),
    );
    const steps = answer.tables.find(({ id }) => id === "frontier-size-steps")!.rows;
    expect(steps.map(({ adds }) => adds)).toEqual(
      points.slice(1).map(({ overPrevious }) => {
        const { difference } = overPrevious!;
        return `${percent(difference.estimate)} (${limits(difference)})`;
      }),
    );
    expect(answer.figures[0]!.data).toMatchObject({
      id: "frontier-size",
      frontier: { points: points.map(({ written }) => ({ written })) },
    });
    expectPlain(answer, explore);
  });

  test("every candidate is counted once, and stands in the sentence", async () => {
    const answer = await found();
    const { tried, excluded, candidates } = frontierOf(answer);
    const out = [excluded.tooLong, excluded.cannotBeHeld, excluded.notSupported];
    expect(out.reduce((sum, count) => sum + count, candidates.length)).toBe(tried);
    expect(answer.sentences[0]).toContain(`${candidates.length} can be held and lie near evidence`);
    expect(answer.sentences[0]).toContain(`${excluded.tooLong} take too long`);
  });

  test("every limit holds for every protocol that is found", async () => {
    const answer = await found({ intensityUpTo: 70, weeks: 11 });
    const { points } = frontierOf(answer);
    for (const { prescription, minutesPerSession, grade } of points) {
      expect(minutesPerSession).toBeLessThanOrEqual(12);
      expect(prescription.sessionsPerWeek).toBeLessThanOrEqual(3);
      expect(prescription.intensityPercent).toBeLessThanOrEqual(70);
      // No arm of these trials codes a length, so none is proposed.
      expect(prescription.muscleLength).toBeUndefined();
      expect(prescription.weeks).toBe(11);
      expect(["to spare", "hard"]).toContain(grade);
    }
  });

  test("confidence reaches every range, and the options are handed on", async () => {
    const narrow = await found({ confidence: 0.8 });
    expect(narrow.headline).toContain("(80% range ");
    expect(frontierOf(narrow).points[0]!.projection.ranges.average.low).toBeGreaterThan(
      frontierOf(await found()).points[0]!.projection.ranges.average.low,
    );
    expect(narrow.data.question.options).toMatchObject({ minutes: 12, confidence: 0.8 });
  });
});

describe("what cannot be answered is answered in words", () => {
  test.each([
    [
      { minutes: 0.2 },
      "nothing-within-limits",
      /^Nothing is found for size: none of \d+ candidates/,
    ],
    [{ goal: "rapid force" }, "no-effects", /^Nothing is found for rapid force: the file has no/],
    [
      { scale: "raw-mean-difference" },
      "other-scale",
      /log-ratio-of-means, and raw-mean-difference/,
    ],
  ] as const)("%j", async (options, code, headline) => {
    const answer = await found(options);
    expect(answer.headline).toMatch(headline);
    expect(answer.data.refusal?.code).toBe(code);
    expect(answer.data.answer).toBe(null);
    expect(answer.cautions?.form).toBe("full");
    expectPlain(answer, explore);
  });

  test.each([
    [{ minutes: 0 }, /--minutes requires a number of minutes above 0/],
    [{ sessions: 0.5 }, /--sessions requires at least one session/],
    [{ intensityUpTo: 15 }, /--intensity-up-to requires 20 to 100/],
    [{ keep: "beyond" }, /--keep requires one of to-spare, hard/],
  ] as const)("limits that leave nothing: %j", async (options, message) => {
    await expect(found(options)).rejects.toThrow(message);
  });
});
