import { Worker, type WorkerOptions } from "node:worker_threads";

/** Someone who does one job at a time; what is asked meanwhile waits its turn. */
export type Lane<Job, Reply> = Readonly<{
  ask: (job: Job) => Promise<Reply>;
  close: () => Promise<unknown>;
}>;

/**
 * A thread that answers every job it is sent with one message, in a file of the program.
 *
 * @param file the thread's own program; beside the bundle's pieces, so there is none where the program runs from its source
 */
export const laneInThread = <Job, Reply>(
  file: string,
  options: WorkerOptions = {},
): Lane<Job, Reply> => {
  const thread = new Worker(file, options);
  const answerTo = (job: Job): Promise<Reply> =>
    new Promise((resolve, reject) => {
      thread.once("error", reject).once("message", (reply: Reply) => {
        thread.off("error", reject);
        resolve(reply);
      });
      thread.postMessage(job);
    });
  let last: Promise<unknown> = Promise.resolve();
  return {
    ask: (job) => {
      const answer = last.then(() => answerTo(job));
      last = answer;
      return answer;
    },
    close: () => thread.terminate(),
  };
};
