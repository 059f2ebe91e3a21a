import { execFileSync } from "node:child_process";
import { join } from "node:path";

/** The project's root, seen from the bundle in build/bench/. */
export const benchRoot = join(import.meta.dirname, "..", "..");

/** What a program of tests/bench/children prints as JSON, run in a Node of its own. */
export const fromChild = (name: string, argumentList: readonly string[]): unknown =>
  JSON.parse(
    execFileSync(
      process.execPath,
      ["--expose-gc", join(import.meta.dirname, `${name}.mjs`), ...argumentList],
      { encoding: "utf8", cwd: benchRoot, maxBuffer: 1 << 26 },
    ),
  );

/** Runs the built command; its standard output. */
export const builtCommand = (argumentList: readonly string[]): string =>
  execFileSync(process.execPath, [join(benchRoot, "dist/command/main.js"), ...argumentList], {
    encoding: "utf8",
    cwd: benchRoot,
    stdio: ["ignore", "pipe", "inherit"],
  });
