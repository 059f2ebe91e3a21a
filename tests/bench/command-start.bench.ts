import { execFileSync } from "node:child_process";
import { mustHold, type Bench } from "./bench.js";
import { builtCommand } from "./child.js";
import { shortestInTurns } from "./timing.js";

/** From the call of a quick command to its answer, in starts of a Node that does nothing. */
export const commandStart: Bench = {
  name: "command-start",
  title: "A quick command against a Node that does nothing",
  run: async (progress) => {
    const session = "4 x 20 s at 70%, rest 60 s";
    const hold = () => builtCommand(["hold", session]);
    mustHold("the command answers", hold().includes("4 × 20 s at 70%"));
    progress("timing both in turns");
    const bare = () => execFileSync(process.execPath, ["-e", "0"]);
    const [answered = NaN, nothing = NaN] = shortestInTurns([hold, bare], 15);
    return await Promise.resolve([
      {
        what: "start to answer of holdbook hold",
        value: answered / nothing,
        unit: "times",
        goal: { atMost: 3 },
        how: "shortest of 15 runs each, in turns",
      },
    ]);
  },
};
