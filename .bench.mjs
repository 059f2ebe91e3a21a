// Runs the benchmarks with the garbage collector within reach. `npm run bench -- reading` runs only those whose name
// holds the word.
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { runBundled } from "./.run-bundled.mjs";

const children = readdirSync(join(import.meta.dirname, "tests/bench/children"))
  .filter((name) => name.endsWith(".ts"))
  .map((name) => join("children", name));
await runBundled("bench", { beside: children, node: ["--expose-gc"] });
