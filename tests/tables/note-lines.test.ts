import { expect, test } from "vitest";
import { noteLines, storyNotes } from "../../src/tables/note-lines.js";

test("the same doubt about several studies is one line naming them", () => {
  expect(
    noteLines([
      { code: "spread-kind-assumed", message: "from medians", study: "Elm" },
      { code: "spread-kind-assumed", message: "from medians", study: "Oak" },
      { code: "spread-kind-assumed", message: "from medians", study: "Elm" },
      { code: "few-studies", message: "few studies" },
    ]),
  ).toEqual(["Elm, Oak: From medians.", "Few studies."]);
});

test("a sentence begins with a capital and ends once", () => {
  const line = (message: string) => noteLines([{ code: "assumption", message }])[0];
  expect(["  few studies ", "few studies!", "why?", "two. one"].map(line)).toEqual([
    "Few studies.",
    "Few studies!",
    "Why?",
    "Two. one.",
  ]);
});

test("a story is told in order: model, estimator, method and confidence, assumptions, doubts", () => {
  expect(
    storyNotes({
      model: "random effects",
      heterogeneityEstimator: "Paule–Mandel",
      intervalMethod: "Hartung–Knapp",
      confidence: 0.9,
      assumptions: ["studies are alike", "errors are normal"],
      effectIds: [],
      notes: [{ code: "assumption", message: "one study is heavy", study: "Elm" }],
    }),
  ).toEqual([
    "Model: random effects. Heterogeneity: Paule–Mandel. Intervals: Hartung–Knapp, 90% confidence.",
    "Assumed: studies are alike.",
    "Assumed: errors are normal.",
    "Elm: One study is heavy.",
  ]);
});
