// Bundles tests/fuzz (packages stay outside) into build/fuzz/ and runs it there: damaged files, written protocols and
// command lines by the thousand, each by its seed. `npm run fuzz -- files 1234 1` runs the damaged file of one seed.
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { build } from "esbuild";

const root = import.meta.dirname;
await build({
  entryPoints: [join(root, "tests/fuzz/main.ts")],
  outfile: join(root, "build/fuzz/main.mjs"),
  bundle: true,
  // Two folders below the root, as the test's own files are, because it reads data from there.
  packages: "external",
  platform: "node",
  format: "esm",
  target: "node20",
  logLevel: "warning",
});
const words = [join(root, "build/fuzz/main.mjs"), ...process.argv.slice(2)];
const { status } = spawnSync(process.execPath, words, { cwd: root, stdio: "inherit" });
process.exit(status ?? 1);
