/** Answers kept by key: worked out when asked for the first time, the oldest given up beyond a number. */
export const remembered = <Answer>(most: number) => {
  const kept = new Map<string, Answer>();
  return (key: string, workOut: () => Answer): Answer => {
    const known = kept.get(key);
    if (known !== undefined) return known;
    const answer = workOut();
    kept.set(key, answer);
    if (kept.size > most) {
      const [oldest] = kept.keys();
      if (oldest !== undefined) kept.delete(oldest);
    }
    return answer;
  };
};
