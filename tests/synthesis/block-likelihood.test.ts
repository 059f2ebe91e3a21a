import { describe, expect, test } from "vitest";
import { blockLikelihood } from "../../src/synthesis/block-likelihood.js";
import { blockProblem, type LikelihoodBlock } from "../../src/synthesis/block-problem.js";
import { cholesky, solveCholesky } from "../../src/numeric/cholesky.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { expectRelative } from "../effects/agreement.js";

const kinds = ["restricted-maximum-likelihood", "maximum-likelihood"] as const;

/** Two parts: an intercept by block and one by row; sampling errors correlated inside blocks. */
const randomBlocks = (seed: number, sizes: readonly number[]): readonly LikelihoodBlock[] => {
  const stream = randomStream(seed);
  return sizes.map((n) => {
    const design = Float64Array.from({ length: n * 2 }, (_, at) =>
      at % 2 === 0 ? 1 : stream.normal(),
    );
    const errors = Array.from({ length: n }, () => 0.2 + 0.3 * stream.uniform());
    const square = (entry: (i: number, j: number) => number) => ({
      rows: n,
      columns: n,
      values: Float64Array.from({ length: n * n }, (_, at) => entry(Math.floor(at / n), at % n)),
    });
    return {
      y: Float64Array.from({ length: n }, () => 0.5 + stream.normal()),
      design: { rows: n, columns: 2, values: design },
      covariance: square((i, j) => errors[i]! * errors[j]! * (i === j ? 1 : 0.3)),
      components: [square(() => 1), square((i, j) => (i === j ? 1 : 0))],
    };
  });
};

/** The same blocks as one dense block, with a third part whose groups run across them. */
const dense = (
  blocks: readonly LikelihoodBlock[],
  groups: readonly (readonly (readonly [block: number, row: number])[])[],
): LikelihoodBlock => {
  const n = blocks.reduce((total, block) => total + block.y.length, 0);
  const starts: number[] = [];
  let start = 0;
  for (const block of blocks) {
    starts.push(start);
    start += block.y.length;
  }
  const place = (choose: (block: LikelihoodBlock) => Float64Array) => {
    const values = new Float64Array(n * n);
    blocks.forEach((block, b) => {
      const size = block.y.length;
      for (let i = 0; i < size; i++) {
        for (let j = 0; j < size; j++) {
          values[(starts[b]! + i) * n + starts[b]! + j] = choose(block)[i * size + j]!;
        }
      }
    });
    return { rows: n, columns: n, values };
  };
  const crossing = new Float64Array(n * n);
  for (const group of groups) {
    for (const [a, i] of group) {
      for (const [b, j] of group) crossing[(starts[a]! + i) * n + starts[b]! + j]! += 1;
    }
  }
  return {
    y: Float64Array.from(blocks.flatMap((block) => Array.from(block.y))),
    design: {
      rows: n,
      columns: 2,
      values: Float64Array.from(blocks.flatMap((block) => Array.from(block.design.values))),
    },
    covariance: place((block) => block.covariance.values),
    components: [
      place((block) => block.components[0]!.values),
      place((block) => block.components[1]!.values),
      { rows: n, columns: n, values: crossing },
    ],
  };
};

const groups = [
  [
    [0, 0],
    [1, 1],
    [3, 0],
  ],
  [
    [0, 1],
    [2, 0],
    [2, 2],
  ],
  [
    [4, 0],
    [5, 1],
  ],
] as const;

const spread = (seed: number) => {
  const blocks = randomBlocks(seed, [3, 4, 3, 1, 2, 2]);
  return {
    shared: blockProblem(
      blocks.map((block) => ({ ...block, components: [...block.components, undefined] })),
      groups.map((group) => ({
        component: 2,
        members: [...new Set(group.map(([block]) => block))].map((block) => ({
          block,
          rows: group.filter(([other]) => other === block).map(([, row]) => row),
        })),
      })),
    ),
    whole: blockProblem([dense(blocks, groups)], []),
  };
};

describe("independent: the textbook likelihood of one dense matrix", () => {
  test.each(kinds)("%s", (kind) => {
    const block = dense(randomBlocks(5, [2, 3, 4]), []);
    const n = 9;
    const variances = [0.3, 0.2, 0];
    const m = block.covariance.values.map(
      (value, at) =>
        value +
        variances[0]! * block.components[0]!.values[at]! +
        variances[1]! * block.components[1]!.values[at]!,
    );
    const factor = cholesky({ rows: n, columns: n, values: m })!;
    const column = (j: number) =>
      Float64Array.from({ length: n }, (_, i) => block.design.values[i * 2 + j]!);
    const solved = [solveCholesky(factor, column(0)), solveCholesky(factor, column(1))];
    const inner = (a: ArrayLike<number>, b: ArrayLike<number>) =>
      Array.from(a).reduce((total, value, i) => total + value * b[i]!, 0);
    const a = inner(column(0), solved[0]!);
    const b = inner(column(0), solved[1]!);
    const d = inner(column(1), solved[1]!);
    const right = [inner(block.y, solved[0]!), inner(block.y, solved[1]!)];
    const determinant = a * d - b * b;
    const beta = [
      (d * right[0]! - b * right[1]!) / determinant,
      (a * right[1]! - b * right[0]!) / determinant,
    ];
    const residual = Float64Array.from(
      block.y,
      (value, i) => value - beta[0]! - beta[1]! * column(1)[i]!,
    );
    const squares = inner(residual, solveCholesky(factor, residual));
    const xx = n * inner(column(1), column(1)) - inner(column(0), column(1)) ** 2;
    const expected =
      kind === "maximum-likelihood"
        ? -0.5 * (n * Math.log(2 * Math.PI) + factor.logDeterminant + squares)
        : -0.5 *
          ((n - 2) * Math.log(2 * Math.PI) +
            factor.logDeterminant +
            Math.log(determinant) -
            Math.log(xx) +
            squares);
    const point = blockLikelihood(blockProblem([block], []), variances, kind)!;
    expectRelative(point.logLikelihood, expected, 1e-12);
  });
});

describe("independent: score by central differences of the likelihood", () => {
  test.each(kinds)("%s, with shared intercepts", (kind) => {
    const { shared } = spread(7);
    const at = [0.21, 0.13, 0.34];
    const point = blockLikelihood(shared, at, kind)!;
    at.forEach((value, k) => {
      const step = 1e-5;
      const move = (by: number) =>
        blockLikelihood(
          shared,
          at.map((v, j) => (j === k ? value + by : v)),
          kind,
        )!.logLikelihood;
      expectRelative(point.score[k]!, (move(step) - move(-step)) / (2 * step), 1e-6);
    });
  });
});

describe("identity: blocks with shared intercepts are one dense block", () => {
  test.each(kinds)("%s", (kind) => {
    for (const at of [
      [0.2, 0.1, 0.4],
      [0, 0, 0],
      [0, 0.3, 1e-6],
      [0.5, 0, 25],
    ]) {
      const { shared, whole } = spread(8);
      const a = blockLikelihood(shared, at, kind)!;
      const b = blockLikelihood(whole, at, kind)!;
      expectRelative(a.logLikelihood, b.logLikelihood, 1e-11);
      for (let k = 0; k < 3; k++) expectRelative(a.score[k]!, b.score[k]!, 1e-9);
      for (let i = 0; i < 9; i++) expectRelative(a.information[i]!, b.information[i]!, 1e-9);
    }
  });
});

describe("identity: one part and equal variances", () => {
  test("score and average information are those of the closed form", () => {
    const y = Float64Array.of(0.1, 0.7, -0.4, 0.9);
    const n = 4;
    const eye = { rows: 1, columns: 1, values: Float64Array.of(1) };
    const problem = blockProblem(
      Array.from(y, (value) => ({
        y: Float64Array.of(value),
        design: eye,
        covariance: { rows: 1, columns: 1, values: Float64Array.of(0.1) },
        components: [eye],
      })),
      [],
    );
    const m = 0.1 + 0.2;
    const mean = y.reduce((a, b) => a + b, 0) / n;
    const squares = y.reduce((total, value) => total + (value - mean) ** 2, 0);
    const point = blockLikelihood(problem, [0.2], "restricted-maximum-likelihood")!;
    expectRelative(point.information[0]!, squares / (2 * m ** 3), 1e-12);
    expectRelative(point.score[0]!, (squares / m ** 2 - (n - 1) / m) / 2, 1e-12);
  });
});

test("a matrix that is not positive definite has no likelihood", () => {
  const block = randomBlocks(1, [4])[0]!;
  const broken = { ...block.covariance, values: block.covariance.values.map(() => 1) };
  const problem = blockProblem([{ ...block, covariance: broken }], []);
  expect(blockLikelihood(problem, [0, 0], "maximum-likelihood")).toBeUndefined();
  expect(blockLikelihood(problem, [0, 0.1], "maximum-likelihood")).toBeDefined();
});
