import { useEffect, useState } from "preact/hooks";

/** Long enough that a moving slider does not draw figures, short enough to feel at once. */
const restMilliseconds = 350;

/** A value as it was when it last stood still: for work that is too long for a moving slider. */
export const useRested = <Value>(value: Value): Value => {
  const [rested, setRested] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setRested(value), restMilliseconds);
    return () => clearTimeout(timer);
  }, [value]);
  return rested;
};
