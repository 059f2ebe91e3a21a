import { fitShape } from "../../src/dose/fit-shape.js";
import { mixedModel } from "../../src/dose/mixed-model.js";
import { shapeContext, type ShapeName } from "../../src/dose/shapes/shape.js";
import { shapes } from "../../src/dose/shapes/shapes.js";
import { matrixOf } from "../../src/numeric/matrix.js";

/** A shape fitted to plain points of equal weight, with a level or without: maximum likelihood is then least squares. */
export const plainFit = (
  name: ShapeName,
  x: readonly number[],
  y: readonly number[],
  level: "with a level" | "from nothing" = "with a level",
) => {
  const model = mixedModel(
    y.map((estimate, i) => ({
      effectId: `e${i}`,
      study: "one",
      arm: "one",
      estimate,
      variance: 1,
    })),
    [],
    ["study"],
  );
  const context = shapeContext(x);
  const shape = shapes[name];
  const answer = fitShape(
    model,
    (columns) => ({
      design: matrixOf(
        x.map((dose) => [...(level === "with a level" ? [1] : []), ...columns(dose)]),
      ),
      curveColumns: shape.columns(context),
      centres: [],
    }),
    shape,
    context,
  );
  if (answer.kind === "refusal") throw new Error(answer.reason);
  return { ...answer, context };
};
