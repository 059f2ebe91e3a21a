// Bundles tests/bench (packages stay outside) into build/bench/ and runs it there with the garbage
// collector within reach. `npm run bench -- reading` runs only the benchmarks whose name holds the word.
import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";

const root = import.meta.dirname;
const folder = join(root, "tests/bench");
const children = readdirSync(join(folder, "children")).filter((name) => name.endsWith(".ts"));
await build({
  entryPoints: [join(folder, "main.ts"), ...children.map((name) => join(folder, "children", name))],
  outdir: join(root, "build/bench"),
  outbase: folder,
  outExtension: { ".js": ".mjs" },
  bundle: true,
  packages: "external",
  platform: "node",
  format: "esm",
  target: "node20",
  logLevel: "warning",
});
const { status } = spawnSync(
  process.execPath,
  ["--expose-gc", join(root, "build/bench/main.mjs"), ...process.argv.slice(2)],
  { cwd: root, stdio: "inherit" },
);
process.exit(status ?? 1);
