import { useEffect, useState } from "preact/hooks";
import type { FigureMode } from "../figures/theme.js";
import { createStore } from "./store.js";

/** What the person chose: a mode, or whatever the system has. */
export const themeChoices = ["system", "light", "dark"] as const;
export type ThemeChoice = (typeof themeChoices)[number];

const kept = "holdbook-theme";
const store = createStore<Readonly<{ choice: ThemeChoice; systemDark: boolean }>>({
  choice: "system",
  systemDark: false,
});

const modeNow = (): FigureMode => {
  const { choice, systemDark } = store.get();
  return choice === "system" ? (systemDark ? "dark" : "light") : choice;
};

const readKept = (): ThemeChoice => {
  try {
    const word = localStorage.getItem(kept);
    return themeChoices.find((choice) => choice === word) ?? "system";
  } catch {
    // A browser may refuse to keep anything for a page from disk.
    return "system";
  }
};

/** Sets the look of the page from what was kept and from the system, and follows both. */
export const startTheme = (): void => {
  const darkSystem = matchMedia("(prefers-color-scheme: dark)");
  store.watch(() => {
    document.documentElement.dataset["theme"] = modeNow();
  });
  store.set({ choice: readKept(), systemDark: darkSystem.matches });
  darkSystem.addEventListener("change", () => store.set({ systemDark: darkSystem.matches }));
};

const choose = (choice: ThemeChoice): void => {
  store.set({ choice });
  try {
    localStorage.setItem(kept, choice);
  } catch {
    // Kept for this visit only.
  }
};

/** The theme chosen, the mode it comes to, and how to choose another. */
export const useTheme = (): Readonly<{
  choice: ThemeChoice;
  mode: FigureMode;
  setChoice: (next: ThemeChoice) => void;
}> => {
  const [, redraw] = useState({});
  useEffect(() => store.watch(() => redraw({})), []);
  return { choice: store.get().choice, mode: modeNow(), setChoice: choose };
};
