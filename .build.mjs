// Compiles src/ to dist/ with the project's own TypeScript (another package also ships a command of
// that name, so the compiler is called by its path), and bundles the page's program and style, so that
// who uses the package needs neither the bundler nor the page's packages.
import { execFileSync } from "node:child_process";
import { chmodSync, rmSync } from "node:fs";
import { join } from "node:path";
import { bundlePage } from "./.bundle-page.mjs";

const root = import.meta.dirname;
rmSync(join(root, "dist"), { recursive: true, force: true });
execFileSync(process.execPath, [join(root, "node_modules/typescript/bin/tsc"), "-p", root], { cwd: root, stdio: "inherit" });
chmodSync(join(root, "dist/command/main.js"), 0o755);
await bundlePage({ directory: join(root, "dist/page") });
