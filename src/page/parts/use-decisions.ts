import { useApp, useAppState } from "../app.js";

/** What a person decided of certainty about the open file, as the text of its file; empty where nothing is. */
export const useDecisions = (): readonly [string, (text: string) => void] => {
  const { store } = useApp();
  const name = useAppState((state) => state.file?.name) ?? "";
  const all = useAppState((state) => state.decisions);
  return [
    all[name] ?? "",
    (text) => store.set({ decisions: { ...store.get().decisions, [name]: text } }),
  ];
};

/** The same as an option of a question or of a report; nothing where nothing is decided. */
export const asOption = (text: string): Readonly<{ decisions?: string }> =>
  text === "" ? {} : { decisions: text };
