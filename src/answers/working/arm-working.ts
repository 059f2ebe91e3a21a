/** One arm's change worked out line by line, with the numbers of its row; long because each scale has its own lines. */
import type { ArmReading } from "../../effects/arm-reading.js";
import type { EffectScale } from "../../effects/effect.js";
import { manyPeople } from "../../effects/row-participants.js";
import { smallSampleFactor } from "../../effects/small-sample-factor.js";
import { factorOf, figureOf, type Quantity, type Step, type WorkedEstimate } from "./working.js";

type Known = Readonly<{
  reading: ArmReading;
  /** Pre–post correlation, where the formula needs one. */
  correlation: number;
  correlationSource: string;
  order: "second-order" | "first-order";
}>;

type Worker = (known: Known) => WorkedEstimate | undefined;

const quantity = (symbol: string, meaning: string, value: number): Quantity => ({
  symbol,
  meaning,
  value: figureOf(value),
});

const step = (formula: string, numbers: string, value: number): Step => ({
  formula,
  numbers,
  result: figureOf(value),
});

const people = (n: number): Quantity => quantity("n", "people", n);

const pairedLogRatio: Worker = ({ reading, correlation: r, correlationSource, order }) => {
  const { meanBefore: m1, meanAfter: m2, deviationBefore: s1, deviationAfter: s2 } = reading;
  const n = reading.participants;
  if (m1 === undefined || m2 === undefined || s1 === undefined || s2 === undefined)
    return undefined;
  const [a1, a2] = [s1 ** 2 / (n * m1 ** 2), s2 ** 2 / (n * m2 ** 2)];
  const c = r * Math.sqrt(a1 * a2);
  const second = order === "second-order";
  const estimate = Math.log(m2 / m1) + (second ? (a2 - a1) / 2 : 0);
  const variance = a1 + a2 - 2 * c + (second ? (a1 ** 2 + a2 ** 2 - 2 * c ** 2) / 2 : 0);
  const [A1, A2, C] = [figureOf(a1), figureOf(a2), figureOf(c)];
  return {
    working: {
      title: `Log ratio of the mean after to the mean before${second ? ", second order" : ""}`,
      quantities: [
        quantity("m₁", "mean before", m1),
        quantity("s₁", "standard deviation before", s1),
        quantity("m₂", "mean after", m2),
        quantity("s₂", "standard deviation after", s2),
        people(n),
        quantity("r", `pre–post correlation, ${correlationSource}`, r),
      ],
      steps: [
        step("a₁ = s₁² / (n·m₁²)", `${figureOf(s1)}² / (${n} · ${figureOf(m1)}²)`, a1),
        step("a₂ = s₂² / (n·m₂²)", `${figureOf(s2)}² / (${n} · ${figureOf(m2)}²)`, a2),
        step("c = r·√(a₁·a₂)", `${factorOf(r)} · √(${A1} · ${A2})`, c),
        step(
          second ? "L = ln(m₂/m₁) + ½(a₂ − a₁)" : "L = ln(m₂/m₁)",
          `ln(${figureOf(m2)} / ${figureOf(m1)})${second ? ` + ½(${A2} − ${A1})` : ""}`,
          estimate,
        ),
        step(
          second ? "V = a₁ + a₂ − 2c + ½(a₁² + a₂² − 2c²)" : "V = a₁ + a₂ − 2c",
          `${A1} + ${A2} − 2 · ${factorOf(c)}${second ? ` + ½(${A1}² + ${A2}² − 2 · ${C}²)` : ""}`,
          variance,
        ),
      ],
      source:
        "Lajeunesse MJ (2011) Ecology 92:2049–2055; Lajeunesse MJ (2015) Ecology 96:2056–2063",
    },
    estimate,
    variance,
  };
};

const logRatioFromChange: Worker = ({ reading }) => {
  const { meanBefore: m1, meanAfter: m2, changeDeviation: sc, participants: n } = reading;
  if (m1 === undefined || m2 === undefined || sc === undefined) return undefined;
  const [estimate, variance] = [Math.log(m2 / m1), sc ** 2 / (n * m1 * m2)];
  return {
    working: {
      title: "Log ratio of the means, its error from the spread of the changes",
      quantities: [
        quantity("m₁", "mean before", m1),
        quantity("m₂", "mean after", m2),
        quantity("s_c", "standard deviation of the changes", sc),
        people(n),
      ],
      steps: [
        step("L = ln(m₂/m₁)", `ln(${figureOf(m2)} / ${figureOf(m1)})`, estimate),
        step(
          "V = s_c² / (n·m₁·m₂)",
          `${figureOf(sc)}² / (${n} · ${figureOf(m1)} · ${figureOf(m2)})`,
          variance,
        ),
      ],
      source: "derived in this project from the paired variance under equal relative spreads",
    },
    estimate,
    variance,
  };
};

const logRatioFromPercent: Worker = ({ reading }) => {
  const { percentMean: c, percentDeviation: s, participants: n } = reading;
  if (c === undefined || s === undefined) return undefined;
  const ratio = 1 + c / 100;
  const [estimate, variance] = [Math.log(ratio), (s / 100) ** 2 / (n * ratio ** 2)];
  return {
    working: {
      title: "Log ratio from the mean of people's percent changes",
      quantities: [
        quantity("p", "mean percent change", c),
        quantity("s_p", "standard deviation of the percent changes", s),
        people(n),
      ],
      steps: [
        step("L = ln(1 + p/100)", `ln(1 + ${factorOf(c)}/100)`, estimate),
        step(
          "V = (s_p/100)² / (n·(1 + p/100)²)",
          `(${figureOf(s)}/100)² / (${n} · ${figureOf(ratio)}²)`,
          variance,
        ),
      ],
      source: "first-order propagation of error",
    },
    estimate,
    variance,
  };
};

/** The spread of the changes: printed, or from the spreads at both times and the correlation. */
const changeSpread = ({
  reading,
  correlation: r,
  correlationSource,
}: Known):
  | Readonly<{ value: number; quantities: readonly Quantity[]; steps: readonly Step[] }>
  | undefined => {
  const { changeDeviation: sc, deviationBefore: s1, deviationAfter: s2 } = reading;
  if (sc !== undefined)
    return {
      value: sc,
      quantities: [quantity("s_c", "standard deviation of the changes", sc)],
      steps: [],
    };
  if (s1 === undefined || s2 === undefined) return undefined;
  const value = Math.sqrt((s1 - s2) ** 2 + 2 * (1 - r) * s1 * s2);
  return {
    value,
    quantities: [
      quantity("s₁", "standard deviation before", s1),
      quantity("s₂", "standard deviation after", s2),
      quantity("r", `pre–post correlation, ${correlationSource}`, r),
    ],
    steps: [
      step(
        "s_c = √(s₁² + s₂² − 2·r·s₁·s₂)",
        `√(${figureOf(s1)}² + ${figureOf(s2)}² − 2 · ${factorOf(r)} · ${figureOf(s1)} · ${figureOf(s2)})`,
        value,
      ),
    ],
  };
};

const rawChange: Worker = (known) => {
  const { meanChange: d, participants: n } = known.reading;
  const spread = changeSpread(known);
  if (d === undefined || spread === undefined) return undefined;
  const variance = spread.value ** 2 / n;
  return {
    working: {
      title: "Mean change in the outcome's own unit",
      quantities: [quantity("D", "mean change", d), ...spread.quantities, people(n)],
      steps: [...spread.steps, step("V = s_c² / n", `${figureOf(spread.value)}² / ${n}`, variance)],
      source: "variance of the mean of paired differences",
    },
    estimate: d,
    variance,
  };
};

/** Both standardised changes: by the spread at baseline, or by that of the changes. */
const standardised =
  (by: "baseline" | "changes"): Worker =>
  (known) => {
    const { meanChange: d, participants: n, deviationBefore: s1 } = known.reading;
    const spread = changeSpread(known);
    if (d === undefined || spread === undefined || n < 4) return undefined;
    const divisor = by === "baseline" ? s1 : spread.value;
    if (divisor === undefined) return undefined;
    const factor = smallSampleFactor(n - 1);
    const estimate = (factor * d) / divisor;
    const q = (spread.value / divisor) ** 2;
    const variance = factor ** 2 * ((n - 1) / (n - 3)) * (q / n + estimate ** 2) - estimate ** 2;
    const named = spread.quantities.some(({ symbol }) => symbol === "s₁");
    const symbol = by === "baseline" ? "s₁" : "s_c";
    return {
      working: {
        title: `Mean change in standard deviations ${by === "baseline" ? "at baseline" : "of the changes"}`,
        quantities: [
          quantity("D", "mean change", d),
          ...(by === "baseline" && !named
            ? [quantity("s₁", "standard deviation before", divisor)]
            : []),
          ...spread.quantities,
          people(n),
          quantity("J", "small-sample factor for n − 1 degrees of freedom", factor),
        ],
        steps: [
          ...spread.steps,
          step(
            `g = J·D / ${symbol}`,
            `${figureOf(factor)} · ${factorOf(d)} / ${figureOf(divisor)}`,
            estimate,
          ),
          ...(by === "baseline"
            ? [step("q = s_c² / s₁²", `${figureOf(spread.value)}² / ${figureOf(divisor)}²`, q)]
            : []),
          step(
            `V = J²·((n − 1)/(n − 3))·(${by === "baseline" ? "q" : "1"}/n + g²) − g²`,
            `${figureOf(factor)}² · (${n - 1}/${n - 3}) · (${figureOf(q)}/${n} + ${factorOf(estimate)}²) − ${factorOf(estimate)}²`,
            variance,
          ),
        ],
        source:
          by === "baseline"
            ? "Becker BJ (1988) British Journal of Mathematical and Statistical Psychology 41:257–278; exact moments"
            : "Gibbons RD, Hedeker DR, Davis JM (1993) Journal of Educational Statistics 18:271–279; exact moments",
      },
      estimate,
      variance,
    };
  };

const logRatio: Worker = (known) =>
  pairedLogRatio(known) ?? logRatioFromChange(known) ?? logRatioFromPercent(known);

/** How each scale is worked out; scales without an entry are described in words. */
const workers: Readonly<Partial<Record<EffectScale, Worker>>> = {
  "log-ratio-of-means": logRatio,
  "log-ratio-of-means-where-lower-is-better": logRatio,
  "raw-mean-difference": rawChange,
  "standardised-mean-change-baseline-deviation": standardised("baseline"),
  "standardised-mean-change-change-deviation": standardised("changes"),
};

/** One arm's change worked out on a scale, or nothing where it is not shown line by line, as an error taken as printed. */
export const armWorking = (scale: EffectScale, known: Known): WorkedEstimate | undefined =>
  known.reading.participants === manyPeople ? undefined : workers[scale]?.(known);
