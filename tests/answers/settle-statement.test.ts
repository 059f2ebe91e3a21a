/**
 * A statement settled by its own rows, claim and doses, against brute force: every simulated future written as rows of a
 * file, opened, and the statement put to the test there. All futures: HOLDBOOK_SETTLE=300.
 */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { resolvedOptions } from "../../src/answers/option.js";
import { outcomeShape } from "../../src/answers/outcome-groups.js";
import { statementToSettle } from "../../src/answers/settle-statement.js";
import { settle } from "../../src/answers/settle.js";
import { usualDesign } from "../../src/answers/settle-targets.js";
import { CallError } from "../../src/errors.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { evidenceOf } from "./evidence-under-test.js";
import { expectPlain } from "./last-yard.js";

const futures = Number(process.env["HOLDBOOK_SETTLE"] ?? 24);
const header =
  "study,arm,arm_kind,n_end,muscle_group,hold_seconds,weeks,outcome,outcome_family,unit,statistic,change_mean,change_spread,spread_kind";
type Arm = Readonly<{ estimate: number; variance: number; hold: number }>;
const rowsOf = (study: string, people: number, arms: readonly Arm[], weeks = 8) =>
  arms.map(
    ({ estimate, variance, hold }, place) =>
      `${study},arm ${place + 1},isometric,${people},knee extensors,${hold},${weeks},peak isometric torque,strength,N·m,change with spread,${estimate},${Math.sqrt(variance * people)},standard deviation`,
  );

/** Five trials of 5 against 20 s over 8 weeks, and two that the statements here are not about: 60 s, and 20 weeks. */
const rows = [
  ...[6, -1, 4, 3, 0].flatMap((difference, trial) =>
    rowsOf(`Trial ${trial + 1}`, 20 + trial, [
      { estimate: 20 + 3 * trial, variance: 9 + trial, hold: 5 },
      { estimate: 20 + 3 * trial + difference, variance: 10 + trial, hold: 20 },
    ]),
  ),
  ...[60, 70].flatMap((gain, trial) =>
    rowsOf(
      `Other ${trial + 1}`,
      30,
      [
        { estimate: gain - 30, variance: 5, hold: 5 },
        { estimate: gain, variance: 5, hold: 60 },
      ],
      20,
    ),
  ),
];
const fileOf = (all: readonly string[]) => evidenceOf([header, ...all].join("\n"));

type Cells = Readonly<Record<string, string>>;
const common = { outcome: "strength", where: "weeks between 6 and 10", unit: "N·m" };
const longer: Cells = {
  ...common,
  ...{ statement: "Holds of 20 s build at least 1 N·m more than of 5 s.", compared: "hold length" },
  ...{ from: "5", to: "20", claim: "more", least: "1" },
};
const amount: Cells = {
  ...common,
  ...{
    statement: "It brings at least 24 N·m.",
    compared: "training",
    claim: "amount",
    least: "24",
  },
};
const amountThatCounts = { scale: "raw-mean-difference" } as const;
const options = resolvedOptions(outcomeShape, amountThatCounts);
const targetOf = (statement: Cells) => {
  const own = statementToSettle(fileOf(rows), "1", [statement], options);
  if (own.kind === "cannot") throw new Error(own.reason);
  return own;
};

/** Share of the futures on which simulation and the whole pipeline differ, with every decision. */
const bothWays = async (statement: Cells, plan: Readonly<{ trials: number; people: number }>) => {
  const { truth, trialOf, draws, decide } = targetOf(statement).target.make(usualDesign);
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
          ...{ estimate, variance: error },
          hold: dose === 0 ? 5 : Math.exp(dose),
        })),
      ),
    );
    const { data } = await ask(
      "statements",
      { statements: [statement] },
      fileOf([...rows, ...written]),
    );
    const { verdict } = data.statements[0]!;
    decided.push([decide(added), ["supported", "against"].find((one) => one === verdict)]);
  }
  return decided;
};

describe("every future is decided as the statement is judged with its rows in the file", () => {
  test.each([
    ["a direction of a dose, three trials of 40 a group", longer, { trials: 3, people: 40 }],
    ["an amount of an average, five trials of 20", amount, { trials: 5, people: 20 }],
  ])("%s", async (_name, statement, plan) => {
    const decided = await bothWays(statement, plan);
    for (const [simulated, brute] of decided) expect(simulated).toBe(brute);
    expect(new Set(decided.map(([one]) => one)).size).toBeGreaterThan(1);
  });
});

test("only the rows, doses and claim of the statement count, in numbers, words and designs", async () => {
  const asked = { statement: "1", statements: [longer], simulations: 40 };
  const answer = await ask("settle", asked, fileOf(rows));
  expectPlain(answer, settle);
  const { data, headline, sentences } = answer;
  // Seven studies stand in the file; two of them compare other doses over other weeks.
  expect(data.studies).toBe(5);
  expect(data.scale).toBe("raw-mean-difference");
  expect(data.rowsUsed).toEqual(Array.from({ length: 10 }, (_, place) => place + 2));
  expect(headline).toContain(
    "“Holds of 20 s build at least 1 N·m more than of 5 s” (strength, hold length, 20 s minus 5 s): 5 studies leave it open",
  );
  expect(sentences.join(" ")).toContain("weeks between 6 and 10");
  expect(data.proposal).toContain("It is not known whether “Holds of 20 s build");
  expect(Object.keys(data.chances.at(-1)!.each).sort()).toEqual(["against", "supported"]);
  for (const { name } of data.designs) {
    expect(name).toMatch(/ s, .* weeks?$/);
    expect(name).not.toContain("60 s");
  }
  // The statement's place is what its own answer hands on.
  const { data: judged } = await ask("statements", { statements: [longer] }, fileOf(rows));
  expect(judged.statements[0]!.settles).toEqual({
    question: "settle",
    options: { statement: "1" },
  });
});

test("what further trials cannot be simulated for is said, with the reason", async () => {
  const reasonOf = async (statement: string, ...statements: readonly Cells[]) => {
    const asked = statements.length === 0 ? { statement } : { statement, statements };
    const { headline, data } = await ask("settle", { ...asked, simulations: 20 }, fileOf(rows));
    expect(data.chances).toEqual([]);
    expect(data.refusal?.code).toBe("not-told");
    return headline;
  };
  const range = { ...amount, claim: "range", least: "5", most: "90" };
  expect(await reasonOf("1", range)).toContain("a range is claimed of every trial to come");
  const enough = { ...longer, claim: "enough", from: "10", to: "20", least: "", most: "5" };
  expect(await reasonOf("2", longer, enough)).toContain("read off the shape of a curve");
  // Of the twenty of common practice: two of how long a hold can be kept.
  expect(await reasonOf("13")).toContain("published endurance times");
  expect(await reasonOf("14")).toContain("published endurance times");
});

test.each([
  [{ statement: "21" }, "a number from 1 to 20"],
  [{ statement: "Longer holds are good for strength." }, "What is claimed"],
  [{ statement: "1", on: "average" }, "no such choice beside --statement"],
])("%j is refused with what is missing", async (asked, words) => {
  const refused = ask("settle", asked, fileOf(rows));
  await expect(refused).rejects.toThrow(CallError);
  await expect(refused).rejects.toThrow(words);
});
