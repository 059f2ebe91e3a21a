/** A value that tells its watchers when it changes. */
export type Store<State> = Readonly<{
  get: () => State;
  /** Exchanges some fields. */
  set: (fields: Partial<State>) => void;
  /** Calls back after every change; returns how to stop. */
  watch: (onChange: () => void) => () => void;
}>;

/** A store that begins with the given state. */
export const createStore = <State extends object>(first: State): Store<State> => {
  let state = first;
  const watchers = new Set<() => void>();
  return {
    get: () => state,
    set: (fields) => {
      state = { ...state, ...fields };
      for (const watcher of [...watchers]) watcher();
    },
    watch: (onChange) => {
      watchers.add(onChange);
      return () => watchers.delete(onChange);
    },
  };
};
