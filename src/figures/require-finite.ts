import { CallError } from "../errors.js";

/** Refuses numbers that cannot be drawn: every value must be finite, and the message names the first that is not. */
export const requireFinite = (
  where: string,
  values: Readonly<Record<string, number | null | undefined>>,
): void => {
  for (const [name, value] of Object.entries(values)) {
    if (value !== null && value !== undefined && !Number.isFinite(value)) {
      throw new CallError({
        code: "not-finite",
        where,
        needs: `a finite ${name}`,
        got: String(value),
        try: "set the row aside before drawing, or find out why it has no value",
      });
    }
  }
};
