import { answered } from "../../src/answers/ask.js";
import { averageOf, averageShape } from "../../src/answers/average.js";
import { effectShape, effectsOptionsOf } from "../../src/answers/effect-options.js";
import { effectsOf, openEvidence } from "../../src/answers/evidence.js";
import { headlineGroups } from "../../src/answers/headline-selection.js";
import { resolvedOptions } from "../../src/answers/option.js";
import { sweep } from "../../src/answers/sweep.js";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { effectInputs } from "../../src/synthesis/effect-inputs.js";
import { mustHold, type Bench } from "./bench.js";
import { secondsOf } from "./timing.js";

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
    progress("timing");
    const times = Array.from({ length: rounds }, () => ({
      own: secondsOf(() => answered(sweep, opened(), { outcome })),
      one: secondsOf(() => Array.from({ length: fits }, fit)) / fits,
    }));
    const shortest = (name: "own" | "one"): number => Math.min(...times.map((time) => time[name]));
    return await Promise.resolve([
      {
        what: "the sweep / one fit × its ways",
        value: shortest("own") / (shortest("one") * ways),
        unit: "times" as const,
        how: `${ways} ways, effects made anew for every set of assumptions; on one core`,
      },
      { what: "the sweep", value: shortest("own"), unit: "seconds" as const },
    ]);
  },
};
