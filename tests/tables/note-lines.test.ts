import { expect, test } from "vitest";
import { noteLines } from "../../src/tables/note-lines.js";

test("the same doubt about several studies is one line naming them", () => {
  expect(
    noteLines([
      { code: "medians", message: "from medians", study: "Elm" },
      { code: "medians", message: "from medians", study: "Oak" },
      { code: "medians", message: "from medians", study: "Elm" },
      { code: "few", message: "few studies" },
    ]),
  ).toEqual(["Elm, Oak: From medians.", "Few studies."]);
});
