/** Answers to questions that change with every move of a hand. */
import { useEffect, useRef, useState } from "preact/hooks";
import type { Answer } from "../../answers/answer.js";
import type { AnswerTo } from "../../answers/question.js";
import type { QuestionId, QuestionOf } from "../../answers/question-list.js";
import { useApp } from "../app.js";
import { failureOf, type Failure } from "../failure.js";
import { useFileKey, useShared } from "./asked.js";

/** A question with the place in which its answer is shown. */
export type MovingQuestion = Readonly<{
  place: string;
  id: QuestionId;
  options: Readonly<Record<string, unknown>>;
}>;

/** What came back last for a place. */
export type Moved<Id extends QuestionId> = Readonly<{
  answer?: AnswerTo<QuestionOf<Id>>;
  failure?: Failure;
}>;

type Known = Readonly<{ answer?: Answer; failure?: Failure }>;

/** Answers kept, so that a hand that goes back and forth waits for nothing. */
const mostKept = 60;

/** Work that takes longer shows how far it is, milliseconds. */
const patience = 300;

/**
 * Answers to several questions, asked one after the other; while a new one is worked out, the last one stands. A
 * hand that moves faster than the answers come skips those in between.
 *
 * @param title shown with progress and a cancel button when an answer takes long
 */
export const useMoving = (
  questions: readonly MovingQuestion[],
  title: string,
): Readonly<{
  at: <Id extends QuestionId>(place: string, id: Id) => Moved<Id>;
  /** Asks again what was cancelled. */
  again: () => void;
}> => {
  const { worker, store } = useApp();
  const shared = useShared();
  const file = useFileKey();
  const [, drawAgain] = useState(0);
  const known = useRef(new Map<string, Known>());
  const last = useRef(new Map<string, Known>());
  const working = useRef(false);
  const wanted = questions.map(({ place, ...asked }) => ({
    place,
    asked: { ...asked, shared },
    key: `${file} ${JSON.stringify([asked, shared])}`,
  }));
  const current = useRef(wanted);
  current.current = wanted;
  for (const { place, key } of wanted) {
    const now = known.current.get(key);
    if (now !== undefined) last.current.set(place, now);
  }
  const asking = async ({ asked }: (typeof wanted)[number]): Promise<Known> => {
    let line = "";
    let shown = false;
    const timer = setTimeout(() => {
      shown = true;
      store.set({ busy: { title, line } });
    }, patience);
    try {
      const tell = (text: string): void => {
        line = text;
        if (shown) store.set({ busy: { title, line } });
      };
      return { answer: await worker.ask("ask", asked, { tell }) };
    } catch (error) {
      return { failure: failureOf(error) };
    } finally {
      clearTimeout(timer);
      if (shown) store.set({ busy: undefined });
    }
  };
  const work = async (): Promise<void> => {
    if (working.current) return;
    working.current = true;
    for (;;) {
      const next = current.current.find(({ key }) => !known.current.has(key));
      if (next === undefined) break;
      const found = await asking(next);
      // Whoever cancels one wait does not want the next of the same kind.
      const ended =
        found.failure?.kind === "cancelled"
          ? current.current.filter(({ key }) => !known.current.has(key))
          : [];
      for (const { key } of [next, ...ended]) known.current.set(key, found);
      for (const key of known.current.keys())
        if (known.current.size > mostKept) known.current.delete(key);
      drawAgain((round) => round + 1);
    }
    working.current = false;
  };
  useEffect(() => void work(), [wanted.map(({ key }) => key).join("\n")]);
  useEffect(
    () => () => {
      current.current = [];
    },
    [],
  );
  return {
    at: <Id extends QuestionId>(place: string, _id: Id) =>
      (last.current.get(place) ?? {}) as unknown as Moved<Id>,
    again: () => {
      for (const [key, { failure }] of known.current)
        if (failure !== undefined) known.current.delete(key);
      last.current.clear();
      void work();
    },
  };
};
