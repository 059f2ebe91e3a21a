/** Runs the benchmarks, prints their ratios as tables, and keeps them as JSON in build/. */
import { execFileSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { join } from "node:path";
import { holdbookVersion } from "../../src/answers/version.js";
import type { Table } from "../../src/tables/table.js";
import { tableToText } from "../../src/tables/table-to-text.js";
import { meetsGoal, type Bench, type Measure } from "./bench.js";
import { benches } from "./benches.js";
import { benchRoot } from "./child.js";

const units = {
  times: "×",
  exponent: "",
  percent: "%",
  seconds: "s",
  megabytes: "MB",
  milliseconds: "ms",
} as const satisfies Record<Measure["unit"], string>;

const goalText = ({ goal }: Measure): string => {
  if (goal === undefined) return "";
  return "atMost" in goal ? `at most ${goal.atMost}` : `at least ${goal.atLeast}`;
};

const verdict = (measure: Measure): string => {
  const met = meetsGoal(measure);
  return met === undefined ? "" : met ? "met" : "not met";
};

const tableOf = (bench: Bench, measures: readonly Measure[]): Table => ({
  id: bench.name,
  title: bench.title,
  columns: [
    { key: "what", label: "What", align: "left" },
    { key: "value", label: "Value", align: "right" },
    { key: "goal", label: "Goal", align: "left" },
    { key: "verdict", label: "", align: "left" },
  ],
  rows: measures.map((measure) => ({
    what: measure.what,
    value: `${Number(measure.value.toPrecision(3))} ${units[measure.unit]}`.trim(),
    goal: goalText(measure),
    verdict: verdict(measure),
  })),
  notes: measures.flatMap(({ what, how }) => (how === undefined ? [] : [`${what}: ${how}`])),
});

const commit = (): string => {
  try {
    return execFileSync("git", ["rev-parse", "--short", "HEAD"], {
      cwd: benchRoot,
      encoding: "utf8",
      stdio: ["ignore", "pipe", "ignore"],
    }).trim();
  } catch {
    return "not under version control";
  }
};

const words = process.argv.slice(2);
const chosen = benches.filter(
  ({ name }) => words.length === 0 || words.some((word) => name.includes(word)),
);
if (chosen.length === 0) {
  console.error(
    `no benchmark is called ${words.join(", ")}; there are ${benches.map(({ name }) => name).join(", ")}`,
  );
  process.exit(2);
}
const about = {
  version: holdbookVersion,
  commit: commit(),
  node: process.version,
  cpu: `${cpus()[0]?.model.trim() ?? "unknown"} × ${cpus().length}`,
  date: new Date().toISOString(),
};
console.log(
  `Holdbook ${about.version} (${about.commit}), Node ${about.node}, ${about.cpu}, ${about.date}\n`,
);
const results: Readonly<{ name: string; title: string; measures: readonly Measure[] }>[] = [];
for (const bench of chosen) {
  const measures = await bench.run((text) => {
    if (process.stderr.isTTY) console.error(`${bench.name}: ${text}`);
  });
  results.push({ name: bench.name, title: bench.title, measures });
  console.log(`${tableToText(tableOf(bench, measures), { width: 100 })}\n`);
}
mkdirSync(join(benchRoot, "build"), { recursive: true });
const path = join("build", "bench.json");
writeFileSync(join(benchRoot, path), `${JSON.stringify({ ...about, results }, null, 2)}\n`);
console.log(`These numbers are in ${path}.`);
