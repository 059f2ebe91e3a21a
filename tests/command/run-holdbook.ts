import { spawnSync } from "node:child_process";
import { freshBuild } from "../house/fresh-build.js";
import { projectRoot } from "../house/source-tree.js";

export { fileOf, testFolder } from "./test-folder.js";

const main = freshBuild();

export type Ran = Readonly<{ exitCode: number | null; out: string; err: string }>;

/** Runs the built command from the project's root with pipes for both streams. */
export const holdbook = (...argumentList: readonly string[]): Ran => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [main, ...argumentList], {
    cwd: projectRoot,
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  return { exitCode: status, out: stdout, err: stderr };
};

/** The JSON object a command prints; refused unless it is all that it prints, on both streams. */
export const jsonOf = <Shape>(...argumentList: readonly string[]): Shape => {
  const { exitCode, out, err } = holdbook(...argumentList, "--json");
  if (exitCode !== 0 || err !== "") throw new Error(`exit ${exitCode}: ${err}`);
  return JSON.parse(out) as Shape;
};
