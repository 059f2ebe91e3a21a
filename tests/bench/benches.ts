import type { Bench } from "./bench.js";
import { commandStart } from "./command-start.bench.js";
import { courseBench } from "./course.bench.js";
import { doseCurve } from "./dose-curve.bench.js";
import { multilevelAgainstBaseR } from "./multilevel-against-base-r.bench.js";
import { multilevelGrowth } from "./multilevel-growth.bench.js";
import { pageSize } from "./page-size.bench.js";
import { projection } from "./projection.bench.js";
import { reading } from "./reading.bench.js";
import { reportMemory } from "./report-memory.bench.js";
import { startToReport } from "./start-to-report.bench.js";
import { sweepBench } from "./sweep.bench.js";
import { variableTableBench } from "./variable-table.bench.js";

/** Every benchmark, in the order they run. A new one is one file and one line here. */
export const benches: readonly Bench[] = [
  reading,
  multilevelGrowth,
  multilevelAgainstBaseR,
  variableTableBench,
  sweepBench,
  projection,
  doseCurve,
  commandStart,
  startToReport,
  courseBench,
  reportMemory,
  pageSize,
];
