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
  results: {
    /** From memory; widely printed for the log risk ratios. */
    q: "152.23",
    iSquaredDerSimonianLaird: "92.12",
    betweenVariance: {
      "dersimonian-laird": "0.3088",
      "hedges-olkin": "0.3286",
      "hunter-schmidt": "0.2284",
      "sidik-jonkman": "0.3455",
      "paule-mandel": "0.3181",
      "maximum-likelihood": "0.2800",
      "restricted-maximum-likelihood": "0.3132",
    },
    estimate: "-0.7145",
    standardError: "0.1798",
    betweenVarianceInterval: ["0.1197", "1.1115"],
    /** From memory: restricted maximum likelihood with latitude, log risk ratios. */
    latitude: {
      slope: "-0.0291",
      standardError: "0.0072",
      chiSquared: "16.36",
      explainedPercent: "75.6",
      residualQ: "30.73",
    },
    /** From memory: van Houwelingen, Arends and Stijnen (2002) Statistics in Medicine 21:589–624, log odds ratios, maximum likelihood. */
    vanHouwelingen2002: {
      estimate: "-0.742",
      standardError: "0.178",
      betweenVariance: "0.302",
      withLatitude: {
        intercept: "0.371",
        slope: "-0.0327",
        slopeStandardError: "0.0034",
        betweenVariance: "0.004",
      },
    },
    /** Printed in a textbook chapter: DerSimonian–Laird odds ratio with its interval, and between variance. */
    oddsRatio: { estimate: "0.47", interval: ["0.32", "0.69"], betweenVariance: "0.37" },
  },
} as const;
