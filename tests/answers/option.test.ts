import { expect, test } from "vitest";
import { aNumber, resolvedOptions } from "../../src/answers/option.js";

const minutes = (typed: string): unknown =>
  resolvedOptions(
    { minutes: aNumber({ above: 0, needs: "a number of minutes" }) },
    { minutes: typed },
  );

test("a typed number takes a decimal comma, and is refused where it can be read two ways", () => {
  expect(minutes("12,5")).toEqual({ minutes: 12.5 });
  expect(minutes("0,125")).toEqual({ minutes: 0.125 });
  expect(minutes("1,2345")).toEqual({ minutes: 1.2345 });
  expect(() => minutes("1,234")).toThrow(
    /read one way.*"1,234".*write 1234 or 1\.234, whichever is meant/,
  );
});
