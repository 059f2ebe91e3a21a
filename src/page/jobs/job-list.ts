import { answerJob, answersJob } from "./answers-job.js";
import type { Bench } from "./bench.js";
import { doseJob } from "./dose-job.js";
import { drawJob } from "./draw-job.js";
import { exploreJob } from "./explore-job.js";
import { figuresJob } from "./figures-job.js";
import { madeJob } from "./made-job.js";
import { mendJob, problemsJob } from "./mend-job.js";
import { reportFilesJob, reportJob } from "./report-job.js";
import { demoJob, openJob } from "./open-job.js";
import { prepareProjectionJob } from "./prepare-projection-job.js";
import { variablesJob } from "./variables-job.js";

/** Everything the worker can do, by name. A new job is one file and one line here. */
export const jobs = {
  open: openJob,
  demo: demoJob,
  answers: answersJob,
  answer: answerJob,
  draw: drawJob,
  figures: figuresJob,
  problems: problemsJob,
  mend: mendJob,
  report: reportJob,
  "report-files": reportFilesJob,
  dose: doseJob,
  explore: exploreJob,
  made: madeJob,
  variables: variablesJob,
  prepareProjection: prepareProjectionJob,
} as const satisfies Record<
  string,
  (bench: Bench, input: never, tell: (line: string) => void) => unknown
>;

export type JobName = keyof typeof jobs;
export type JobInput<Name extends JobName> = Parameters<(typeof jobs)[Name]>[1];
export type JobOutput<Name extends JobName> = Awaited<ReturnType<(typeof jobs)[Name]>>;
