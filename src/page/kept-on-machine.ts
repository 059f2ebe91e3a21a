import { createStore, del, get, set } from "idb-keyval";

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

/** Deletes what was kept. */
export const forget = (name: KeptName): Promise<void> => del(name, store()).catch(() => undefined);
