import { spawnSync } from "node:child_process";
import { freshBuild } from "../house/fresh-build.js";
import { projectRoot } from "../house/source-tree.js";
import type { Ran } from "./run-here.js";

const main = freshBuild();

/**
 * Runs the built command from the project's root with pipes for both streams: for what only a process
 * shows. Everything else is asked of `runHere`, which spares the start.
 */
export const holdbook = (...argumentList: readonly string[]): Ran => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [main, ...argumentList], {
    cwd: projectRoot,
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  return { exitCode: status, out: stdout, err: stderr };
};
