import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { helperBy, type HelpMessage, type HelpReply } from "../answers/help-messages.js";
import type { Help } from "../answers/shared-work.js";
import { laneInThread, type Lane } from "../host/thread-lane.js";

/** Threads that work on one question at most, the one that asks among them. */
const mostThreads = 4;

/** Beside the bundle's pieces; run from its source, the program has no such file and nobody helps. */
const helpFile = fileURLToPath(new URL("../command/helping-thread.js", import.meta.url));

/**
 * Threads that share long work, one for each further core, three at most; undefined where there is one core or no
 * program of theirs.
 */
export const helpingThreads = (
  threads = Math.min(mostThreads, availableParallelism()) - 1,
  file = helpFile,
): Help | undefined => {
  if (threads < 1 || !existsSync(file)) return undefined;
  let lanes: readonly Lane<HelpMessage, HelpReply>[] = [];
  return {
    begin: (task) => {
      lanes = Array.from({ length: threads }, () => laneInThread(file));
      return lanes.map(({ ask }) => helperBy(task, ask));
    },
    pause: () => new Promise((resume) => setImmediate(resume)),
    end: () => {
      for (const lane of lanes) void lane.close();
      lanes = [];
    },
  };
};
