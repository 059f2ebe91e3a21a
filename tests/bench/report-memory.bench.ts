import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { mustHold, type Bench, type Measure } from "./bench.js";
import { benchRoot, fromChild } from "./child.js";
import { longRegister } from "./long-register.js";

/** Prints the process's own greatest memory when it ends, threads included. */
const hook =
  "data:text/javascript,process.on('exit',()=>process.stderr.write('peak '+process.resourceUsage().maxRSS))";

/** The report of a long file: how much memory it takes at most, and how its time compares with drawing alone. */
export const reportMemory: Bench = {
  name: "report-memory",
  title: "A report on a long file: memory, and time against drawing its figures alone",
  run: async (progress) => {
    const folder = mkdtempSync(join(tmpdir(), "bench-"));
    try {
      const measures: Measure[] = [];
      for (const rows of [1000, 5000]) {
        const [file, report] = [join(folder, `${rows}.csv`), join(folder, String(rows))];
        writeFileSync(file, longRegister(rows));
        progress(`report on ${rows} rows`);
        const words = ["report", file, "-o", report, "--quiet"];
        const began = performance.now();
        const { status, stderr } = spawnSync(
          process.execPath,
          ["--import", hook, join(benchRoot, "dist/command/main.js"), ...words],
          { encoding: "utf8", cwd: benchRoot, maxBuffer: 1 << 26 },
        );
        const seconds = (performance.now() - began) / 1000;
        mustHold(`the report on ${rows} rows`, status === 0);
        progress(`drawing the figures of ${rows} rows alone`);
        const alone = fromChild("draw-alone", [report]) as Readonly<Record<string, number>>;
        measures.push(
          {
            what: `most memory, ${rows} rows`,
            value: (Number(/peak (\d+)/.exec(stderr)?.[1]) * 1024) / 1e6,
            unit: "megabytes",
            ...(rows === 5000 ? { goal: { atMost: 800 } } : {}),
            how: "greatest resident memory of the whole process, drawing threads included",
          },
          { what: `seconds, ${rows} rows`, value: seconds, unit: "seconds" },
          {
            what: `against drawing alone, ${rows} rows`,
            value: seconds / (alone["seconds"] ?? NaN),
            unit: "times",
            how: `the ${alone["figures"]} figures drawn one after another in one thread`,
          },
        );
      }
      return await Promise.resolve(measures);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};
