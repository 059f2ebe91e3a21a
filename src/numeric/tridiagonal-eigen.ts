/** Eigenvalues and eigenvectors of a symmetric tridiagonal matrix, by implicit QL steps. */
import { ConvergenceError } from "../errors.js";

const stepsPerValue = 60;

/**
 * Number of QL steps taken; overwrites its arguments.
 *
 * On return `main` holds the eigenvalues, unsorted, and `vectors` is multiplied from the right by the
 * rotations, so that with the identity (or the matrix that made the tridiagonal form) on entry its
 * columns are the eigenvectors. Converges when every off-diagonal entry is negligible beside its
 * neighbours; gives up after 60 steps for one eigenvalue.
 *
 * @param main n diagonal entries, overwritten
 * @param off n entries: off[i] joins i and i + 1, the last is unused; overwritten
 * @param vectors rows × n row-major, overwritten; pass an empty array when not wanted
 * @param rows number of rows of `vectors`
 * @throws {ConvergenceError} when an eigenvalue does not settle
 * @source Golub GH, Van Loan CF (2013) Matrix Computations, 4th edition, section 8.3 (implicit shifts after
 *   Dubrulle A, Martin RS, Wilkinson JH 1968)
 */
export const tridiagonalEigen = (
  main: Float64Array,
  off: Float64Array,
  vectors: Float64Array,
  rows: number,
): number => {
  const n = main.length;
  let steps = 0;
  const m = (i: number): number => main[i] as number;
  const o = (i: number): number => off[i] as number;
  for (let first = 0; first < n; first++) {
    for (let attempt = 0; ; attempt++) {
      let last = first;
      while (last < n - 1) {
        const neighbours = Math.abs(m(last)) + Math.abs(m(last + 1));
        if (Math.abs(o(last)) <= 0.5 * Number.EPSILON * neighbours || o(last) === 0) break;
        last++;
      }
      if (last === first) break;
      if (attempt === stepsPerValue) {
        throw new ConvergenceError({
          where: "tridiagonalEigen",
          iterations: steps,
          lastChange: Math.abs(o(first)),
          tolerance: Number.EPSILON,
          try: "check that the matrix holds only finite numbers",
        });
      }
      steps++;
      // Wilkinson's shift from the leading two by two block
      const slope = (m(first + 1) - m(first)) / (2 * o(first));
      const length = Math.hypot(slope, 1);
      let g = m(last) - m(first) + o(first) / (slope + (slope >= 0 ? length : -length));
      let sine = 1;
      let cosine = 1;
      let carried = 0;
      let i = last - 1;
      for (; i >= first; i--) {
        const f = sine * o(i);
        const b = cosine * o(i);
        const radius = Math.hypot(f, g);
        off[i + 1] = radius;
        if (radius === 0) {
          main[i + 1] = m(i + 1) - carried;
          off[last] = 0;
          break;
        }
        sine = f / radius;
        cosine = g / radius;
        g = m(i + 1) - carried;
        const turned = (m(i) - g) * sine + 2 * cosine * b;
        carried = sine * turned;
        main[i + 1] = g + carried;
        g = cosine * turned - b;
        for (let k = 0; k < rows; k++) {
          const left = vectors[k * n + i] as number;
          const right = vectors[k * n + i + 1] as number;
          vectors[k * n + i + 1] = sine * left + cosine * right;
          vectors[k * n + i] = cosine * left - sine * right;
        }
      }
      if (i >= first) continue;
      main[first] = m(first) - carried;
      off[first] = g;
      off[last] = 0;
    }
  }
  return steps;
};
