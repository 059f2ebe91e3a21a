import { curveGrid } from "../../src/dose/curve-grid.js";
import { doseResponse, gainAt } from "../../src/dose/dose-response.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { doseTrials } from "../dose/dose-trials.js";
import { mustHold, type Bench } from "./bench.js";
import { shortestInTurns } from "./timing.js";

/** Seconds between two pictures of a screen that shows sixty a second. */
const frame = 1 / 60;
const redraws = 20;

/** A fitted curve read again, as a page does while a slider moves: nothing is refitted. */
export const doseCurve: Bench = {
  name: "dose-curve",
  title: "A dose curve with both bands written out anew, against one frame of the screen",
  run: async (progress) => {
    progress("fitting a file of 40 studies");
    const { set } = doseTrials(randomStream(71), { studies: 40, arms: [2, 3] });
    const answer = doseResponse(set, "intensityPercent");
    if (answer.kind === "refusal") throw new Error(answer.reason);
    const { averaged, range, support, simultaneousMultiple, curve } = answer;
    const redraw = () => curveGrid(averaged, range, support, simultaneousMultiple);
    mustHold(
      "the curve written out anew is the answer's own",
      JSON.stringify(redraw()) === JSON.stringify(curve),
    );
    mustHold("the demanded dose is told", gainAt(answer, 65).kind === "told");
    progress("timing");
    const [curves = Infinity, dose = Infinity] = shortestInTurns(
      [
        () => {
          for (let i = 0; i < redraws; i++) redraw();
        },
        () => {
          for (let i = 0; i < redraws; i++) gainAt(answer, 30 + 3 * i);
        },
      ],
      5,
    );
    return Promise.resolve([
      {
        what: "curve and both bands on their grid, over one frame (16.7 ms)",
        value: curves / redraws / frame,
        unit: "times" as const,
        goal: { atMost: 1 },
        how: `${curve.length} doses, ${averaged.components.length} shapes averaged, mean of ${redraws}, shortest of five`,
      },
      {
        what: "gain at one dose, over one frame (16.7 ms)",
        value: dose / redraws / frame,
        unit: "times" as const,
        goal: { atMost: 0.1 },
      },
    ]);
  },
};
