import { createContext } from "preact";
import { useContext, useEffect, useRef, useState } from "preact/hooks";
import { isChoice, readAddress, writeAddress, type Address } from "./address.js";
import type { Drawer } from "./drawer.js";
import { cancelled, failureOf, JobError, type Failure } from "./failure.js";
import type { FileCheck } from "./jobs/open-job.js";
import type { OpenFile } from "./open-file.js";
import { createStore, type Store } from "./store.js";
import type { WorkerClient } from "./worker-client.js";

/** A table that came with the page, ready to be opened. */
export type ShippedFile = Readonly<{ name: string; label: string; text: string }>;

/** A word and what it means. */
export type GlossaryTerm = Readonly<{ term: string; meaning: string }>;

/** Longer work that runs, with its last line of progress. */
export type Busy = Readonly<{ title: string; line: string }>;

export type AppState = Readonly<{
  address: Address;
  file: OpenFile | undefined;
  /** What the open file is set beside, and what tells it from another file of its name. */
  older: Readonly<{ file: OpenFile; fingerprint: string }> | undefined;
  /** The outline of the course as it was edited; every slide where it is empty. */
  outline: string;
  /** The outline as it is being typed, from the one it began with, until a course is made of it. */
  outlineDraft: Readonly<{ text: string; from: string }> | undefined;
  /** What a person decided of certainty, as the text of its file, by the name of the table it is about. */
  decisions: Readonly<Record<string, string>>;
  check: FileCheck | undefined;
  /** Earlier forms of the open table, newest last, to take mends back. */
  earlier: readonly OpenFile[];
  busy: Busy | undefined;
  failure: Failure | undefined;
  /** What was just done, for people who cannot see it. */
  announcement: string;
}>;

/** Everything a view can see and do. */
export type App = Readonly<{
  store: Store<AppState>;
  worker: WorkerClient;
  drawer: Drawer;
  shipped: readonly ShippedFile[];
  /** What the words mean. */
  glossary: readonly GlossaryTerm[];
  openTable: (file: OpenFile) => Promise<void>;
  /** Opens the table with another file, without one, or by another sheet; mends can still be taken back. */
  arrange: (change: (file: OpenFile) => OpenFile) => Promise<void>;
  openDemo: () => Promise<void>;
  /** Opens a changed form of the open table, and remembers the one before unless told not to. */
  mendTable: (file: OpenFile, check: FileCheck, remember?: boolean) => void;
  undoMend: () => Promise<void>;
  closeTable: () => void;
  /** Goes to a view, keeping all choices. */
  go: (view: string) => void;
  /** Exchanges choices; undefined takes one out. Kept in the address. */
  choose: (choices: Readonly<Record<string, string | undefined>>) => void;
  /** Runs longer work with its progress shown; a failure is shown and gives undefined. */
  work: <Output>(
    title: string,
    job: (tell: (line: string) => void) => Promise<Output>,
  ) => Promise<Output | undefined>;
  cancel: () => void;
  announce: (sentence: string) => void;
}>;

/** The application: its state in one store, the worker, and what can be done. */
export const createApp = (
  worker: WorkerClient,
  drawer: Drawer,
  shipped: readonly ShippedFile[],
  glossary: readonly GlossaryTerm[],
  firstView: string,
): App => {
  const store = createStore<AppState>({
    address: readAddress(location.hash, firstView),
    file: undefined,
    older: undefined,
    outline: "",
    outlineDraft: undefined,
    decisions: {},
    check: undefined,
    earlier: [],
    busy: undefined,
    failure: undefined,
    announcement: "",
  });
  window.addEventListener("hashchange", () =>
    store.set({ address: readAddress(location.hash, firstView) }),
  );
  let cancels = 0;
  const work: App["work"] = async (title, job) => {
    const begun = cancels;
    store.set({ busy: { title, line: "" }, failure: undefined });
    try {
      return await job((line) => {
        // What the page does itself ends where it next says how far it is.
        if (begun !== cancels) throw new JobError(cancelled);
        store.set({ busy: { title, line } });
      });
    } catch (error) {
      const failure = failureOf(error);
      if (failure.kind === "cancelled") store.set({ announcement: `Cancelled: ${title}` });
      else store.set({ failure });
      return undefined;
    } finally {
      store.set({ busy: undefined });
    }
  };
  const read = async (file: OpenFile): Promise<FileCheck | undefined> =>
    work(`Reading ${file.name}`, (tell) => worker.ask("open", file, { tell }));
  // What was asked for last is what opens, however long an earlier table takes to read.
  let lastAsked = 0;
  const openTable = async (file: OpenFile, earlier: readonly OpenFile[] = []): Promise<void> => {
    const asked = (lastAsked += 1);
    const check = await read(file);
    if (check === undefined || asked !== lastAsked) return;
    const fate = `${check.name}: ${check.rowsInFile} rows, ${check.errors} problems to mend`;
    store.set({ file, check, earlier, announcement: `Opened ${fate}` });
  };
  return {
    store,
    worker,
    drawer,
    shipped,
    glossary,
    openTable: (file) => openTable(file),
    arrange: async (change) => {
      const { file, earlier } = store.get();
      if (file !== undefined) await openTable(change(file), earlier.map(change));
    },
    openDemo: async () => {
      lastAsked += 1;
      const bytes = await work("Making the demonstration register", () =>
        worker.ask("demo", undefined),
      );
      if (bytes !== undefined) await openTable({ name: "demo-register.csv", bytes });
    },
    mendTable: (file, check, remember = true) => {
      const { file: before, earlier } = store.get();
      store.set({
        file,
        check,
        earlier: before === undefined || !remember ? earlier : [...earlier, before],
        announcement: `Checked again: ${check.errors} problems to mend`,
      });
    },
    undoMend: async () => {
      const { earlier } = store.get();
      const file = earlier.at(-1);
      const check = file === undefined ? undefined : await read(file);
      if (file === undefined || check === undefined) return;
      store.set({ file, check, earlier: earlier.slice(0, -1), announcement: "Mend taken back" });
    },
    closeTable: () =>
      store.set({ file: undefined, check: undefined, earlier: [], failure: undefined }),
    go: (view) => {
      location.hash = writeAddress({ view, choices: store.get().address.choices });
    },
    choose: (changes) => {
      const { address } = store.get();
      const wanted = { ...address.choices, ...changes };
      const choices = Object.fromEntries(
        Object.entries(wanted).filter(
          (entry): entry is [string, string] =>
            entry[1] !== undefined && isChoice(entry[0], entry[1]),
        ),
      );
      const next = { ...address, choices };
      // Replaced, not added: a slider would else fill the history of the Back button.
      history.replaceState(null, "", writeAddress(next));
      store.set({ address: next });
    },
    work,
    cancel: () => {
      cancels += 1;
      worker.cancel();
      const { file } = store.get();
      // The new worker's bench is empty; the open table is put back on it.
      if (file !== undefined) void worker.ask("open", file).catch(() => undefined);
    },
    announce: (sentence) => store.set({ announcement: sentence }),
  };
};

/** Where components find the application. */
export const AppContext = createContext<App | undefined>(undefined);

/** The application. */
export const useApp = (): App => {
  const app = useContext(AppContext);
  if (app === undefined) throw new Error("useApp requires a component inside the application");
  return app;
};

/** A part of the state; the component is drawn again when it changes. */
export const useAppState = <Part>(choose: (state: AppState) => Part): Part => {
  const { store } = useApp();
  const [part, setPart] = useState<Readonly<{ value: Part }>>({ value: choose(store.get()) });
  useEffect(() => {
    const look = (): void => {
      const value = choose(store.get());
      setPart((before) => (Object.is(before.value, value) ? before : { value }));
    };
    look();
    return store.watch(look);
    // `choose` is written anew at each drawing and always means the same.
  }, [store]);
  return part.value;
};

/** One choice out of the address, and how to change it; undefined takes it out of the address. */
export const useChoice = (
  name: string,
  standard: string,
): readonly [string, (text: string | undefined) => void] => {
  const { choose } = useApp();
  const text = useAppState((state) => state.address.choices[name]) ?? standard;
  return [text, (next) => choose({ [name]: next === standard ? undefined : next })];
};

/** A job's answer while it comes: asked again whenever `key` changes. */
export type Coming<Output> =
  | Readonly<{ state: "waiting" }>
  | Readonly<{ state: "done"; output: Output }>
  | (FailedAnswerState & Readonly<{ last?: Output | undefined }>);

/** A job that gave no answer, and how to ask again; where it was cancelled, what stood there before it. */
export type FailedAnswerState = Readonly<{
  state: "failed";
  failure: Failure;
  again: () => void;
}>;

/**
 * The answer of `ask` for a key; an answer to an earlier key is dropped.
 *
 * @param title  shown with progress and a cancel button while it runs; empty for quick work
 */
export const useAnswer = <Output>(
  key: string,
  ask: (tell: (line: string) => void) => Promise<Output>,
  title = "",
): Coming<Output> => {
  const { store } = useApp();
  const [round, setRound] = useState(0);
  // What stood here last, and of which file: it stands still where the next is cancelled.
  const last = useRef<Readonly<{ file: OpenFile | undefined; output: Output }>>();
  const [answer, setAnswer] = useState<Readonly<{ key: string; answer: Coming<Output> }>>();
  useEffect(() => {
    let wanted = true;
    if (title !== "") store.set({ busy: { title, line: "" } });
    const finish = (result: Coming<Output>): void => {
      if (!wanted) return;
      if (title !== "") store.set({ busy: undefined });
      setAnswer({ key, answer: result });
    };
    ask((line) => {
      if (wanted && title !== "") store.set({ busy: { title, line } });
    }).then(
      (output) => {
        if (wanted) last.current = { file: store.get().file, output };
        finish({ state: "done", output });
      },
      (error: unknown) => {
        const failure = failureOf(error);
        const isSame = last.current?.file === store.get().file;
        finish({
          state: "failed",
          failure,
          last: failure.kind === "cancelled" && isSame ? last.current?.output : undefined,
          again: () => {
            setAnswer(undefined);
            setRound((before) => before + 1);
          },
        });
      },
    );
    return () => {
      wanted = false;
      if (title !== "") store.set({ busy: undefined });
    };
  }, [key, round]);
  return answer?.key === key ? answer.answer : { state: "waiting" };
};
