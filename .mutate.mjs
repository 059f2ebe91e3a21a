// Tries small changes of meaning ("mutants") in one folder of src against the tests of the same room:
// `npm run mutate -- src/tables [seed]`. Three hundred mutants are drawn by the seed (1 unless given), every
// mutant equally likely, and each that its room's tests let live is printed with its place. Not part of CI:
// a folder takes minutes. The tool works on a copy in build/mutation/.
import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { relative } from "node:path";
import { PluginKind, commonTokens, declareClassPlugin, tokens } from "@stryker-mutator/api/plugin";

const SAMPLE = 300;
const NOT_DRAWN = "CompileError";

/** The tool asks a checker about every mutant before it runs any; this one lets through those drawn. */
class Draw {
  static inject = tokens(commonTokens.options);
  constructor(options) {
    this.seed = options.seed;
    this.drawn = new Set();
  }
  async init() {}
  async group(mutants) {
    const rank = ({ fileName, location: { start, end }, mutatorName, replacement }) =>
      createHash("sha256")
        .update(
          JSON.stringify([
            this.seed,
            relative(process.cwd(), fileName),
            start.line,
            start.column,
            end.line,
            end.column,
            mutatorName,
            replacement,
          ]),
        )
        .digest("hex");
    const ranked = mutants
      .map((mutant) => [rank(mutant), mutant.id])
      .sort(([a], [b]) => (a < b ? -1 : 1));
    for (const [, id] of ranked.slice(0, SAMPLE)) this.drawn.add(id);
    return [mutants.map(({ id }) => id)];
  }
  async check(mutants) {
    return Object.fromEntries(
      mutants.map(({ id }) => [
        id,
        this.drawn.has(id) ? { status: "passed" } : { status: "compileError", reason: "not drawn" },
      ]),
    );
  }
}
export const strykerPlugins = [declareClassPlugin(PluginKind.Checker, "draw", Draw)];

async function mutate(folder, seed) {
  process.env.HOLDBOOK_TESTS = folder.replace(/^src/u, "tests");
  const { Stryker } = await import("@stryker-mutator/core");
  const results = await new Stryker({
    seed,
    mutate: [`${folder}/**/*.ts`, `${folder}/**/*.tsx`],
    testRunner: "vitest",
    vitest: { configFile: ".vitest.config.ts", related: false },
    plugins: ["@stryker-mutator/vitest-runner", "./.mutate.mjs"],
    checkers: ["draw"],
    concurrency: 1,
    coverageAnalysis: "perTest",
    reporters: ["progress-append-only"],
    tempDirName: "build/mutation",
    ignorePatterns: ["/dist", "/build", "/notebooks", "/holdbook-report"],
    disableTypeChecks: false,
    allowConsoleColors: false,
    timeoutMS: 20_000,
    logLevel: "warn",
  }).runMutationTest();
  const tried = results.filter(({ status }) => status !== NOT_DRAWN && status !== "Ignored");
  const alive = tried.filter(({ status }) => status === "Survived" || status === "NoCoverage");
  for (const { fileName, location, mutatorName, replacement, status } of alive.sort(
    (a, b) =>
      (a.fileName < b.fileName ? -1 : a.fileName > b.fileName ? 1 : 0) ||
      a.location.start.line - b.location.start.line,
  ))
    console.log(
      `${relative(".", fileName)}:${location.start.line}:${location.start.column} ${mutatorName}${
        status === "NoCoverage" ? " (no test comes here)" : ""
      }: ${JSON.stringify(replacement.length > 80 ? `${replacement.slice(0, 80)}…` : replacement)}`,
    );
  const percent = ((100 * (tried.length - alive.length)) / tried.length).toFixed(1);
  console.log(
    `${folder}, seed ${seed}: ${tried.length} of ${results.length} mutants drawn, ${percent}% killed, ${alive.length} alive`,
  );
}

if (process.argv[1] === import.meta.filename) {
  const [folder = "", seed = "1"] = process.argv.slice(2);
  if (!/^src\/\w+$/u.test(folder) || !existsSync(folder.replace(/^src/u, "tests"))) {
    console.error(
      "npm run mutate needs one folder of src that has tests of its own, such as src/tables",
    );
    process.exit(2);
  }
  // Not awaited here: the tool imports this very file and would wait for it to end.
  void mutate(folder, Number(seed));
}
