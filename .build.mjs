// Builds src/ into dist/: declarations by the project's own TypeScript (another package also ships a command
// of that name, so the compiler is called by its path; types are checked by `npm run check`, not here), and
// the library, the notebook's part, the command line and its threads as bundles that share their pieces, so that a command
// loads what it needs and no more. The page's program and style are bundled too, so that who uses the package
// needs neither the bundler nor the page's packages. The build is made in a folder of its own and takes its
// place whole: one that fails leaves the last standing, and two at once do not mix.
import { execFileSync } from "node:child_process";
import {
  chmodSync,
  existsSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";
import { bundlePage } from "./.bundle-page.mjs";

const root = import.meta.dirname;
const began = new Date();
const fresh = join(root, `.dist-${process.pid}`);
const old = join(root, `.dist-${process.pid}-old`);
const place = join(root, "dist");

// These come in many small files that are slow to load; every other package is left where it is installed.
const inside = ["csv-parse", "pure-rand", "simple-statistics", "zod"];
const { dependencies } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
const outside = Object.keys(dependencies).filter((name) => !inside.includes(name));

/**
 * What travels with Holdbook: every package that is installed with it or stands in a bundle, with its version and licence,
 * and the whole licence texts of those that stand in bundles.
 */
const notice = (metafiles) => {
  const { packages } = JSON.parse(readFileSync(join(root, "package-lock.json"), "utf8"));
  const inputs = metafiles.flatMap(({ inputs }) => Object.keys(inputs));
  const bundled = inputs.flatMap((input) => /^node_modules\/(?:@[^/]+\/)?[^/]+/.exec(input) ?? []);
  const installed = Object.keys(packages).filter(
    (path) => path !== "" && packages[path].dev !== true && packages[path].link !== true,
  );
  const line = (path) =>
    `${path.replace(/^.*node_modules\//u, "")} ${packages[path].version} (${packages[path].license})`;
  const text = (path) => {
    const folder = join(root, path);
    const file = readdirSync(folder).find((each) => /^licen[cs]e/i.test(each));
    return file === undefined ? "" : `${line(path)}\n\n${readFileSync(join(folder, file), "utf8")}`;
  };
  const lines = [...new Set([...installed, ...bundled])].map(line);
  const texts = [...new Set(bundled)].sort().map(text).filter((each) => each !== "");
  const head = "Holdbook comes with these packages of others.";
  return [head, [...new Set(lines)].sort().join("\n"), ...texts].join("\n\n");
};

try {
  const compiler = join(root, "node_modules/typescript/bin/tsc");
  const words = ["-p", root, "--outDir", fresh, "--emitDeclarationOnly", "--noCheck"];
  execFileSync(process.execPath, [compiler, ...words], { cwd: root, stdio: "inherit" });
  const { metafile } = await build({
    absWorkingDir: root,
    entryPoints: [
      "src/index.ts",
      "src/notebook/notebook.ts",
      "src/command/main.ts",
      "src/host/drawing-thread.ts",
      "src/command/helping-thread.ts",
    ],
    outbase: "src",
    outdir: fresh,
    // A piece stands as deep as the files it was made of, because some look for data beside themselves.
    chunkNames: "pieces/[name]-[hash]",
    bundle: true,
    splitting: true,
    external: outside.flatMap((name) => [name, `${name}/*`]),
    platform: "node",
    format: "esm",
    target: "node20",
    charset: "utf8",
    metafile: true,
    logLevel: "warning",
  });
  chmodSync(join(fresh, "command/main.js"), 0o755);
  const page = await bundlePage({ directory: join(fresh, "page") });
  writeFileSync(join(fresh, "NOTICE.txt"), notice([metafile, page.metafile]));
  // Dated to the beginning, so that a source changed meanwhile counts as newer than the build.
  writeFileSync(join(fresh, ".built"), "");
  utimesSync(join(fresh, ".built"), began, began);
  if (existsSync(place)) renameSync(place, old);
  renameSync(fresh, place);
} finally {
  rmSync(fresh, { recursive: true, force: true });
  rmSync(old, { recursive: true, force: true });
}
