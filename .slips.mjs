// Bundles tests/slips into build/slips/ and runs it: `npm run slips` types every slip at every row, arm and study
// of the files in data/ and prints how many the reader notices. `npm run slips -- "hold ×10"` tries one kind.
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { build } from "esbuild";

const root = import.meta.dirname;
await build({
  entryPoints: [join(root, "tests/slips/main.ts")],
  outfile: join(root, "build/slips/main.mjs"),
  bundle: true,
  packages: "external",
  platform: "node",
  format: "esm",
  target: "node20",
  logLevel: "warning",
});
const { status } = spawnSync(
  process.execPath,
  [join(root, "build/slips/main.mjs"), ...process.argv.slice(2)],
  { cwd: root, stdio: "inherit" },
);
process.exit(status ?? 1);
