/** Refusals shared by the scalar functions; NaN passes through, as IEEE manners ask. */
import { CallError } from "../errors.js";

/**
 * Nothing; refuses a value that is zero or negative. NaN passes.
 * @throws {CallError} "not-positive"
 * @source none: a guard
 */
export const requirePositive = (where: string, name: string, value: number): void => {
  if (value <= 0) {
    throw new CallError({
      code: "not-positive",
      where,
      needs: `${name} above zero`,
      got: String(value),
    });
  }
};

/**
 * Nothing; refuses a value below zero. NaN passes.
 * @throws {CallError} "negative"
 * @source none: a guard
 */
export const requireNotNegative = (where: string, name: string, value: number): void => {
  if (value < 0) {
    throw new CallError({
      code: "negative",
      where,
      needs: `${name} of zero or more`,
      got: String(value),
    });
  }
};

/**
 * Nothing; refuses a value outside [0, 1]. NaN passes.
 * @throws {CallError} "not-a-probability"
 * @source none: a guard
 */
export const requireProbability = (where: string, value: number): void => {
  if (value < 0 || value > 1) {
    throw new CallError({
      code: "not-a-probability",
      where,
      needs: "a probability between 0 and 1",
      got: String(value),
    });
  }
};

/**
 * Nothing; refuses a count that is not a whole number of at least `least`. NaN is refused too.
 * @throws {CallError} "not-a-count"
 * @source none: a guard
 */
export const requireCount = (where: string, name: string, value: number, least: number): void => {
  if (!Number.isSafeInteger(value) || value < least) {
    throw new CallError({
      code: "not-a-count",
      where,
      needs: `${name} to be a whole number of at least ${least}`,
      got: String(value),
    });
  }
};
