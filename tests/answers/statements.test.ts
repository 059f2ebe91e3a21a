import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { exampleStatements } from "../../src/answers/example-statements.js";
import { readStatements } from "../../src/answers/statement-file.js";
import {
  codebookText,
  evidenceOf,
  outcomeRow,
  shippedEvidence,
  shippedText,
} from "./evidence-under-test.js";

test("the examples ship as a file, twenty of them, each with a whole form", () => {
  expect(exampleStatements).toBe(shippedText("example-statements.csv"));
  const { statements, problems } = readStatements(exampleStatements);
  expect(problems).toEqual([]);
  expect(statements).toHaveLength(20);
  for (const { reading, asked } of statements) {
    expect(asked).toEqual([]);
    expect(reading).toBeDefined();
  }
});

/** Trials whose groups gained so many percent, twelve people each. */
const trials = (...gains: readonly number[]) =>
  evidenceOf(
    codebookText(gains.map((gain, place) => outcomeRow(`Trial ${place + 1}`, 100 + gain))),
  );

const about = (statement: object) => [
  { statement: "As it is taught.", outcome: "strength", compared: "training", ...statement },
];

const verdictOn = async (evidence: ReturnType<typeof trials>, statement: object) => {
  const { data } = await ask("statements", { statements: about(statement) }, evidence);
  return data.statements[0]!;
};

describe("verdicts on averages", () => {
  const strong = trials(20, 24, 22, 26, 18);

  test("supported, with the trials that stand for it and the interval inside the claim", async () => {
    const one = await verdictOn(strong, { claim: "more" });
    expect(one.verdict).toBe("supported");
    expect(one.for).toHaveLength(5);
    // The mean of the five log ratios is ln 1.2197, near 22%: the five weigh nearly alike.
    expect(one.estimate).toBeCloseTo(22, 0);
    expect(one.adjusted!.low).toBeGreaterThan(0);
  });

  test("against, where the interval lies wholly outside", async () => {
    expect((await verdictOn(strong, { claim: "less" })).verdict).toBe("against");
    expect((await verdictOn(strong, { claim: "amount", least: 40 })).verdict).toBe("against");
    expect((await verdictOn(strong, { claim: "no difference" })).verdict).toBe("against");
  });

  test("a range asks the range of a further study as well", async () => {
    const wide = await verdictOn(strong, { claim: "range", least: 5, most: 50 });
    expect(wide.verdict).toBe("supported");
    const narrow = await verdictOn(trials(10, 34, 12, 30, 22), {
      claim: "range",
      least: 5,
      most: 40,
    });
    // The average lies inside, a further study need not.
    expect(narrow.adjusted!.low).toBeGreaterThan(5);
    expect(narrow.adjusted!.high).toBeLessThan(40);
    expect(narrow.predictionInterval!.low).toBeLessThan(5);
    expect(narrow.verdict).toBe("undecided");
  });

  test("mixed, with two trials on each side, and undecided with fewer", async () => {
    const split = await verdictOn(trials(30, 28, -25, -22), { claim: "more" });
    expect(split.verdict).toBe("mixed");
    expect([split.for, split.against].map((some) => some!.length)).toEqual([2, 2]);
    const undecided = await verdictOn(trials(30, 2, -25, 1), { claim: "more" });
    expect(undecided.verdict).toBe("undecided");
    // Before to after begins low; what would settle it is a question to be asked.
    expect(["low", "very low"]).toContain(undecided.certainty!.certainty);
    expect(undecided.settles).toEqual({ question: "settle", options: { statement: "1" } });
  });

  test("not testable with two studies, or none about the outcome", async () => {
    expect((await verdictOn(trials(20, 22), { claim: "more" })).verdict).toBe(
      "not testable with this file",
    );
    const other = await verdictOn(strong, { outcome: "tendon", claim: "more" });
    expect(other.verdict).toBe("not testable with this file");
    expect(other.why).toMatch(/no row about tendon has a weight/);
    const none = await verdictOn(strong, { claim: "more", where: "weeks>=99" });
    expect(none.why).toBe("no row meets its conditions");
  });

  test("conditions of a statement choose its rows", async () => {
    const rows = [1, 2, 3].flatMap((place) => [
      outcomeRow(`Long ${place}`, 130 + place, { weeks: 12 }),
      outcomeRow(`Short ${place}`, 105 + place, { weeks: 4 }),
    ]);
    const evidence = evidenceOf(codebookText(rows));
    const long = await verdictOn(evidence, {
      claim: "amount",
      least: 20,
      where: "weeks between 10 and 14",
    });
    expect(long.verdict).toBe("supported");
    expect(long.studies).toBe(3);
  });
});

test("statements asked together widen each other's intervals, as Holm says", async () => {
  const evidence = trials(4, 9, -3, 8, 5, 2);
  const alone = await verdictOn(evidence, { claim: "more" });
  const { data } = await ask(
    "statements",
    { statements: [...about({ claim: "more" }), ...about({ claim: "amount", least: 3 })] },
    evidence,
  );
  expect(data.askedTogether).toBe(2);
  expect(alone.coverage).toBeCloseTo(0.95, 9);
  expect(data.statements[0]!.coverage).toBeCloseTo(0.975, 9);
  expect(data.statements[0]!.adjusted!.low).toBeLessThan(alone.adjusted!.low);
});

describe("a file of statements", () => {
  test("what is wrong in one is told with its place and mend, and costs no other", async () => {
    const text = [
      "statement,outcome,compared,claim,least,most,from",
      "Good.,strength,training,more,,,",
      "Bad claim.,strength,training,mroe,,,",
      "Bad number.,strength,training,amount,many,,",
      "Reversed.,strength,training,range,9,5,",
      "Wrong pair.,strength,training,threshold,,,70",
      "Half a form.,strength,,more,,,",
    ].join("\n");
    const { data, headline } = await ask(
      "statements",
      { statements: text },
      trials(20, 24, 22, 26),
    );
    expect(data.statements.map(({ verdict }) => verdict)).toEqual([
      "supported",
      null,
      null,
      null,
      null,
      null,
    ]);
    expect(data.problems.map(({ line, column, value }) => `${line} ${column} ${value}`)).toEqual([
      "3 claim mroe",
      "4 least many",
      "5 most 5",
      "6 claim threshold",
    ]);
    expect(data.problems[0]!.mend).toMatch(/did you mean more\?/);
    expect(data.statements[5]!.asked).toEqual([
      { field: "compared", question: expect.stringMatching(/^What is compared/) as string },
    ]);
    expect(headline).toMatch(/^Of 6 statements: 1 supported and 5 forms not complete\.$/);
  });

  test("sentences, records and JSON say the same as a table", () => {
    const form = { statement: "Longer holds grow more muscle.", claim: "more" };
    const asText = readStatements(JSON.stringify([form])).statements[0]!;
    expect(readStatements([form]).statements[0]).toEqual(asText);
    expect(
      readStatements("statement,claim\nLonger holds grow more muscle.,more").statements[0]!.cells,
    ).toEqual(asText.cells);
    const [first, second] = readStatements(
      "# my list\nIsometric training makes people stronger.\nLonger holds, it is said, help.",
    ).statements;
    expect(first!.line).toBe(2);
    expect(first!.reading).toMatchObject({
      outcome: "strength",
      compared: "training",
      claim: "more",
    });
    expect(first!.proposed).toEqual(["compared", "outcome", "claim"]);
    expect(second!.reading).toBeUndefined();
    expect(() => readStatements("{ not JSON")).toThrow(/text that is not JSON/);
  });
});

test("of the library each statement has a verdict, and decided ones their numbers", async () => {
  const { data, sentences } = await ask(
    "statements",
    {},
    shippedEvidence("published-outcomes.csv"),
  );
  expect(data.statements.map(({ verdict }) => verdict)).not.toContain(null);
  // A line each, and what would settle those that are open.
  expect(sentences).toHaveLength(21);
  expect(sentences[20]).toContain(
    "can be asked of each, by its own rows and claim, in the question what trial would settle it: 2, 3,",
  );
  for (const one of data.statements)
    if (one.verdict === "supported" || one.verdict === "against") {
      expect(one.estimate).toBeDefined();
      expect(one.studies).toBeGreaterThan(1);
    }
});

test("isometric against dynamic counts trials of dynamic training only", async () => {
  const { data } = await ask("statements", {}, shippedEvidence("published-outcomes.csv"));
  const one = data.statements.find(({ statement }) =>
    statement.startsWith("Isometric and dynamic"),
  )!;
  // By the rows: Yue 1992 and Herbert 1998 set holding against imagined contractions, Medernach 2015 against other exercise.
  expect(one.silent!.map(({ study }) => study)).toEqual(["Folland 2005"]);
  expect(one.verdict).toBe("not testable with this file");
});

test("the page for a lecture has a line for each statement, six on a page, and needs nothing", async () => {
  const { sheets, headline } = await ask(
    "statements",
    {},
    shippedEvidence("published-outcomes.csv"),
  );
  const [{ html, name } = { html: "", name: "" }] = sheets;
  expect(name).toBe("statements.html");
  const pages = html.split("<section>").slice(1);
  expect(pages.map((page) => page.split("<li").length - 1)).toEqual([6, 6, 6, 2]);
  expect(pages[0]).toContain(headline);
  for (const { statement } of readStatements(exampleStatements).statements)
    expect(html.split(`<span>${statement}</span>`)).toHaveLength(2);
  expect(html).not.toMatch(/<script|https?:/);
  expect(html.indexOf("Supported</strong>")).toBeLessThan(html.indexOf("Undecided</strong>"));
});
