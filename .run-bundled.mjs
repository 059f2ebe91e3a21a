// Bundles a program of tests/ (packages stay outside) into build/ under the same name and runs it there with the words
// that were typed; used by the bench, the fuzzer and the slips.
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { build } from "esbuild";

const root = import.meta.dirname;

export const runBundled = async (name, { beside = [], node = [] } = {}) => {
  const folder = join(root, "tests", name);
  // Two folders below the root, as the test's own files are, because it reads data from there.
  const out = join(root, "build", name);
  await build({
    entryPoints: ["main.ts", ...beside].map((file) => join(folder, file)),
    outdir: out,
    outbase: folder,
    // Programs beside it too: the deeper ones would look for fonts a folder too low.
    entryNames: "[name]",
    outExtension: { ".js": ".mjs" },
    bundle: true,
    packages: "external",
    platform: "node",
    format: "esm",
    target: "node20",
    logLevel: "warning",
  });
  const words = [...node, join(out, "main.mjs"), ...process.argv.slice(2)];
  const { status } = spawnSync(process.execPath, words, { cwd: root, stdio: "inherit" });
  process.exit(status ?? 1);
};
