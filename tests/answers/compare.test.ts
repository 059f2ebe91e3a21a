/** Kinds of evidence: identities between what is said, tabled, drawn and handed on; what turning a pair must turn. */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { compare, type CompareData } from "../../src/answers/compare.js";
import {
  expectPlain,
  fiveTrials,
  limits,
  longHolds,
  percent,
  shortHolds,
  whole,
} from "./last-yard.js";

const asked = async (
  protocol: readonly string[],
  options: Readonly<Record<string, unknown>> = {},
) => ask("compare", { protocol, goal: "size", ...options }, fiveTrials);
const comparisonOf = ({ data }: Readonly<{ data: CompareData }>) => {
  if (data.answer === null) throw new Error("nothing compared");
  return data.answer;
};

describe("two protocols", () => {
  test("the difference has the same digits in words, table, figure and data; a new trial has others", async () => {
    const answer = await asked([longHolds, shortHolds], { worthwhile: 1.5 });
    const comparison = comparisonOf(answer);
    const { average, newTrial, verdict, probabilityFirstBetter } = comparison.differences[0]!;
    expect(new Set([limits(average), limits(newTrial)]).size).toBe(2);
    expect(answer.headline).toBe(
      `Size, before to after: A minus B is ${percent(average.estimate)}% (95% range ${limits(average)}%); ${verdict.words}.`,
    );
    const [row] = answer.tables.find(({ id }) => id === "comparison-size-differences")!.rows;
    expect(row).toMatchObject({
      pair: "A – B",
      average: `${percent(average.estimate)} (${limits(average)})`,
      newTrial: `${percent(newTrial.estimate)} (${limits(newTrial)})`,
      first: `${Math.round(100 * probabilityFirstBetter)}%`,
      call: verdict.short,
    });
    expect(answer.figures.find(({ name }) => name === "comparison")!.data).toMatchObject({
      id: "comparison-size",
      comparison: { differences: [{ average: { estimate: average.estimate } }] },
    });
    expectPlain(answer, compare);
  });

  test("each protocol keeps its own ranges, column by column", async () => {
    const answer = await asked([longHolds, shortHolds]);
    const { rows } = answer.tables.find(({ id }) => id === "comparison-size-ranges")!;
    const { protocols } = comparisonOf(answer);
    expect(rows.map(({ average, newGroup, person }) => [average, newGroup, person])).toEqual(
      protocols.map(({ projection: { ranges } }) =>
        [ranges.average, ranges.newGroup, ranges.person].map(
          (range) => `${percent(range.estimate)} (${limits(range)})`,
        ),
      ),
    );
    expect(
      new Set(rows.flatMap(({ average, newGroup, person }) => [average, newGroup, person])).size,
    ).toBe(6);
  });

  test("turned about, the difference and the chances turn about", async () => {
    const [there, back] = await Promise.all([
      asked([longHolds, shortHolds], { worthwhile: 1 }),
      asked([shortHolds, longHolds], { worthwhile: 1 }),
    ]);
    const [one, other] = [there, back].map((answer) => comparisonOf(answer).differences[0]!);
    expect(one!.average.estimate).toBeCloseTo(-other!.average.estimate, 6);
    expect(one!.average.low).toBeCloseTo(-other!.average.high, 6);
    expect(one!.probabilityFirstWorthwhile).toBeCloseTo(other!.probabilitySecondWorthwhile, 6);
    const chances = (answer: typeof there) => {
      const [row] = answer.tables.find(({ id }) => id === "comparison-size-differences")!.rows;
      return [row!["firstWorthwhile"], row!["secondWorthwhile"]];
    };
    expect(chances(there)).toEqual([...chances(back)].reverse());
    expect(new Set(chances(there)).size).toBe(2);
  });

  test("to spare: a typical person, and in brackets who tires early first", async () => {
    const answer = await asked([longHolds, longHolds.replace("60%", "62%")]);
    const { rows } = answer.tables.find(({ id }) => id === "comparison-size-cost")!;
    const spares = comparisonOf(answer).protocols.map(({ feasibility }) => {
      if (feasibility.kind === "not judged") throw new Error("not judged");
      return feasibility.assessment.smallestReservePercent;
    });
    for (const { low, central, high } of spares) {
      expect(low).toBeLessThan(central);
      expect(central).toBeLessThan(high);
    }
    expect(rows.map(({ reserve }) => reserve)).toEqual(
      spares.map(({ low, central, high }) => `${whole(central)} (${whole(low)} to ${whole(high)})`),
    );
  });

  test("every session is drawn to scale and said with its name", async () => {
    const { figures, sentences, cautions } = await asked([longHolds, shortHolds]);
    expect(figures.map(({ name }) => name)).toEqual(["sessions", "comparison"]);
    expect(figures[0]!.data).toMatchObject({ sessions: [{ label: "A" }, { label: "B" }] });
    expect(sentences[0]).toMatch(/^A: 4 × 30 s at 60%/);
    expect(sentences[1]).toMatch(/^B: 4 × \(5 × 3 s\) at 95%/);
    expect(cautions?.form).toBe("full");
  });

  test("confidence, one correlation and conditions reach the difference", async () => {
    const usual = comparisonOf(await asked([longHolds, shortHolds])).differences[0]!;
    const narrow = await asked([longHolds, shortHolds], { confidence: 0.8 });
    expect(narrow.headline).toContain("(80% range ");
    expect(comparisonOf(narrow).differences[0]!.average.low).toBeGreaterThan(usual.average.low);
    for (const options of [{ correlation: 0.5 }, { where: "study!=Invented 03" }])
      expect(
        comparisonOf(await asked([longHolds, shortHolds], options)).differences[0]!.average
          .estimate,
      ).not.toBe(usual.average.estimate);
  });
});

describe("several protocols", () => {
  test("names of a list lead; the rest of a comparison goes on without one that cannot be projected", async () => {
    const answer = await ask(
      "compare",
      {
        protocols: `long: ${longHolds}\nno effort: 4 x 30 s, rest 60 s\nshort: ${shortHolds}`,
        goal: "size",
      },
      fiveTrials,
    );
    expect(comparisonOf(answer).protocols.map(({ name }) => name)).toEqual(["long", "short"]);
    expect(answer.headline).toContain("long minus short is");
    expect(answer.data.notCompared).toMatchObject([{ name: "no effort", code: "missing-field" }]);
    expect(answer.sentences.join("\n")).toContain(
      'no effort: Nothing is projected for size: "4 × 30 s, rest 60 s" does not say intensity',
    );
    expectPlain(answer, compare);
  });

  test("asked again of the same file it is the same answer, with those that stand outside it", async () => {
    const again = () =>
      ask(
        "compare",
        {
          protocols: `A: ${longHolds}\nB: 4 to 5 x 31 s, rest 60 s\nC: ${shortHolds}`,
          goal: "size",
        },
        fiveTrials,
      );
    const first = await again();
    expect(first.data.notCompared).toMatchObject([{ name: "B" }]);
    expect(await again()).toEqual(first);
  });

  test("three make three pairs, and the headline counts those that are told apart", async () => {
    const answer = await asked([longHolds, shortHolds, longHolds]);
    const { differences } = comparisonOf(answer);
    const told = differences.filter(({ verdict }) => verdict.call !== "tie").length;
    expect(differences).toHaveLength(3);
    expect(answer.headline).toContain(`${told === 0 ? "none" : told} of 3 pairs`);
    expect(answer.sentences).toContain("A against C: the same protocol, so nothing differs.");
  });

  test("made equal in tension time: six threes in four sets are 72 s, and 4 × 30 s are 120 s", async () => {
    const answer = await asked([longHolds, shortHolds], {
      equal: "tension time",
      adjust: "hold-length",
    });
    const [table] = answer.tables;
    // 4 × 5 holds make 120 s when each lasts 6 s.
    expect(table!.rows.map(({ before, after }) => [before, after])).toEqual([
      ["120", "120"],
      ["60", "120"],
    ]);
    expect(comparisonOf(answer).protocols[1]!.prescription.holdSeconds).toBe(6);
  });
});

describe("what cannot be answered is answered in words", () => {
  test("a goal without effects, and protocols of which too few can be projected", async () => {
    const none = await asked([longHolds, shortHolds], { goal: "rapid force" });
    expect(none.headline).toMatch(/^Nothing is compared: the file has no effect for the goal/);
    expect(none.data.refusal?.code).toBe("no-effects");
    const bare = await asked([longHolds, "4 x 30 s, rest 60 s"]);
    expect(bare.headline).toBe(
      "Nothing is compared: 1 of 2 protocols cannot be projected for size.",
    );
    expect(bare.data.refusal?.code).toBe("missing-field");
    for (const answer of [none, bare]) {
      expect(answer.data.answer).toBe(null);
      expect(answer.cautions?.form).toBe("full");
      expectPlain(answer, compare);
    }
  });

  test("fewer than two and more than six protocols", async () => {
    await expect(asked([longHolds])).rejects.toThrow(/2 to 6 protocols.*got 1/);
    await expect(asked(Array.from({ length: 7 }, () => longHolds))).rejects.toThrow(/got 7/);
  });
});
