import { answered } from "../../src/answers/ask.js";
import { compare } from "../../src/answers/compare.js";
import { openEvidence } from "../../src/answers/evidence.js";
import { hold } from "../../src/answers/hold.js";
import { project } from "../../src/answers/project.js";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { prepareProjection } from "../../src/projection/prepare-projection.js";
import { mustHold, type Bench } from "./bench.js";
import { secondsOf } from "./timing.js";

/** Papers of the invented register that hold a hundred arms with strength at the trained angle. */
const papers = 47;
/** One frame of a screen that draws sixty a second. */
const frameSeconds = 1 / 60;
const moves = 121;

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Infinity;

/** A slider moved with two protocols on the screen, against one frame; and the refit when the file changes. */
export const projection: Bench = {
  name: "projection",
  title: "Two protocols held, projected and compared on a register of 100 arms",
  run: async (progress) => {
    const evidence = openEvidence({
      name: "bench",
      fingerprint: "bench",
      table: readTable(demoRegisterCsv({ studies: papers })),
    });
    const { rows } = evidence.records;
    const set = effectsFromRows(rows, { scale: "log-ratio-of-means" });
    const refit = () => prepareProjection(set, { goal: "strength at the trained angle", rows });
    progress("fitting");
    const prepared = refit();
    if (prepared.kind === "refusal") throw new Error(prepared.reason);
    mustHold(
      `the register has about 100 arms (${prepared.arms.length})`,
      prepared.arms.length > 99,
    );
    mustHold(
      `quantiles have settled (${prepared.quadrature.largestChange})`,
      (prepared.quadrature.largestChange ?? Infinity) <= prepared.quadrature.tolerance,
    );
    const short = "4 x 5 x 5 s at 90%, rest 10 s, 120 s between sets, 3/week, 8 weeks, middle";
    const longAt = (effort: number) => `4 x 6 s at ${effort}%, rest 120 s, 3/week, 12 weeks, long`;
    /** What a moved slider asks: the session, its projection, and the comparison with the protocol beside it. */
    const move = (step: number) => {
      const protocol = longAt(55 + (step % 40));
      return {
        held: answered(hold, undefined, { protocol }),
        first: answered(project, evidence, { protocol }).data.answer,
        both: answered(compare, evidence, { protocol: [protocol, short] }).data.answer,
      };
    };
    const { first, both } = move(20);
    mustHold(
      "a person's range holds a new group's, which holds the average's",
      first !== null &&
        first.ranges.person.low < first.ranges.newGroup.low &&
        first.ranges.newGroup.low < first.ranges.average.low,
    );
    mustHold("the two are compared", both !== null);
    progress("moving the slider");
    for (let step = 0; step < 20; step++) move(step);
    const seconds = Array.from({ length: moves }, (_, step) => secondsOf(() => move(step)));
    progress("timing the refit");
    const refits = Array.from({ length: 3 }, () => secondsOf(refit));
    return await Promise.resolve([
      {
        what: "one move of the slider / one frame, median",
        value: median(seconds) / frameSeconds,
        unit: "times" as const,
        goal: { atMost: 1 },
        how: "the questions hold, project (with its course over weeks) and compare, answered as plain data; a frame is 16.7 ms",
      },
      {
        what: "one move of the slider, median",
        value: 1000 * median(seconds),
        unit: "milliseconds" as const,
      },
      {
        what: "the refit when the file changes",
        value: Math.min(...refits),
        unit: "seconds" as const,
        how: `${prepared.effects} effects of ${prepared.arms.length} arms, ${prepared.design.columnNames.length} coefficients, ${prepared.quadrature.variables} variables integrated over`,
      },
    ]);
  },
};
