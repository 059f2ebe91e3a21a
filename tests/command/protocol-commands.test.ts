/** Kind of evidence: identities; what the commands print is what the library gives, and nothing is left out. */
import { mkdtemp, readFile, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Command } from "commander";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { holdCommand } from "../../src/command/hold-command.js";
import { rampCommand } from "../../src/command/ramp-command.js";
import type { Terminal } from "../../src/command/terminal.js";
import { canBeHeld } from "../../src/endurance/can-be-held.js";
import { cautionsWording } from "../../src/projection/cautions-wording.js";
import { rampPlan } from "../../src/projection/ramp-plan.js";
import { parsePrescription } from "../../src/protocol/written-form.js";

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "holdbook-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** Runs a command line; what it printed and how it ended. */
const run = async (...words: readonly string[]): Promise<{ out: string; exitCode: number }> => {
  const printed: string[] = [];
  const terminal: Terminal = {
    out: (text) => printed.push(text),
    err: (text) => printed.push(text),
    progress: () => undefined,
    width: 100,
  };
  const program = new Command("holdbook").exitOverride();
  program.configureOutput({ writeOut: () => undefined, writeErr: () => undefined });
  let exitCode = 0;
  for (const command of [holdCommand, rampCommand])
    command(
      program,
      terminal,
      (code) => {
        exitCode = code;
      },
      () => Promise.reject(new Error("these commands run no other")),
    );
  for (const command of program.commands)
    command.exitOverride().configureOutput({ writeErr: () => undefined });
  await program.parseAsync([...words], { from: "user" });
  return { out: printed.join("\n"), exitCode };
};
const flat = (text: string): string => text.replace(/\s+/g, " ");

const expectEveryCaution = (out: string): void => {
  for (const { title, text } of cautionsWording.cautions) {
    expect(out).toContain(title);
    expect(flat(out)).toContain(flat(text));
  }
};

const text = "4 x 30 s at 70 %, rest 60 s";

describe("holdbook hold", () => {
  test("prints strip, doses, grade, what is left, what would fit and every caution in full", async () => {
    const { out, exitCode } = await run("hold", text, "--joint", "knee");
    expect(exitCode).toBe(0);
    expect(out).toContain("█");
    expect(out).toContain("8,400 %·s");
    expect(out).toContain("What is left at the end of each hold");
    expect(out).toContain("What would make it fit");
    const { grade } = canBeHeld(parsePrescription(`${text}, knee`));
    expect(out.toLowerCase()).toContain(`${grade}:`);
    expectEveryCaution(out);
  });

  test("JSON carries the library's own numbers, and the cautions", async () => {
    const { out } = await run("hold", text, "--joint", "knee", "--json");
    const answer = JSON.parse(out) as {
      assessment: { capacity: unknown; grade: string };
      cautions: { entries: readonly { form: string }[] };
    };
    const held = canBeHeld(parsePrescription(`${text}, knee`));
    expect(answer.assessment.capacity).toEqual(held.capacity);
    expect(answer.assessment.grade).toBe(held.grade);
    expect(answer.cautions.entries.length).toBeGreaterThan(15);
    expect(answer.cautions.entries.every(({ form }) => form === "full")).toBe(true);
  });

  test("-o writes the strip and the capacity along it", async () => {
    const directory = join(folder, "hold");
    const { out } = await run("hold", text, "--joint", "knee", "-o", directory);
    expect(out).toContain(directory);
    const figures = await readdir(join(directory, "figures"));
    for (const id of ["hold-strip", "remaining-capacity"])
      for (const ending of ["svg", "png", "json", "csv"])
        expect(figures).toContain(`${id}.${ending}`);
    const csv = await readFile(join(directory, "figures", "remaining-capacity.csv"), "utf8");
    expect(csv.trim().split("\n")).toHaveLength(
      1 + canBeHeld(parsePrescription(`${text}, knee`)).capacity.length,
    );
  });

  test("without a rest it says the doses and what is missing", async () => {
    const { out, exitCode } = await run("hold", "4 x 30 s at 70 %");
    expect(exitCode).toBe(2);
    expect(flat(out)).toContain("cannot be said without rest between repetitions");
    expect(out).toContain("120 s (2.0 min)");
    expectEveryCaution(out);
  });

  test("two joints are one too many; a bad text is pointed at", async () => {
    await expect(run("hold", `${text}, elbow`, "--joint", "knee")).rejects.toThrow(
      /knee beside elbow/,
    );
    await expect(run("hold", "4 x 30 q")).rejects.toThrow();
  });
});

describe("holdbook ramp", () => {
  const words = ["ramp", text, "--from", "deconditioned", "--weeks", "8", "--joint", "knee"];
  const plan = rampPlan(parsePrescription(`${text}, knee`), { from: "deconditioned", weeks: 8 });

  test("prints a row a week and every caution", async () => {
    const { out, exitCode } = await run(...words);
    expect(exitCode).toBe(0);
    expect(out).toContain("Working up in 8 weeks");
    if (plan.kind !== "plan") throw new Error("no plan");
    for (const { change } of plan.weeks)
      if (change !== undefined) expect(out).toContain(`${change.from} → ${change.to}`);
    expectEveryCaution(out);
  });

  test("JSON is the library's plan", async () => {
    const { out } = await run(...words, "--json");
    const { soreness, cautions, ...answer } = JSON.parse(out) as Record<string, unknown>;
    expect(answer).toEqual(JSON.parse(JSON.stringify(plan)));
    expect(soreness).toBeDefined();
    expect(cautions).toBeDefined();
  });

  test("-o writes the sheet, the figure and the table", async () => {
    const directory = join(folder, "ramp");
    await run(...words, "-o", directory);
    expect(await readFile(join(directory, "sheet.html"), "utf8")).toContain(
      "Working up to 4 × 30 s",
    );
    expect(await readdir(join(directory, "figures"))).toContain("ramp.svg");
    expect(
      (await readFile(join(directory, "tables", "ramp.csv"), "utf8")).trim().split("\n"),
    ).toHaveLength(9);
  });

  test("a refusal says what would fit, writes nothing and ends with 2", async () => {
    const directory = join(folder, "none");
    const { out, exitCode } = await run(
      "ramp",
      "4 x 30 s at 75 %, rest 15 s, knee",
      "--from",
      "trained",
      "--weeks",
      "10",
      "-o",
      directory,
    );
    expect(exitCode).toBe(2);
    expect(out).toContain("No plan");
    expect(out).toContain("What would fit");
    expect(await readdir(folder)).not.toContain("none");
    expectEveryCaution(out);
  });

  test("where the person is and the weeks must be said", async () => {
    await expect(run("ramp", text, "--weeks", "8")).rejects.toThrow(/--from/);
    await expect(run("ramp", text, "--from", "trained")).rejects.toThrow(/--weeks/);
    await expect(run("ramp", text, "--from", "trained", "--weeks", "x")).rejects.toThrow(/--weeks/);
    await expect(
      run("ramp", "20 x 6 s at 70 %", "--from", "trained", "--weeks", "8"),
    ).rejects.toThrow(/without rest between repetitions/);
  });
});
