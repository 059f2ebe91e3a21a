import { readFileSync } from "node:fs";
import { readTable } from "../../src/csv/read-table.js";
import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";

const table = readTable(readFileSync(new URL("bcg_colditz1994.csv", import.meta.url)));
const trials = table.rows.map(({ cells }) => {
  const number = (name: string): number => Number(cells[table.header.indexOf(name)]);
  return {
    trial: cells[0]!,
    cases: number("tb_vaccinated"),
    vaccinated: number("n_vaccinated"),
    controlCases: number("tb_control"),
    controls: number("n_control"),
    latitude: number("latitude_deg"),
  };
});

const effectsBy = (
  measure: (trial: (typeof trials)[number]) => Readonly<{ estimate: number; variance: number }>,
): readonly SynthesisEffect[] =>
  trials.map((trial) => ({
    effectId: trial.trial,
    study: trial.trial,
    ...measure(trial),
    moderators: { latitude: trial.latitude },
  }));

/** Thirteen trials of BCG vaccination. Counts: Colditz et al. (1994) JAMA 271:698–702. */
export const bcg1994 = {
  logRiskRatios: effectsBy(({ cases, vaccinated, controlCases, controls }) => ({
    estimate: Math.log(cases / vaccinated / (controlCases / controls)),
    variance: 1 / cases - 1 / vaccinated + 1 / controlCases - 1 / controls,
  })),
  logOddsRatios: effectsBy(({ cases, vaccinated, controlCases, controls }) => ({
    estimate: Math.log((cases * (controls - controlCases)) / ((vaccinated - cases) * controlCases)),
    variance:
      1 / cases + 1 / (vaccinated - cases) + 1 / controlCases + 1 / (controls - controlCases),
  })),
  /**
   * By base R, from the definitions: sums, var(), uniroot() for the estimators and limits that solve an
   * equation, optimize() over the likelihoods written out, weighted least squares.
   */
  results: {
    q: "152.233008",
    iSquaredDerSimonianLaird: "92.117347",
    betweenVariance: {
      "dersimonian-laird": "0.30876026",
      "hedges-olkin": "0.32856386",
      "hunter-schmidt": "0.22836286",
      "sidik-jonkman": "0.34551570",
      "paule-mandel": "0.31806845",
      "maximum-likelihood": "0.280028",
      "restricted-maximum-likelihood": "0.313243",
    },
    estimate: "-0.714532",
    standardError: "0.179782",
    common: { estimate: "-0.43028516", standardError: "0.04049875" },
    betweenVarianceInterval: ["0.11971836", "1.11147908"],
    /** Restricted maximum likelihood with latitude, log risk ratios. */
    latitude: {
      slope: "-0.029102",
      standardError: "0.007195",
      chiSquared: "16.3582",
      explainedPercent: "75.6266",
      residualQ: "30.733090",
    },
    /** Log odds ratios, maximum likelihood. */
    logOddsRatio: {
      estimate: "-0.741967",
      standardError: "0.177953",
      betweenVariance: "0.302457",
      withLatitude: {
        intercept: "0.371070",
        slope: "-0.032722",
        slopeStandardError: "0.003372",
        betweenVariance: "0.003998",
      },
    },
    /** Printed in a textbook chapter: DerSimonian–Laird odds ratio with its interval, and between variance. */
    oddsRatio: { estimate: "0.47", interval: ["0.32", "0.69"], betweenVariance: "0.37" },
  },
} as const;
