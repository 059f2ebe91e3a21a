/**
 * Identity: a figure made by the page's own jobs is made again by the command line from the page's recipe, with the
 * same numbers. The jobs run in Node here, so this holds the words and not the browser's arithmetic.
 */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { openEvidence } from "../../src/answers/evidence.js";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { fingerprintOf } from "../../src/command/read-input.js";
import { comparisonFigure } from "../../src/figures/comparison-figure.js";
import type { Figure } from "../../src/figures/figure.js";
import { rampFigure } from "../../src/figures/ramp-figure.js";
import { doseJob } from "../../src/page/jobs/dose-job.js";
import { exploreJob } from "../../src/page/jobs/explore-job.js";
import { figuresJob } from "../../src/page/jobs/figures-job.js";
import type { Bench } from "../../src/page/jobs/bench.js";
import { preparedOn } from "../../src/page/jobs/prepare-projection-job.js";
import { variablesJob } from "../../src/page/jobs/variables-job.js";
import {
  comparisonWords,
  doseWords,
  exploreWords,
  rampWords,
  reportWords,
  variablesWords,
  type RecipeWords,
} from "../../src/page/recipe-words.js";
import { compareProtocols } from "../../src/projection/compare-protocols.js";
import { rampPlan } from "../../src/projection/ramp-plan.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { figureRecipe, recipeText } from "../../src/report/figure-recipe.js";
import { runHere } from "../command/run-here.js";

const folder = mkdtempSync(join(tmpdir(), "holdbook-recipes-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const csv = demoRegisterCsv();
const name = "demo-register.csv";
const file = join(folder, name);
writeFileSync(file, csv);
const fingerprint = fingerprintOf(new TextEncoder().encode(csv));
const table = readTable(csv);
const bench: Bench = { file: openEvidence({ name, fingerprint, table }) };
const silent = (): void => undefined;
const scale = "log-ratio-of-means";
const contrast = "change-within-arm";

const reproduced = async (figure: Figure, words: RecipeWords, data = true): Promise<void> => {
  const recipe = join(folder, `${figure.id}.recipe.json`);
  const job = { command: words, data: data ? { name, fingerprint } : null };
  writeFileSync(recipe, recipeText(figureRecipe(figure, job)));
  const ran = await runHere("reproduce", recipe, ...(data ? [file] : []));
  expect([ran.exitCode, ran.err], ran.out).toEqual([0, ""]);
  expect(ran.out).toMatch(/identical/i);
};

const first = <Item>(items: readonly Item[]): Item => {
  const [item] = items;
  if (item === undefined) throw new Error("nothing was made");
  return item;
};

describe("a figure of the page is made again by its recipe", () => {
  test("of the report", async () => {
    const figures = await figuresJob(bench, { scale }, silent);
    const map = figures.find(({ id }) => id === "evidence-map");
    await reproduced(first(map === undefined ? [] : [map]), reportWords(scale));
  });

  test("a curve", async () => {
    const wish = {
      scale,
      contrast,
      family: "size",
      axis: "holdSeconds",
      comparisons: "within studies",
    } as const;
    const { figure } = await doseJob(bench, wish, silent);
    await reproduced(first(figure === undefined ? [] : [figure]), doseWords(wish));
  });

  test.each(["equal tension", "joint angle", "time"] as const)("of %s", async (question) => {
    const wish = { question, scale, contrast, equal: "torque–time" } as const;
    const { figures } = await variablesJob(bench, wish, silent);
    await reproduced(first(figures), variablesWords(wish));
  });

  test("a frontier", async () => {
    const wish = {
      goal: "size",
      contrast,
      limits: {
        minutesPerSession: 15,
        sessionsPerWeek: 3,
        effortCeilingPercent: 80,
        joint: "knee",
        weeks: 10,
      },
      keep: "near the limit",
    } as const;
    const found = await exploreJob(bench, wish, silent);
    if (found.kind === "refusal") throw new Error(found.reason);
    await reproduced(found.figure, exploreWords(wish));
  });

  test("a comparison at equal tension time", async () => {
    const { prepared } = preparedOn(bench, { goal: "size", contrast }, silent);
    const protocols = [
      "4 x 30 s at 70 %, rest 60 s, 3/week, 10 weeks, long, knee",
      "4 x 5 x 3 s at 95 %, rest 10 s, 120 s between sets, 3/week, 10 weeks, knee",
    ].map(parsePrescription);
    const options = {
      smallestWorthwhilePercent: 2,
      trainingStatus: "untrained",
      equalise: { quantity: "tension time", adjust: "repetitions" },
    } as const;
    const comparison = compareProtocols(prepared, protocols, options);
    if (comparison.kind === "refusal" || prepared.kind === "refusal") throw new Error("refused");
    const figure = comparisonFigure({
      comparison,
      prepared,
      timelines: comparison.protocols.map(({ prescription }) => sessionTimeline(prescription)),
    });
    await reproduced(figure, comparisonWords(protocols, { goal: "size", contrast, ...options }));
  });

  test("a working-up, which rests on no table", async () => {
    const target = parsePrescription("4 x 30 s at 70 %, rest 60 s, 3/week, long, knee");
    const plan = rampPlan(target, { from: "deconditioned", weeks: 12 });
    if (plan.kind !== "plan") throw new Error("no plan");
    await reproduced(rampFigure(plan), rampWords(target, "deconditioned", 12), false);
  });
});
