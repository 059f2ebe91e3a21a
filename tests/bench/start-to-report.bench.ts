import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { mustHold, type Bench, type Measure } from "./bench.js";
import { benchRoot, builtCommand, fromChild } from "./child.js";
import { secondsOf } from "./timing.js";

/** From the command of `npm start` to the finished report on the demonstration register, and its parts. */
export const startToReport: Bench = {
  name: "start-to-report",
  title: "From npm start to the finished report on the demonstration register",
  run: async (progress) => {
    const folder = mkdtempSync(join(tmpdir(), "bench-"));
    try {
      const whole = join(folder, "whole");
      const inParts = join(folder, "parts");
      const job = () => builtCommand(["start", "--demonstration", "-o", whole, "--quiet"]);
      mustHold("the command says where the report is", job().includes("report.html"));
      progress("timing the command");
      const seconds = Math.min(secondsOf(job), secondsOf(job), secondsOf(job));
      progress("timing its parts");
      const demo = join(benchRoot, "data/demo-register.csv");
      const runs = [0, 1].map(
        () => fromChild("start-parts", [demo, inParts]) as Readonly<Record<string, number>>,
      );
      const page = (directory: string): Buffer => readFileSync(join(directory, "report.html"));
      mustHold("both wrote the same page", page(whole).equals(page(inParts)));
      const total = (run: Readonly<Record<string, number>>): number =>
        Object.values(run).reduce((sum, value) => sum + value, 0);
      const [first = {}, second = {}] = runs;
      const parts = total(first) < total(second) ? first : second;
      progress("timing one fit and the drawing alone");
      const fit = fromChild("fit-alone", [demo]) as { kind: string; seconds: number };
      mustHold("there is an average", fit.kind === "average");
      const drawing = fromChild("draw-alone", [whole]) as { seconds: number };
      return await Promise.resolve([
        { what: "command to finished report", value: seconds, unit: "seconds" },
        {
          what: "command, beside one pooled fit and the drawing of the figures shown",
          value: seconds / (fit.seconds + drawing.seconds),
          unit: "times",
          goal: { atMost: 1.5 },
          how: `fit ${fit.seconds.toFixed(2)} s, drawing alone ${drawing.seconds.toFixed(2)} s`,
        },
        ...Object.entries(parts).map(([part, value]): Measure => ({
          what: `share: ${part}`,
          value: (100 * value) / total(parts),
          unit: "percent",
        })),
      ]);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};
