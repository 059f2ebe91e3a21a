/** Coordinates in which the posterior of standard deviations is smooth and compact, for quadrature. */
import { CallError } from "../errors.js";
import type { Limits } from "./quadrature-region.js";

/** Prior of a standard deviation: half of a normal around 0 with this scale, or flat from 0 up. */
export type DeviationPrior =
  | Readonly<{ kind: "half-normal"; scale: number }>
  /** Improper; `scale` only sets the unit of the search, e.g. the median standard error. */
  | Readonly<{ kind: "flat"; scale: number }>;

export type DeviationCoordinates = Readonly<{
  /** One for each coordinate: as many as there are deviations. */
  limits: readonly Limits[];
  start: readonly number[];
  /** The deviations at a place, and the log prior density there with the Jacobian of the change of coordinates. */
  at: (place: readonly number[]) => Readonly<{ deviations: readonly number[]; logPrior: number }>;
}>;

/** Half-normal tails beyond this many scales hold 10⁻¹³ of the prior. */
const priorReach = 7.5;
const logHalfNormal = Math.log(Math.SQRT2 / Math.sqrt(Math.PI));

type OneDeviation = Readonly<{
  limits: Limits;
  start: number;
  /** The deviation at u, and ln of its derivative. */
  at: (u: number) => Readonly<{ value: number; logSlope: number }>;
}>;

/** Where the radius bends from fading out to running on, and how far below that it is followed. */
const bend = 0.35;
const fadeReach = 5;

/**
 * r = s·sinh(x)/4 with x = b·ln(1 + e^(u/b)): below u = 0 the radius, and with it its Jacobian, fades out, so that the
 * density has no edge at r = 0.
 */
const radiusDeviation = (scale: number): OneDeviation => {
  const unit = scale / 4;
  return {
    limits: {
      low: -fadeReach * bend,
      high: Math.asinh((priorReach * scale) / unit),
      mirrored: true,
    },
    start: 1,
    at: (u) => {
      const grown = Math.exp(u / bend);
      const x = bend * Math.log1p(grown);
      return {
        value: unit * Math.sinh(x),
        logSlope: Math.log(unit * Math.cosh(x) * (grown / (1 + grown))),
      };
    },
  };
};

/** σ = s·sinh(u)/4 draws a long tail together; σ = s·u/(1−u) an endless one. */
const oneDeviation = (scale: number, endless: boolean): OneDeviation => {
  if (endless) {
    return {
      limits: { low: 0, high: 1 - 1e-5 },
      start: 0.4,
      at: (u) => ({
        value: (scale * u) / (1 - u),
        logSlope: Math.log(scale) - 2 * Math.log(1 - u),
      }),
    };
  }
  const unit = scale / 4;
  return {
    // The density depends on σ² and sinh is odd, so beyond 0 it goes on as its mirror image.
    limits: { low: 0, high: Math.asinh((priorReach * scale) / unit), mirrored: true },
    start: 1,
    at: (u) => ({ value: unit * Math.sinh(u), logSlope: Math.log(unit * Math.cosh(u)) }),
  };
};

/**
 * Coordinates of the deviations, a smooth and compact picture of their posterior.
 *
 * The outer levels stand for themselves. Of three or more, the innermost two are turned into how much they make
 * together and how it is shared, σ₁ = r cos φ, σ₂ = r sin φ (Jacobian r): arms with one reading tell the sum of the two variances
 * and not their shares, which is a narrow arc in (σ₁, σ₂) and a box in (r, φ).
 *
 * @throws {CallError} "bad-prior" for a scale that is not finite and above 0
 * @source none: a change of variables
 */
export const deviationCoordinates = (priors: readonly DeviationPrior[]): DeviationCoordinates => {
  for (const { scale } of priors) {
    if (!(scale > 0) || !Number.isFinite(scale)) {
      throw new CallError({
        code: "bad-prior",
        where: "bayesianRegression",
        needs: "deviation priors with a finite scale above 0",
        got: String(scale),
      });
    }
  }
  const outer = priors.length < 3 ? priors.length : priors.length - 2;
  const single = priors
    .slice(0, outer)
    .map(({ kind, scale }) => oneDeviation(scale, kind === "flat"));
  const pair = priors.slice(outer);
  const radius =
    pair.length === 0
      ? undefined
      : pair.some(({ kind }) => kind === "flat")
        ? oneDeviation(Math.hypot(...pair.map(({ scale }) => scale)), true)
        : radiusDeviation(Math.hypot(...pair.map(({ scale }) => scale)));
  return {
    limits: [
      ...single.map(({ limits }) => limits),
      ...(radius === undefined
        ? []
        : [radius.limits, { low: 0, high: Math.PI / 2, mirrored: true }]),
    ],
    start: [
      ...single.map(({ start }) => start),
      ...(radius === undefined ? [] : [radius.start, Math.PI / 4]),
    ],
    at: (place) => {
      let logPrior = 0;
      const deviations = single.map((one, k) => {
        const { value, logSlope } = one.at(place[k]!);
        logPrior += logSlope;
        return value;
      });
      if (radius !== undefined) {
        const { value, logSlope } = radius.at(place[outer]!);
        const angle = place[outer + 1]!;
        logPrior += logSlope + Math.log(value);
        deviations.push(value * Math.cos(angle), value * Math.sin(angle));
      }
      priors.forEach(({ kind, scale }, k) => {
        if (kind === "half-normal")
          logPrior += logHalfNormal - Math.log(scale) - 0.5 * (deviations[k]! / scale) ** 2;
      });
      return { deviations, logPrior };
    },
  };
};
