// Tries small changes of meaning ("mutants") in one folder of src against the tests of the same room:
// `npm run mutate -- src/tables [seed] [how many]`. Three hundred mutants, or as many as are asked for, are drawn by
// the seed (1 unless given), every mutant equally likely, and each that its room's tests let live is printed with its place. Not part of CI:
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
    this.sample = options.sample;
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
    for (const [, id] of ranked.slice(0, this.sample)) this.drawn.add(id);
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

const ALIVE = new Set(["Survived", "NoCoverage"]);

/** Prints each change that lives as soon as it is known, and the share that did not at the end. */
class Alive {
  static inject = tokens(commonTokens.options);
  constructor(options) {
    this.seed = options.seed;
    this.folder = options.folder;
    this.tried = 0;
    this.alive = 0;
  }
  onMutantTested({ fileName, location, mutatorName, replacement, status }) {
    if (status === NOT_DRAWN || status === "Ignored") return;
    this.tried += 1;
    if (!ALIVE.has(status)) return;
    this.alive += 1;
    const text = replacement.length > 80 ? `${replacement.slice(0, 80)}…` : replacement;
    const unseen = status === "NoCoverage" ? " (no test comes here)" : "";
    const { line, column } = location.start;
    console.log(`${fileName}:${line}:${column} ${mutatorName}${unseen}: ${JSON.stringify(text)}`);
  }
  onMutationTestReportReady() {
    const percent = ((100 * (this.tried - this.alive)) / this.tried).toFixed(1);
    console.log(
      `${this.folder}, seed ${this.seed}: ${this.tried} drawn, ${this.alive} alive, ${percent}% noticed`,
    );
  }
}

export const strykerPlugins = [
  declareClassPlugin(PluginKind.Checker, "draw", Draw),
  declareClassPlugin(PluginKind.Reporter, "alive", Alive),
];

async function mutate(folder, seed, sample) {
  process.env.HOLDBOOK_TESTS = folder.replace(/^src/u, "tests");
  const { Stryker } = await import("@stryker-mutator/core");
  await new Stryker({
    folder,
    seed,
    sample,
    mutate: [`${folder}/**/*.{ts,tsx}`],
    testRunner: "vitest",
    vitest: { configFile: ".vitest.config.ts", related: false },
    plugins: ["@stryker-mutator/vitest-runner", "./.mutate.mjs"],
    checkers: ["draw"],
    reporters: ["alive"],
    concurrency: 1,
    coverageAnalysis: "perTest",
    // A busy machine must not pass for a change that was noticed.
    timeoutMS: 120_000,
    timeoutFactor: 4,
    dryRunTimeoutMinutes: 60,
    tempDirName: "build/mutation",
    ignorePatterns: ["/dist", "/build", "/notebooks", "/holdbook-report"],
    disableTypeChecks: false,
    allowConsoleColors: false,
    logLevel: "error",
  }).runMutationTest();
}

if (process.argv[1] === import.meta.filename) {
  const [folder = "", seed = "1", sample = String(SAMPLE)] = process.argv.slice(2);
  if (!/^src\/\w+$/u.test(folder) || !existsSync(folder.replace(/^src/u, "tests"))) {
    console.error(
      "npm run mutate needs one folder of src that has tests of its own, such as src/tables",
    );
    process.exit(2);
  }
  // Not awaited here: the tool imports this very file and would wait for it to end.
  void mutate(folder, Number(seed), Number(sample));
}
