import { plainNumber } from "./number-format.js";

/** A count with its word in the right number: "1 week", "12 weeks". */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${plainNumber(count)} ${count === 1 ? one : many}`;
