/** Kind of evidence: identities; what the commands print is what the library gives, and nothing is left out. */
import { mkdtemp, readFile, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { canBeHeld } from "../../src/endurance/can-be-held.js";
import { cautionsWording } from "../../src/projection/cautions-wording.js";
import { rampPlan } from "../../src/projection/ramp-plan.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { runHere } from "./run-here.js";

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "holdbook-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const run = runHere;
const flat = (text: string): string => text.replace(/\s+/g, " ");

const expectEveryCaution = (out: string): void => {
  for (const { title, text, when } of cautionsWording.cautions) {
    if (when === "profile") continue;
    expect(out).toContain(title);
    expect(flat(out)).toContain(flat(text));
  }
};

const text = "4 x 20 s at 70%, rest 60 s";

describe("holdbook hold", () => {
  test("prints strip, doses, grade, what is left, what would fit and every caution in full", async () => {
    const { out, exitCode } = await run("hold", text, "--joint", "knee", "--all");
    expect(exitCode).toBe(0);
    expect(out).toContain("█");
    expect(out).toContain("5,600 %·s");
    expect(out).toContain("What is left at the end of each hold");
    expect(out).toContain("What would make it fit");
    const { grade } = canBeHeld(parsePrescription(`${text}, knee`));
    // The answer leads, and what follows stands in one order: strip, tables, doubts, cautions.
    expect(out.toLowerCase().startsWith(`${grade}:`)).toBe(true);
    const places = ["█", "What follows from the prescription", "Doubts and notes", "Stop"].map(
      (words) => out.indexOf(words),
    );
    expect(places).toEqual([...places].sort((a, b) => a - b));
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

  test("on the first screen: answer, stop signs, what this session triggers, strip, what would fit", async () => {
    const { out } = await run("hold", "4 x 30 s at 92%, rest 60 s, knee, long");
    const screen = out.split("\n");
    expect(screen.length).toBeLessThanOrEqual(50);
    const { stopSigns, cautions } = cautionsWording;
    for (const sign of stopSigns.signs) expect(flat(out)).toContain(sign);
    expect(flat(out)).toContain(
      "Ask a clinician first. Local rules and licensed practice come first.",
    );
    expect(flat(out)).toContain("Eyes: pressure and glaucoma: this protocol is near-maximal.");
    expect(flat(out)).toContain(
      "Long muscle length: go slowly: this protocol is held at long muscle",
    );
    const heard = [...flat(out).matchAll(/! /gu)].length;
    // signs, whom to ask, five that this session triggers, and how to read the others
    expect(heard).toBe(8);
    expect(out).toContain(
      `and ${cautions.filter(({ when }) => when !== "profile").length - 7} more cautions`,
    );
    const places = ["Stop at once", "█", "What would make it fit", "Doubts and notes", "--all"].map(
      (words) => out.indexOf(words),
    );
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(out).not.toContain("What follows from the prescription");
  });

  test("without a rest it says the doses and what is missing", async () => {
    const { out, exitCode } = await run("hold", "4 x 20 s at 70%", "--cautions");
    expect(exitCode).toBe(2);
    expect(flat(out)).toContain("cannot be said without rest between holds");
    expect(out).toContain("80 s");
    expectEveryCaution(out);
  });

  test("two joints are one too many; a bad text is pointed at", async () => {
    const two = await run("hold", `${text}, elbow`, "--joint", "knee");
    expect(two).toMatchObject({ exitCode: 2, out: "" });
    expect(two.err).toMatch(/knee beside elbow/);
    const bad = await run("hold", "4 x 30 q");
    expect(bad).toMatchObject({ exitCode: 2, out: "" });
    expect(bad.err).toContain("q");
  });
});

describe("holdbook ramp", () => {
  const words = ["ramp", text, "--from", "deconditioned", "--weeks", "8", "--joint", "knee"];
  const plan = rampPlan(parsePrescription(`${text}, knee`), { from: "deconditioned", weeks: 8 });

  test("prints a row a week and every caution", async () => {
    const { out, exitCode } = await run(...words, "--cautions");
    expect(exitCode).toBe(0);
    expect(out).toContain("Working up in 8 weeks");
    if (plan.kind !== "plan") throw new Error("no plan");
    for (const { change } of plan.weeks)
      if (change !== undefined) expect(change.to).not.toBe(change.from);
    expect(
      plan.weeks
        .map(({ written }) => written)
        .every((one) => flat(out).includes(one.split(",")[0]!)),
    ).toBe(true);
    expectEveryCaution(out);
  });

  test("JSON is the library's plan", async () => {
    const { out } = await run(...words, "--json");
    const answer = JSON.parse(out) as Record<string, unknown>;
    expect(answer).toMatchObject(JSON.parse(JSON.stringify(plan)) as object);
    expect(answer).toMatchObject({ refusal: null, file: null, question: { id: "ramp" } });
    expect(answer["soreness"]).toBeDefined();
    expect(answer["cautions"]).toMatchObject({ form: "full" });
  });

  test("-o writes the sheet, the figure and the table", async () => {
    const directory = join(folder, "ramp");
    await run(...words, "-o", directory);
    expect(await readFile(join(directory, "sheet.html"), "utf8")).toContain(
      "Working up to 4 holds of 20 s, 70% of your best",
    );
    expect(await readdir(join(directory, "figures"))).toContain("ramp.svg");
    expect(
      (await readFile(join(directory, "tables", "ramp.csv"), "utf8")).trim().split("\n"),
    ).toHaveLength(9);
  });

  // What is written is what is answered: of a refusal its tables and the cautions, and no figure and no sheet.
  test("a refusal says what is missing, writes no sheet and ends with 2", async () => {
    const directory = join(folder, "none");
    const { out, exitCode } = await run(
      "ramp",
      "4 x 20 s at 75%, knee",
      "--from",
      "trained",
      "--weeks",
      "10",
      "--cautions",
      "-o",
      directory,
    );
    expect(exitCode).toBe(2);
    expect(out.startsWith("No plan")).toBe(true);
    expect(flat(out)).toContain("without rest between holds");
    expect((await readdir(directory)).filter((name) => !name.startsWith("."))).toEqual([
      "cautions.md",
      "tables",
    ]);
    expect(out).toContain(`Tables are in ${directory}.`);
    expectEveryCaution(out);
  });

  test("where the person is and the weeks must be said", async () => {
    const from = await run("ramp", text, "--weeks", "8");
    expect(from).toMatchObject({ exitCode: 2, out: "" });
    expect(from.err).toMatch(/--from/);
    expect((await run("ramp", text, "--from", "trained")).err).toMatch(/--weeks/);
    for (const weeks of ["x", "0", "2.5", "105"])
      expect((await run("ramp", text, "--from", "trained", "--weeks", weeks)).err).toMatch(
        /--weeks/,
      );
    const { out, exitCode } = await run(
      "ramp",
      "20 x 6 s at 70%",
      "--from",
      "trained",
      "--weeks",
      "8",
      "--cautions",
    );
    expect(exitCode).toBe(2);
    expect(flat(out)).toContain("No plan: no week can be checked without rest between holds");
    expectEveryCaution(out);
  });
});
