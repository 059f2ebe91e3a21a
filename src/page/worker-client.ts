import { cancelled, JobError, type Failure } from "./failure.js";
import { newBench } from "./jobs/bench.js";
import type { JobInput, JobName, JobOutput } from "./jobs/job-list.js";
import { serve, type Assist, type Reply, type Request, type Wish } from "./worker-role.js";

export type AskOptions = Readonly<{ tell?: (line: string) => void }>;

/** The page's side of the worker. */
export type WorkerClient = Readonly<{
  /** Runs a job; rejects with a `JobError`. */
  ask: <Name extends JobName>(
    job: Name,
    input: JobInput<Name>,
    options?: AskOptions,
  ) => Promise<JobOutput<Name>>;
  /** Ends everything that runs; every open question is rejected as cancelled, the bench is empty. */
  cancel: () => void;
  /** Whether the work runs beside the page; without it the page does it itself, job by job. */
  inBackground: () => boolean;
}>;

type Waiting = Readonly<{
  tell: (line: string) => void;
  done: (output: never) => void;
  failed: (failure: Failure) => void;
}>;

/** Something that takes requests and can be ended. */
type Engine = Readonly<{ post: (request: Request) => void; end: () => void; background: boolean }>;

/** Where the program's own text can be fetched from while a worker is made of it. */
const addressOf = (program: string): string =>
  URL.createObjectURL(new Blob([program], { type: "text/javascript" }));

/** Begins a second worker that helps the first through a port, and how to end it; nothing where there is one core. */
const secondWorker = (program: string, port: MessagePort | undefined): (() => void) | undefined => {
  if (port === undefined || navigator.hardwareConcurrency < 2) return undefined;
  const address = addressOf(program);
  try {
    const worker = new Worker(address, { name: "holdbook-second" });
    // Without it, the first does all of the work.
    worker.addEventListener("error", (event) => event.preventDefault());
    const assist: Assist = { kind: "assist" };
    worker.postMessage(assist, [port]);
    return () => {
      worker.terminate();
      URL.revokeObjectURL(address);
    };
  } catch {
    URL.revokeObjectURL(address);
    return undefined;
  }
};

/** A pause in which the page can draw and hear the user. */
const breath = (): Promise<void> => new Promise((resume) => setTimeout(resume, 0));

/** Does the jobs in the page itself, with a pause before each and at most one at a time. */
const engineHere = (hear: (reply: Reply) => void): Engine => {
  const bench = newBench();
  let ended = false;
  let queue: Promise<void> = Promise.resolve();
  return {
    background: false,
    post: (request) => {
      queue = queue.then(breath).then(() =>
        ended
          ? undefined
          : serve(bench, request, (reply) => {
              if (!ended) hear(reply);
            }),
      );
    },
    end: () => {
      ended = true;
    },
  };
};

/** A real worker made from the program's own text, which needs no second file. */
const engineInWorker = (
  program: string,
  hear: (reply: Reply) => void,
  refused: () => void,
): Engine => {
  const address = addressOf(program);
  const worker = new Worker(address, { name: "holdbook" });
  let endSecond: (() => void) | undefined;
  let heard = false;
  worker.addEventListener("message", ({ data, ports: [port] }: MessageEvent<Reply | Wish>) => {
    if (!heard) URL.revokeObjectURL(address);
    heard = true;
    if ("id" in data) return hear(data);
    endSecond?.();
    endSecond = data.kind === "help wanted" ? secondWorker(program, port) : undefined;
  });
  worker.addEventListener("error", (event) => {
    event.preventDefault();
    if (!heard) refused();
  });
  return {
    background: true,
    post: (request) => worker.postMessage(request),
    end: () => {
      endSecond?.();
      worker.terminate();
    },
  };
};

/**
 * A client of a worker that runs this very program.
 *
 * Where the browser refuses workers, the jobs run in the page, with a pause before each.
 *
 * @param program  the page's script as text; undefined runs the jobs in the page
 */
export const createWorkerClient = (program: string | undefined): WorkerClient => {
  const waiting = new Map<number, Waiting & { request: Request }>();
  let next = 1;
  const hear = (reply: Reply): void => {
    const one = waiting.get(reply.id);
    if (one === undefined) return;
    if (reply.kind === "progress") return one.tell(reply.line);
    waiting.delete(reply.id);
    if (reply.kind === "done") one.done(reply.output as never);
    else one.failed(reply.failure);
  };
  let mayUseWorker = program !== undefined;
  const start = (): Engine => {
    if (!mayUseWorker || program === undefined) return engineHere(hear);
    try {
      return engineInWorker(program, hear, () => {
        mayUseWorker = false;
        engine.end();
        engine = engineHere(hear);
        for (const { request } of waiting.values()) engine.post(request);
      });
    } catch {
      mayUseWorker = false;
      return engineHere(hear);
    }
  };
  let engine = start();
  return {
    ask: (job, input, options = {}) =>
      new Promise((done, reject) => {
        const request: Request = { id: next, job, input };
        next += 1;
        waiting.set(request.id, {
          request,
          tell: options.tell ?? (() => undefined),
          done,
          failed: (failure) => reject(new JobError(failure)),
        });
        engine.post(request);
      }),
    cancel: () => {
      engine.end();
      const ended = [...waiting.values()];
      waiting.clear();
      engine = start();
      for (const one of ended) one.failed(cancelled);
    },
    inBackground: () => engine.background,
  };
};
