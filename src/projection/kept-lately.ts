/** What was made lately, kept for whoever asks again: a moved slider asks three questions about one protocol. */

/** Made lately of one thing, more than are compared at once; a long search through protocols keeps no more of them. */
const mostKept = 8;

/**
 * A function that keeps what it made last for the same owner and key.
 *
 * Kept as long as the owner lives; what is kept must follow from owner and key alone.
 */
export const keptLately = <Value>(): ((owner: object, key: string, make: () => Value) => Value) => {
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
