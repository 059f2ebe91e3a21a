/** The command from outside; what it computes is tested in the rooms it calls. */
import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { jsonOf, runHere } from "./run-here.js";
import { testFolder } from "./test-folder.js";

const demo = "data/demo-register.csv";

type Answer = Readonly<{
  outcome: string;
  file: Readonly<{ fingerprint: string }>;
  warnings: readonly string[];
  answer: Readonly<{
    identified: boolean;
    evidence: string;
    range: Readonly<{ low: number; high: number }>;
    slopes: Readonly<{ within: Readonly<{ robust: Readonly<{ estimate: number }> }> }>;
    shapes: readonly Readonly<{ name: string; weight?: number }>[];
    curve: readonly Readonly<{ dose: number; estimate: number }>[];
    at: readonly Readonly<{ kind: string; dose: number }>[];
  }>;
}>;

describe("one dose", () => {
  test("terminal: answer, drawn curve, slopes, read-offs, shapes; the files it writes", async () => {
    const folder = join(testFolder, "dose");
    const { exitCode, out, err } = await runHere(
      ...["dose", demo, "--on", "tension_time_per_session_seconds", "--outcome", "size"],
      ...["--at", "60,900", "-o", folder],
    );
    expect([exitCode, err]).toEqual([0, ""]);
    expect(out).toMatch(/INVENTED DATA/);
    // Of the 56 effects 48 are at the trained angle, at the end of training.
    expect(out).toMatch(
      /Size against tension time in a session, before to after: worth testing: more\s+tension time/,
    );
    expect(out).toMatch(/51 effects of 21 studies with 744 people/);
    expect(out).toMatch(/arms of one study \(within\)/);
    expect(out).toMatch(/studies' means \(between\)/);
    expect(out).toMatch(/between minus within/);
    expect(out).toMatch(/o curve, : its interval, numbers: arms/);
    expect(out).toMatch(/Gain at 60 s \(asked for\) +\d/);
    expect(out).toMatch(/900 s lies outside the doses compared/);
    expect(out).toMatch(/Dose of 90% of the best gain/);
    expect(out).not.toMatch(/NaN|undefined|Infinity/);
    for (const line of out.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
    const figures = readdirSync(join(folder, "figures"));
    for (const ending of [".svg", ".png", ".json", ".csv"])
      expect(figures).toContain(`dose-size-tension-time-per-session-seconds${ending}`);
    expect(
      existsSync(join(folder, "tables", "size-dose-shapes-tension-time-per-session-seconds.csv")),
    ).toBe(true);
  });

  test("JSON: the same answer as one object, weights adding up to one", async () => {
    const { outcome, file, answer } = await jsonOf<Answer>(
      ...["dose", demo, "--on", "hold-seconds", "--outcome", "size"],
      ...["--shapes", "none,straight-line,logarithm", "--at", "5"],
    );
    expect(outcome).toBe("size");
    expect(file.fingerprint).toMatch(/^[0-9a-f]{64}$/);
    expect(answer.evidence).toBe("within studies");
    expect(answer.shapes.map(({ name }) => name)).toEqual(["none", "straight line", "logarithm"]);
    expect(answer.shapes.reduce((sum, { weight = 0 }) => sum + weight, 0)).toBeCloseTo(1, 10);
    expect(answer.curve.every(({ estimate }) => Number.isFinite(estimate))).toBe(true);
    expect(answer.at).toMatchObject([{ kind: "told", dose: 5 }]);
  });

  test("no answer is an answer in words, with exit code 2", async () => {
    const { exitCode, out } = await runHere(
      ...["dose", demo, "--on", "sessions-per-week", "--outcome", "size"],
    );
    expect(exitCode).toBe(2);
    expect(out.replaceAll(/\s+/g, " ")).toMatch(
      /no answer, as all arms have the same number of sessions a week, 3: no slope/,
    );
  });
});

test("several doses: slopes with the others held still, and which of them move together", async () => {
  const { exitCode, out, err } = await runHere(
    ...["dose", demo, "--on", "intensity,hold-seconds", "--outcome", "strength"],
    ...["--interactions", "intensity by hold"],
  );
  expect([exitCode, err]).toEqual([0, ""]);
  expect(out).toMatch(/Strength against intensity, hold length together/);
  expect(out).toMatch(/for each step of hold length/);
  expect(out.replaceAll(/\s+/g, " ")).toMatch(
    /In these \d+ studies intensity and hold length|vary apart/,
  );
});

test("words that mean nothing are refused with the nearest", async () => {
  const family = await runHere("dose", demo, "--on", "weeks", "--outcome", "strenght");
  expect([family.exitCode, family.out]).toEqual([2, ""]);
  expect(family.err).toMatch(
    /--outcome requires one of strength, size, .*got "strenght".*did you mean strength/,
  );
  const misplaced = await runHere(
    "dose",
    demo,
    "--on",
    "weeks,sets",
    "--outcome",
    "size",
    "--at",
    "3",
  );
  expect(misplaced.exitCode).toBe(2);
  expect(misplaced.err).toMatch(/--at requires one dose in --on, got weeks, sets/);
});
