// Bundles the notebook runner of tests/notebook (packages stay outside) into build/notebooks/ and runs
// it. `npm run notebooks -- --check 3` runs the notebooks with a 3 in their names and writes nothing.
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { build } from "esbuild";

const root = import.meta.dirname;
const outfile = join(root, "build/notebooks/main.mjs");
await build({
  entryPoints: [join(root, "tests/notebook/runner/main.ts")],
  outfile,
  bundle: true,
  packages: "external",
  platform: "node",
  format: "esm",
  target: "node20",
  logLevel: "warning",
});
const { status } = spawnSync(process.execPath, [outfile, ...process.argv.slice(2)], {
  cwd: root,
  stdio: "inherit",
});
process.exit(status ?? 1);
