/** Reads a file, averages its strength once by the policy of every door, and prints the seconds of the fit. */
import { readFileSync } from "node:fs";
import { averageOf, averageShape } from "../../../src/answers/average.js";
import { openEvidence } from "../../../src/answers/evidence.js";
import { resolvedOptions } from "../../../src/answers/option.js";
import { poolGroups } from "../../../src/answers/pool-groups.js";
import { poolShape } from "../../../src/answers/pool.js";
import { readTable } from "../../../src/csv/read-table.js";

const table = readTable(readFileSync(process.argv[2] ?? ""));
const evidence = openEvidence({ name: "bench.csv", fingerprint: "", table });
const { groups } = poolGroups(evidence, resolvedOptions(poolShape, {}));
const began = performance.now();
const average = averageOf(groups[0]!.headline, {
  ...resolvedOptions(averageShape, {}),
  confidence: 0.95,
});
const seconds = (performance.now() - began) / 1000;
process.stdout.write(JSON.stringify({ kind: average.kind, seconds }));
