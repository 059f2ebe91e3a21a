import { useEffect, useState } from "preact/hooks";
import {
  numbersIn,
  placedIn,
  typedInto,
  type Cells,
  type MarkedNumber,
} from "../../../records/abstract-numbers.js";
import type { FieldName } from "../../../records/codebook.js";
import { blankEntry, type EntryPart, type TrialEntry } from "../../../records/trial-entry.js";
import { forget, keep, kept } from "../../kept-on-machine.js";

/** Where a field stands: its part, and which arm and outcome it is of. */
export type Place = Readonly<{ part: EntryPart; arm: number; outcome: number; name: FieldName }>;

export type Draft = Readonly<{
  entry: TrialEntry;
  /** The text whose numbers are marked. */
  text: string;
  /** Beginnings of the numbers that were placed. */
  used: readonly number[];
}>;

const blank: Draft = { entry: blankEntry, text: "", used: [] };

/** The cells of one part. */
export const cellsAt = (
  entry: TrialEntry,
  { part, arm, outcome }: Pick<Place, "part" | "arm" | "outcome">,
): Cells =>
  (part === "trial"
    ? entry.trial
    : part === "arms"
      ? entry.arms[arm]
      : part === "outcomes"
        ? entry.outcomes[outcome]
        : entry.numbers[arm]?.[outcome]) ?? {};

const withCells = (entry: TrialEntry, place: Place, cells: Cells): TrialEntry => {
  const { part, arm, outcome } = place;
  const changed = { ...cellsAt(entry, place), ...cells };
  if (part === "trial") return { ...entry, trial: changed };
  if (part === "arms") return { ...entry, arms: entry.arms.with(arm, changed) };
  if (part === "outcomes") return { ...entry, outcomes: entry.outcomes.with(outcome, changed) };
  return { ...entry, numbers: entry.numbers.with(arm, entry.numbers[arm]!.with(outcome, changed)) };
};

export type EntryActions = Readonly<{
  draft: Draft;
  marks: readonly MarkedNumber[];
  /**
   * Numbers of the text that may stand in a field: those not yet placed first, then those that stand in the same field of
   * another arm; plain numbers last. For the people of an arm, "n = 12" goes before "24 adults" and "13 women".
   */
  offers: (place: Place) => readonly MarkedNumber[];
  read: (text: string) => void;
  type: (place: Place, text: string) => void;
  put: (place: Place, mark: MarkedNumber) => void;
  /** Fills cells of the whole trial. */
  fill: (cells: Cells) => void;
  more: (what: "arms" | "outcomes") => void;
  takeOut: (what: "arms" | "outcomes", at: number) => void;
  clear: () => void;
}>;

/** The trial being typed, kept on this machine while it is. */
export const useEntry = (): EntryActions => {
  const [draft, setDraft] = useState<Draft>(blank);
  useEffect(() => {
    void kept<Draft>("trial").then((before) => {
      if (before !== undefined) setDraft((now) => (now === blank ? before : now));
    });
  }, []);
  const change = (of: (before: Draft) => Draft): void =>
    setDraft((before) => {
      const after = of(before);
      void keep("trial", after);
      return after;
    });
  const changeEntry = (of: (entry: TrialEntry) => TrialEntry): void =>
    change((before) => ({ ...before, entry: of(before.entry) }));
  const [read, setRead] = useState<Readonly<{ text: string; marks: readonly MarkedNumber[] }>>({
    text: "",
    marks: [],
  });
  // Read once for a text: typing in the fields must not wait for it.
  const marks = read.text === draft.text ? read.marks : numbersIn(draft.text);
  if (read.text !== draft.text) setRead({ text: draft.text, marks });
  return {
    draft,
    marks,
    offers: ({ part, name }) =>
      marks
        .flatMap((mark, at) => {
          const text = placedIn(mark, name)?.[name];
          if (text === undefined) return [];
          const isOfArm = part === "arms" && draft.entry.arms.some((arm) => arm[name] === text);
          const words = draft.text.slice(mark.start, mark.end);
          const weight =
            (mark.kind === "number" ? 4e6 : 0) +
            (draft.used.includes(mark.start) ? (isOfArm ? 1e6 : 2e6) : 0) +
            (part === "arms" && mark.kind === "people" && !/^n\b/iu.test(words) ? 3e5 : 0) +
            at;
          return [{ mark, weight }];
        })
        .sort((one, other) => one.weight - other.weight)
        .map(({ mark }) => mark),
    read: (text) => change((before) => ({ ...before, text, used: [] })),
    type: (place, text) =>
      changeEntry((entry) => withCells(entry, place, typedInto(place.name, text))),
    put: (place, mark) => {
      const cells = placedIn(mark, place.name);
      if (cells === undefined) return;
      change((before) => ({
        ...before,
        entry: withCells(before.entry, place, cells),
        used: [...before.used, mark.start],
      }));
    },
    fill: (cells) => changeEntry((entry) => ({ ...entry, trial: { ...entry.trial, ...cells } })),
    more: (what) =>
      changeEntry((entry) =>
        what === "arms"
          ? {
              ...entry,
              arms: [...entry.arms, {}],
              numbers: [...entry.numbers, entry.outcomes.map(() => ({}))],
            }
          : {
              ...entry,
              outcomes: [...entry.outcomes, {}],
              numbers: entry.numbers.map((own) => [...own, {}]),
            },
      ),
    takeOut: (what, at) =>
      changeEntry((entry) =>
        what === "arms"
          ? {
              ...entry,
              arms: entry.arms.toSpliced(at, 1),
              numbers: entry.numbers.toSpliced(at, 1),
            }
          : {
              ...entry,
              outcomes: entry.outcomes.toSpliced(at, 1),
              numbers: entry.numbers.map((own) => own.toSpliced(at, 1)),
            },
      ),
    clear: () => {
      void forget("trial");
      setDraft(blank);
    },
  };
};
