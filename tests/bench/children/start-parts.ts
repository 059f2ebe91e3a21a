/**
 * Does the main job as the command does it and prints, as JSON, the seconds of each part: the time from
 * one progress line to the next belongs to the first word of the line.
 */
import { mainJob } from "../../../src/command/report-command.js";

const [, , file = "", directory = ""] = process.argv;
const parts: Record<string, number> = {};
let stage = "loading";
let since = 0;
const enter = (next: string): void => {
  const now = performance.now();
  parts[stage] = (parts[stage] ?? 0) + (now - since) / 1000;
  stage = next;
  since = now;
};
const stageOf = (line: string): string => /^[a-z]+/.exec(line)?.[0] ?? line;
await mainJob(
  file,
  { output: directory },
  {},
  {
    out: () => undefined,
    err: () => undefined,
    progress: (line) => enter(stageOf(line)),
    width: 100,
  },
);
enter("done");
process.stdout.write(JSON.stringify(parts));
