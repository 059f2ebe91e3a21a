import { useChoice } from "../app.js";

/** A choice out of a list, kept in the address; words that are none of it count as the standard. */
export const useOneOf = <Word extends string>(
  name: string,
  words: readonly Word[],
  standard: Word,
): readonly [Word, (word: string) => void] => {
  const [text, set] = useChoice(name, standard);
  return [words.find((word) => word === text) ?? standard, set];
};
