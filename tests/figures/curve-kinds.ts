/** Curves, angles, weeks, pairs and counts, as both shipped files draw them: what tests of every figure look at. */
import { ask } from "../../src/answers/ask.js";
import type { NamedFigure } from "../../src/figures/figure-list.js";
import { shippedEvidence } from "../answers/evidence-under-test.js";

export const curveKinds = [
  "dose-curve",
  "doses-together",
  "precision",
  "joint-angle",
  "test-angle",
  "time-course",
] as const;

const files = { invented: "demo-register.csv", published: "published-outcomes.csv" } as const;

const questions: readonly (readonly [string, string, Readonly<Record<string, unknown>>])[] = [
  ["holds", "dose", { on: "holdSeconds" }],
  ["intensity", "dose", { on: "intensityPercent" }],
  ["weeks trained", "dose", { on: "weeks" }],
  ["precision", "pool", { outcome: "strength" }],
  ["angles", "joint-angle", {}],
  ["weeks", "time", {}],
];

/** The figures of a question and a file, invented ones marked as they are at every door. */
export const curvesAsked: readonly (readonly [string, () => Promise<readonly NamedFigure[]>])[] = (
  Object.keys(files) as (keyof typeof files)[]
).flatMap((file) =>
  questions.map(
    ([name, id, options]) =>
      [
        `${name}, ${file}`,
        async () => {
          const { figures } = await ask(id as "dose", options, shippedEvidence(files[file]));
          return figures.map(
            (figure) =>
              ({
                ...figure,
                data: {
                  ...figure.data,
                  invented: file === "invented",
                  source: `${files[file]}, 0000 0000`,
                },
              }) as NamedFigure,
          );
        },
      ] as const,
  ),
);
