import { useEffect, useState } from "preact/hooks";

/** The width below which the style sheet lays things under one another. */
const narrowQuery = "(max-width: 40rem)";

/** Whether the screen is a narrow one, followed while it is turned or drawn wider. */
export const useNarrow = (): boolean => {
  const [narrow, setNarrow] = useState(() => matchMedia(narrowQuery).matches);
  useEffect(() => {
    const query = matchMedia(narrowQuery);
    const look = (): void => setNarrow(query.matches);
    query.addEventListener("change", look);
    return () => query.removeEventListener("change", look);
  }, []);
  return narrow;
};
