// Does the set-up that a fresh clone needs before `npm start` and `npm test`: installs packages of the
// lock file when they are missing or older than it, and compiles when a source is newer than the last build. Plain JavaScript with nothing imported from outside Node, because it runs
// before anything is installed.
import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { createHash } from "node:crypto";
import { join } from "node:path";

const root = import.meta.dirname;
const run = (command, args) =>
  execFileSync(command, args, { cwd: root, stdio: ["ignore", 2, 2], shell: process.platform === "win32" });

const [major, minor] = process.versions.node.split(".").map(Number);
if (major < 20 || (major === 20 && minor < 19)) {
  console.error(`holdbook requires Node 20.19 or newer, got ${process.versions.node}`);
  process.exit(2);
}

// The main job needs the packages that travel with Holdbook and the few that build it; tests, notebooks and
// checks need all that the lock file names (`--all`). Both are taken from the lock file, at its versions.
const lockText = readFileSync(join(root, "package-lock.json"));
const lock = JSON.parse(lockText);
const builders = ["esbuild", "typescript", "preact", "vega-interpreter", "idb-keyval", "@tanstack/virtual-core", "@types/node"];
const all = process.argv.includes("--all");

// What is installed is remembered by the lock file's own hash, so a changed lock file is noticed.
const lockHash = createHash("sha256").update(lockText).digest("hex");
const stamp = join(root, "node_modules", ".holdbook-lock");
const [hash, extent] = existsSync(stamp) ? readFileSync(stamp, "utf8").split(" ") : [];
if (hash !== lockHash || (all && extent !== "all")) {
  console.error(`holdbook: installing packages${all ? " for tests and notebooks" : ""} (once)`);
  const quiet = ["--no-audit", "--no-fund"];
  if (all) run("npm", ["ci", ...quiet]);
  else {
    const versions = builders.map((name) => `${name}@${lock.packages[`node_modules/${name}`].version}`);
    run("npm", ["ci", "--omit=dev", ...quiet]);
    // Asked for as if they travelled, because npm leaves out what only development needs; nothing is written down.
    run("npm", ["install", "--save-prod", "--no-save", "--omit=dev", ...quiet, ...versions]);
  }
  writeFileSync(stamp, `${lockHash} ${all ? "all" : "main"}`);
}

const newest = (path) => {
  const status = statSync(path);
  if (!status.isDirectory()) return status.mtimeMs;
  return Math.max(status.mtimeMs, ...readdirSync(path).map((name) => newest(join(path, name))));
};
const built = join(root, "dist", ".built");
const sources = ["src", "package.json", "tsconfig.json"].map((name) => newest(join(root, name)));
if (!existsSync(built) || Math.max(...sources) > statSync(built).mtimeMs) {
  console.error("holdbook: building");
  run("npm", ["run", "--silent", "build"]);
}
