import { execFileSync } from "node:child_process";
import { existsSync, statSync } from "node:fs";
import { join } from "node:path";
import { filesBelow, projectRoot } from "./source-tree.js";

/**
 * Path of the built command, newer than every source file; builds where it is not.
 *
 * `npm test` has built before it calls the tests, so this only works when one test is run by hand.
 */
export const freshBuild = (): string => {
  const main = join(projectRoot, "dist/command/main.js");
  const newest = Math.max(
    ...filesBelow("src").map((file) => statSync(join(projectRoot, file)).mtimeMs),
  );
  const stamp = join(projectRoot, "dist/.built");
  if (!existsSync(stamp) || statSync(stamp).mtimeMs < newest)
    execFileSync(process.execPath, [join(projectRoot, ".build.mjs")], { cwd: projectRoot });
  return main;
};
