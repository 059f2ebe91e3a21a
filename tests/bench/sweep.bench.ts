import { availableParallelism } from "node:os";
import { join } from "node:path";
import { answered, answeredWith } from "../../src/answers/ask.js";
import { averageOf, averageShape } from "../../src/answers/average.js";
import { effectShape, effectsOptionsOf } from "../../src/answers/effect-options.js";
import { effectsOf, openEvidence } from "../../src/answers/evidence.js";
import { headlineGroups } from "../../src/answers/headline-selection.js";
import { resolvedOptions } from "../../src/answers/option.js";
import { sweep } from "../../src/answers/sweep.js";
import { helpingThreads } from "../../src/command/helping-threads.js";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { effectInputs } from "../../src/synthesis/effect-inputs.js";
import { mustHold, type Bench } from "./bench.js";
import { benchRoot } from "./child.js";
import { secondsOf, secondsUntil } from "./timing.js";

const outcome = "strength";
const rounds = 3;
/** Fits that are timed together, as one takes a few milliseconds. */
const fits = 20;

/** Every way of analysing an average, against as many single fits of the one that is shown. */
export const sweepBench: Bench = {
  name: "sweep",
  title: "The sweep of an average against one fit times the number of its ways",
  run: async (progress) => {
    const table = readTable(demoRegisterCsv());
    /** A file opened anew, so that nothing made for it is kept. */
    const opened = () => openEvidence({ name: "bench", fingerprint: "bench", table });
    const options = resolvedOptions({ ...effectShape, ...averageShape }, {});
    const group = headlineGroups(effectsOf(opened(), effectsOptionsOf(options))).find(
      ({ id }) => id === outcome,
    )!;
    const fit = () => averageOf({ ...effectInputs(group.headline), ready: false }, options);
    const [told] = answered(sweep, opened(), { outcome }).data.groups;
    if (told?.kind !== "told") throw new Error("the sweep gives no answer");
    const { ways } = told.all;
    const shown = fit();
    mustHold(
      "its first way is the fit that is timed",
      shown.kind === "average" && shown.result.estimate === told.shown.estimate,
    );
    // The built program's own thread: the bundle of the bench has none.
    const thread = join(benchRoot, "dist/command/helping-thread.js");
    const shared = () =>
      answeredWith(sweep, opened(), { outcome }, undefined, helpingThreads(1, thread));
    mustHold(
      "two cores give what one gives",
      JSON.stringify(await shared()) === JSON.stringify(answered(sweep, opened(), { outcome })),
    );
    progress("timing");
    const times: Readonly<Record<"own" | "two" | "one", number>>[] = [];
    for (let round = 0; round < rounds; round += 1)
      times.push({
        own: secondsOf(() => answered(sweep, opened(), { outcome })),
        two: await secondsUntil(shared),
        one: secondsOf(() => Array.from({ length: fits }, fit)) / fits,
      });
    const shortest = (name: "own" | "two" | "one"): number =>
      Math.min(...times.map((time) => time[name]));
    const ratio = (name: "own" | "two", on: string) => ({
      what: `the sweep on ${on} / one fit × its ways`,
      value: shortest(name) / (shortest("one") * ways),
      unit: "times" as const,
      how: `${ways} ways, effects made anew for every set of assumptions${name === "two" ? "; with the start of the second thread" : ""}`,
    });
    return [
      ratio("own", "one core"),
      // A second thread on one core would be measured against itself.
      ...(availableParallelism() > 1
        ? [
            ratio("two", "two cores"),
            {
              what: "on two cores / on one",
              value: shortest("two") / shortest("own"),
              unit: "times" as const,
            },
          ]
        : []),
      { what: "the sweep on one core", value: shortest("own"), unit: "seconds" as const },
    ];
  },
};
