import { addedJob, appendJob } from "./added-job.js";
import { askJob } from "./ask-job.js";
import type { Bench } from "./bench.js";
import { courseFilesJob, courseJob } from "./course-job.js";
import { editJob, sheetJob } from "./grid-job.js";
import { drawJob } from "./draw-job.js";
import { mendJob, problemsJob } from "./mend-job.js";
import { fillJob, referencesJob } from "./references-job.js";
import { reportJob, writeReportJob } from "./report-job.js";
import { demoJob, fingerprintJob, openJob } from "./open-job.js";

/** Everything the worker can do, by name. A new job is one file and one line here. */
export const jobs = {
  open: openJob,
  demo: demoJob,
  fingerprint: fingerprintJob,
  ask: askJob,
  draw: drawJob,
  problems: problemsJob,
  mend: mendJob,
  added: addedJob,
  append: appendJob,
  sheet: sheetJob,
  edit: editJob,
  references: referencesJob,
  fill: fillJob,
  report: reportJob,
  writeReport: writeReportJob,
  course: courseJob,
  courseFiles: courseFilesJob,
} as const satisfies Record<
  string,
  (bench: Bench, input: never, tell: (line: string) => void) => unknown
>;

export type JobName = keyof typeof jobs;
export type JobInput<Name extends JobName> = Parameters<(typeof jobs)[Name]>[1];
export type JobOutput<Name extends JobName> = Awaited<ReturnType<(typeof jobs)[Name]>>;
