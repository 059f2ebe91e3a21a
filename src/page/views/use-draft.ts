import { useEffect, useRef, useState } from "preact/hooks";

/** A slider moves many times a second; browsers refuse so many changes of the address. */
const restMilliseconds = 300;

type Waiting = Readonly<{ timer: number; finish: () => void }>;

/**
 * A value that is shown at once and kept when the hand rests.
 *
 * @param kept the value as it is kept; when it changes from elsewhere, a draft made before is dropped
 * @param keep keeps a value
 */
export const useDraft = <Value>(
  kept: Value,
  keep: (value: Value) => void,
): readonly [Value, (value: Value) => void] => {
  const base = JSON.stringify(kept);
  const [draft, setDraft] = useState<Readonly<{ value: Value; base: string }>>();
  const waiting = useRef<Waiting | undefined>(undefined);
  useEffect(
    () => () => {
      const last = waiting.current;
      if (last === undefined) return;
      clearTimeout(last.timer);
      last.finish();
    },
    [],
  );
  const change = (value: Value): void => {
    setDraft({ value, base });
    clearTimeout(waiting.current?.timer);
    const finish = (): void => {
      waiting.current = undefined;
      keep(value);
    };
    waiting.current = { timer: window.setTimeout(finish, restMilliseconds), finish };
  };
  return [draft?.base === base ? draft.value : kept, change];
};
