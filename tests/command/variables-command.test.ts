/** Kinds of evidence: the command from outside, and identities between its outputs. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { jsonOf, runHere } from "./run-here.js";
import { testFolder } from "./test-folder.js";

const demo = "data/demo-register.csv";

describe("holdbook variables", async () => {
  const folder = testFolder;
  const { exitCode, out, err } = await runHere("variables", demo, "-o", join(folder, "all"));

  test("prints a table for each family, rules, a summary, and where the other questions are", () => {
    expect(err).toBe("");
    expect(exitCode).toBe(0);
    for (const words of [
      "Which variables matter: strength",
      "Which variables matter: tendon",
      "Verdicts follow stated rules",
      "Size: ",
      "equal-tension, joint-angle and time",
    ])
      expect(out).toContain(words);
    for (const line of out.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
  });

  test("writes every cell, and its JSON holds the same numbers", async () => {
    const csv = readTable(readFileSync(join(folder, "all", "tables", "variables.csv")));
    const json = await jsonOf<{
      rows: readonly {
        family: string;
        axis: { name: string };
        within?: { estimate: number };
        verdict: { verdict: string };
      }[];
    }>("variables", demo);
    const place = (name: string): number => csv.header.indexOf(name);
    expect(csv.rows).toHaveLength(json.rows.length);
    json.rows.forEach(({ family, axis, within, verdict }, index) => {
      const { cells } = csv.rows[index]!;
      expect(cells[place("family")]).toBe(family);
      expect(cells[place("variable")]).toBe(axis.name);
      expect(cells[place("within_estimate")]).toBe(
        within === undefined ? "" : String(within.estimate),
      );
      expect(cells[place("verdict")]).toBe(verdict.verdict);
    });
  });

  test("joint angle is a command of its own and a question of this one, with the same words", async () => {
    const rest = ["--where", "outcome_family=strength"];
    const asked = await runHere(...["joint-angle", demo, ...rest, "-o", join(folder, "angle")]);
    expect([asked.exitCode, asked.err]).toEqual([0, ""]);
    expect(asked.out).toContain("Carry-over from the trained angle: strength");
    expect(readdirSync(join(folder, "angle", "figures"))).toContain("joint-angle-strength.svg");
    const own = await runHere("joint-angle", demo, ...rest);
    for (const question of [["--question", "joint-angle"], ["--question=joint-angle"]])
      expect(await runHere("variables", demo, ...question, ...rest)).toEqual(own);
    expect(await runHere("variables", demo, "--question", "all-variables")).toEqual(
      await runHere("variables", demo),
    );
    const unknown = await runHere("variables", demo, "--question", "tension");
    expect([unknown.exitCode, unknown.out]).toEqual([2, ""]);
  });

  test("time: where nothing can be told the exit code says so", async () => {
    const told = await runHere("variables", demo, "--question", "time");
    expect(told.exitCode).toBe(0);
    expect(told.out).toContain("63% of the final gain is reached after 3.6 weeks");
    const untold = await runHere("time", demo, "--outcome", "size");
    expect(untold.exitCode).toBe(2);
    expect(untold.out).toContain("how fast the gain comes cannot be told");
  });

  test("asks equal tension with a tolerance and another quantity, and takes no negative amount", async () => {
    const { quantity, tolerance } = await jsonOf<{ quantity: string; tolerance: number }>(
      "variables",
      demo,
      "--question",
      "equal-tension",
      "--equal",
      "torque-time",
      "--tolerance",
      "5",
    );
    expect([quantity, tolerance]).toEqual(["torque–time", 0.05]);
    const refused = await runHere("variables", demo, "--amount", "-3");
    expect(refused.exitCode).toBe(2);
    expect(refused.err).toContain("an amount above 0");
  });
});
