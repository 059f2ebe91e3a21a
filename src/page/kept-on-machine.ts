import { createStore, del, get, set } from "idb-keyval";
import type { AppState } from "./app.js";
import { partsOf, type OpenFile } from "./open-file.js";
import type { Store } from "./store.js";

/** What is kept for the next time the page is opened: the trial being typed, and the file as it was last changed. */
export type KeptName = "trial" | "file";

const store = () => createStore("holdbook", "kept");

/** Keeps a value on this machine, in the browser's own store; where the browser refuses, nothing is kept. */
export const keep = (name: KeptName, value: unknown): Promise<boolean> =>
  set(name, value, store()).then(
    () => true,
    () => false,
  );

/** What was kept; undefined where nothing was, or where the browser refuses. */
export const kept = <Value>(name: KeptName): Promise<Value | undefined> =>
  get<Value>(name, store()).catch(() => undefined);

/** Runs out when the file is to be kept: not before it has rested a moment. */
let waiting = 0;

/** Deletes what was kept. */
export const forget = (name: KeptName): Promise<void> => {
  // What waits to be kept would else come back.
  if (name === "file") clearTimeout(waiting);
  return del(name, store()).catch(() => undefined);
};

/** The file as it was last changed, and when. */
export type KeptFile = Readonly<{ file: OpenFile; at: Date }>;

/** How long nothing must change before the file is kept: it is written whole. */
const restMilliseconds = 400;

/** Keeps the open file on this machine whenever a cell of it was changed. */
export const keepChanges = ({ get: state, watch }: Store<AppState>): void => {
  let last = state().file;
  watch(() => {
    const { file } = state();
    if (file === last) return;
    last = file;
    if (file === undefined || !partsOf(file).some(({ mended }) => mended === true)) return;
    clearTimeout(waiting);
    waiting = window.setTimeout(
      () => void keep("file", { file, at: new Date() } satisfies KeptFile),
      restMilliseconds,
    );
  });
};
