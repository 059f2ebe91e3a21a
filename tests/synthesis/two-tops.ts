/** Three precise studies close together, twenty loose ones far apart: a likelihood with two tops. */
export const twoTops = {
  estimates: [0, 0.013, -0.01, ...Array.from({ length: 20 }, (_, i) => (i % 2 === 0 ? -1 : 1))],
  variances: [1e-4, 1e-4, 1e-4, ...new Array<number>(20).fill(1 / 3)],
} as const;
