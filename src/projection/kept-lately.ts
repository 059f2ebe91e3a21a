/** What was made lately, kept for whoever asks again: a moved slider asks three questions about one protocol. */

/**
 * A function that keeps what it made last for the same owner and key.
 *
 * Kept as long as the owner lives; what is kept must follow from owner and key alone.
 *
 * @param mostKept of one owner, beyond which the oldest is made again when it is asked for; eight are more protocols than
 *   are compared at once, and a long search through protocols keeps no more of them
 */
export const keptLately = <Value>(
  mostKept = 8,
): ((owner: object, key: string, make: () => Value) => Value) => {
  const kept = new WeakMap<object, Map<string, Value>>();
  return (owner, key, make) => {
    const own = kept.get(owner) ?? new Map<string, Value>();
    kept.set(owner, own);
    if (own.has(key)) return own.get(key) as Value;
    const made = make();
    const [oldest] = own.keys();
    if (own.size >= mostKept && oldest !== undefined) own.delete(oldest);
    own.set(key, made);
    return made;
  };
};
