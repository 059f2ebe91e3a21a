import { CallError } from "../errors.js";

/**
 * A result as indented JSON text.
 *
 * JSON has no infinity, so unlimited degrees of freedom (a normal reference) are written as null; a
 * not-a-number has no business in a result and is refused.
 *
 * @throws {CallError} "not-a-number"
 */
export const jsonText = (value: unknown): string =>
  JSON.stringify(
    value,
    (key, entry: unknown) => {
      if (typeof entry !== "number" || Number.isFinite(entry)) return entry;
      if (Number.isNaN(entry))
        throw new CallError({
          code: "not-a-number",
          where: "a JSON result",
          needs: "numbers only",
          got: `not-a-number in ${key}`,
        });
      return null;
    },
    2,
  )
    // These may stand in JSON as they are, and the terminal's guard would take them out.
    .replace(
      /[\u007f-\u009f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/g,
      (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, "0")}`,
    );
