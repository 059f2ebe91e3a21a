// Compiles src/ to dist/ with the project's own TypeScript (another package also ships a command of
// that name, so the compiler is called by its path), and bundles the page's program and style, so that
// who uses the package needs neither the bundler nor the page's packages. The build is made in a folder
// of its own and takes its place whole: one that fails leaves the last standing, and two at once do not mix.
import { execFileSync } from "node:child_process";
import { chmodSync, existsSync, renameSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { bundlePage } from "./.bundle-page.mjs";

const root = import.meta.dirname;
const began = new Date();
const fresh = join(root, `.dist-${process.pid}`);
const old = join(root, `.dist-${process.pid}-old`);
const place = join(root, "dist");
try {
  const compiler = join(root, "node_modules/typescript/bin/tsc");
  execFileSync(process.execPath, [compiler, "-p", root, "--outDir", fresh], { cwd: root, stdio: "inherit" });
  chmodSync(join(fresh, "command/main.js"), 0o755);
  await bundlePage({ directory: join(fresh, "page") });
  // Dated to the beginning, so that a source changed meanwhile counts as newer than the build.
  writeFileSync(join(fresh, ".built"), "");
  utimesSync(join(fresh, ".built"), began, began);
  if (existsSync(place)) renameSync(place, old);
  renameSync(fresh, place);
} finally {
  rmSync(fresh, { recursive: true, force: true });
  rmSync(old, { recursive: true, force: true });
}
