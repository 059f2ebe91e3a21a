import { failureOf, type Failure } from "./failure.js";
import { newBench, type Bench } from "./jobs/bench.js";
import { jobs, type JobName } from "./jobs/job-list.js";

/** What the page asks of the worker. */
export type Request = Readonly<{ id: number; job: JobName; input: unknown }>;

/** What the worker answers. */
export type Reply =
  | Readonly<{ id: number; kind: "progress"; line: string }>
  | Readonly<{ id: number; kind: "done"; output: unknown }>
  | Readonly<{ id: number; kind: "failed"; failure: Failure }>;

/** Does one request on a bench and answers through `reply`. */
export const serve = async (
  bench: Bench,
  { id, job, input }: Request,
  reply: (message: Reply) => void,
): Promise<void> => {
  try {
    const run = jobs[job] as (
      bench: Bench,
      input: unknown,
      tell: (line: string) => void,
    ) => unknown;
    const output = await run(bench, input, (line) => reply({ id, kind: "progress", line }));
    reply({ id, kind: "done", output });
  } catch (error) {
    reply({ id, kind: "failed", failure: failureOf(error) });
  }
};

/** The part of a worker's scope that is used. */
type WorkerScope = Readonly<{
  addEventListener: (kind: "message", listener: (event: MessageEvent<Request>) => void) => void;
  postMessage: (message: Reply) => void;
}>;

/** Serves requests one after the other, as a worker. */
export const playWorker = (scope: WorkerScope): void => {
  const bench = newBench();
  let queue: Promise<void> = Promise.resolve();
  scope.addEventListener("message", ({ data }) => {
    queue = queue.then(() => serve(bench, data, (message) => scope.postMessage(message)));
  });
};
