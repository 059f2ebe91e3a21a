/**
 * Forty statements, written with the readings they mean before the form or any of its code was there. A reading other than
 * the meant one is a mistake; one that is not given is only counted.
 */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readStatements } from "../../src/answers/statement-file.js";
import { doseAxisNames, axisWords } from "../../src/dose/dose-axes.js";

type Meant = Readonly<Record<string, string>>;

const [header = [], ...lines] = readFileSync(
  new URL("forty-statements.tsv", import.meta.url),
  "utf8",
)
  .trimEnd()
  .split("\n")
  .map((line) => line.split("\t"));
const forty: readonly Meant[] = lines.map((cells) =>
  Object.fromEntries(header.map((name, place) => [name, cells[place] ?? ""])),
);

/** What the words of 'meant' are called in the form; they were chosen before it had any. */
const names: Readonly<Record<string, readonly string[]>> = {
  "tendon stiffness": ["tendon"],
  "rate of force development": ["rapid force"],
  pain: ["symptoms"],
  "tension a session": ["tensionTimePerSessionSeconds"],
  "share near-maximal": ["tensionTimePerSessionSeconds"],
  sex: ["people"],
  age: ["people"],
  "pushing or holding": ["action"],
  "number of holds": ["sets", "contractionsPerSession"],
  "at least": ["amount"],
  about: ["amount", "endurance"],
  ratio: ["endurance"],
};
/** Of a claim about angles or weeks the form has a word of its own. */
const claimOf = ({ claim = "", compared = "", condition = "" }: Meant): readonly string[] =>
  compared === "joint angle" || condition === "at other angles"
    ? ["joint angle"]
    : [claim, ...(names[claim] ?? [])];

const axisOf = (word: string): string =>
  doseAxisNames.find((name) => axisWords(name).includes(word)) ?? word;

const read = forty.map((meant) => ({
  meant,
  one: readStatements([meant["statement"]!]).statements[0]!,
}));

test.each(read)("$meant.statement", ({ meant, one }) => {
  const { cells } = one;
  const same = (field: "outcome" | "compared", value: string | undefined): void => {
    if (value === undefined) return;
    const word = meant[field]!;
    expect([word, axisOf(word), ...(names[word] ?? [])], field).toContain(axisOf(value));
  };
  same("outcome", cells.outcome);
  same("compared", cells.compared);
  if (cells.claim !== undefined) expect(claimOf(meant), "claim").toContain(cells.claim);
  for (const field of ["from", "to", "least", "most"] as const) {
    const value = cells[field];
    // Most means half and more; a choice between two lengths is named by both.
    if (value === undefined || value === "short" || value === "long") continue;
    if (field === "least" && cells.claim === "time course") expect(value).toBe("50");
    // What is gained from week 0 to 4 is what is there at week 4.
    else if (cells.claim === "time course" && meant["from"] === "0")
      expect(value, field).toBe(meant["to"]);
    else expect(value, field).toBe(meant[field]);
  }
  // What was meant as a condition stands in one, or is asked about.
  if (one.reading !== undefined) {
    const { where = "", equal = "" } = one.cells;
    const condition = meant["condition"]!;
    if (condition.startsWith("weeks"))
      expect(where).toMatch(new RegExp(condition.replace("weeks ", "").replace(" to ", ".*")));
    if (condition === "equal tension") expect(equal).toBe("tension time");
    if (meant["population"] !== "") expect(cells.compared).toBe("people");
  }
});

test("how many of the forty are read whole, in part, or not at all", () => {
  const whole = read.filter(({ one }) => one.reading !== undefined).length;
  const none = read.filter(({ one }) => one.proposed.length === 0).length;
  process.stdout.write(
    `forty statements: ${whole} read whole, ${40 - whole - none} in part and asked about, ${none} not at all\n`,
  );
  expect(read).toHaveLength(40);
  expect(whole).toBeGreaterThanOrEqual(25);
  // Two say nothing that can be tested.
  expect(none).toBeGreaterThanOrEqual(2);
});

test.each([
  "Longer holds do not grow more muscle than short ones.",
  "Isometric training never makes people stronger.",
  "Only in women isometric training makes people stronger.",
  "Isometric training makes rats stronger.",
  "Longer holds grow more muscle than short ones only at high intensity.",
])("a word that no rule reads keeps a statement from being read: %s", (statement) => {
  const [one] = readStatements([statement]).statements;
  expect(one!.reading).toBeUndefined();
  expect(one!.asked.length).toBeGreaterThan(0);
});
