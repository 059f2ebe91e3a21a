import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";

let collect: (() => void) | undefined;

/**
 * Gives back what is no longer used, at once. A picture's points lie where the collector does not count them, and left to
 * itself it would keep those of a whole report.
 */
export const freeMemory = (): void => {
  if (collect === undefined) {
    setFlagsFromString("--expose-gc");
    collect = runInNewContext("gc") as () => void;
  }
  collect();
};

/** The same where much was let go of: a first round empties pages, only a second hands them back to the machine. */
export const freeAllMemory = (): void => {
  freeMemory();
  freeMemory();
};
