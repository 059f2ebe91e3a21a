import { failureOf, type Failure } from "./failure.js";
import { newBench, type Bench } from "./jobs/bench.js";
import { jobs, type JobName } from "./jobs/job-list.js";
import { helpFromPage, helpThrough } from "./second-worker.js";

/** What the page asks of the worker. */
export type Request = Readonly<{ id: number; job: JobName; input: unknown }>;

/** What the worker answers. */
export type Reply =
  | Readonly<{ id: number; kind: "progress"; line: string }>
  | Readonly<{ id: number; kind: "done"; output: unknown }>
  | Readonly<{ id: number; kind: "failed"; failure: Failure }>;

/** What a worker asks of the page beside: a second worker at the other end of the port it sends, and its end. */
export type Wish = Readonly<{ kind: "help wanted" | "help ended" }>;

/** What the page tells a second worker: whom to help comes as a port. */
export type Assist = Readonly<{ kind: "assist" }>;

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
  addEventListener: (
    kind: "message",
    listener: (event: MessageEvent<Request | Assist>) => void,
  ) => void;
  postMessage: (message: Reply | Wish, options?: { transfer: Transferable[] }) => void;
}>;

/** Serves requests one after the other, as a worker; long work is shared with a second one. */
export const playWorker = (scope: WorkerScope): void => {
  const bench = newBench(
    helpFromPage(
      (port) => scope.postMessage({ kind: "help wanted" }, { transfer: [port] }),
      () => scope.postMessage({ kind: "help ended" }),
    ),
  );
  let queue: Promise<void> = Promise.resolve();
  scope.addEventListener("message", ({ data, ports: [port] }) => {
    if ("kind" in data) {
      if (port !== undefined) helpThrough(port);
      return;
    }
    queue = queue.then(() => serve(bench, data, (message) => scope.postMessage(message)));
  });
};
