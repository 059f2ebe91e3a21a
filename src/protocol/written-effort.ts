/**
 * The effort: `70–75 %`, `80 % MVC`, `effort 7`, `7/10`, `maximal`.
 */
import type { IntensityBasis } from "./prescription.js";
import { fail, isAny, look, number, range, set, take, takeRun } from "./written-reader.js";
import type { Reader } from "./written-reader.js";

const mvcWords = ["mvc", "mvic", "mvt", "mvf", "maximum", "max"];

/** What stands after a percent sign: the basis, if it is named. */
const basisAfterPercent = (r: Reader): IntensityBasis | undefined => {
  const start = r.index;
  take(r, "of");
  if (take(r, ...mvcWords) !== undefined) {
    if (takeRun(r, "at the training angle")) return "percent of MVC at the training angle";
    if (takeRun(r, "at another angle")) return "percent of MVC at another angle";
    return "percent of MVC at the training angle";
  }
  const one = look(r);
  if ((one.value === 1 || one.text === "one") && isAny(look(r, 1), ["rm"])) {
    r.index += 2;
    return "percent of one-repetition maximum";
  }
  if (takeRun(r, "one - repetition maximum")) return "percent of one-repetition maximum";
  if (r.index !== start)
    fail(r, "what the percentage is of, MVC or 1RM,", "70 % MVC or 70 % of 1RM");
  return undefined;
};
export const percentage = (r: Reader): void => {
  const token = look(r);
  const { low, high } = range(r, "an effort", "70 %");
  if (take(r, "%", "percent") === undefined) fail(r, "a percent sign", "70 % or 70–75 %");
  set(r, "intensityPercent", low, token);
  if (high !== undefined) set(r, "intensityPercentHigh", high, token);
  const basis = basisAfterPercent(r);
  if (basis !== undefined) set(r, "intensityBasis", basis, token);
};
export const rating = (r: Reader): void => {
  const token = number(r, "a rating from 0 to 10", "effort 7");
  if (take(r, "/") !== undefined || takeRun(r, "out of"))
    if (number(r, "10, the top of the scale,", "7/10").value !== 10)
      fail(r, "10, the top of the scale,", "7/10", r.tokens[r.index - 1]);
  set(r, "effortRating", token.value, token);
};
export const isRating = (r: Reader, ahead: number): boolean =>
  look(r, ahead).kind === "number" &&
  ((isAny(look(r, ahead + 1), ["/"]) && look(r, ahead + 2).kind === "number") ||
    (isAny(look(r, ahead + 1), ["out"]) && isAny(look(r, ahead + 2), ["of"])));

export const maximal = (r: Reader): void => {
  const token = look(r);
  r.index += 1;
  take(r, "effort", "efforts");
  set(r, "intensityBasis", "maximal effort", token);
};
