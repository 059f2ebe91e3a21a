import { randomStream } from "../numeric/random-stream.js";
import { demoCitation } from "./demo-notice.js";
import { demoMeasure, demoScores } from "./demo-people.js";
import type { DemoScores } from "./demo-people.js";
import { demoPlan } from "./demo-plan.js";
import { demoStudies } from "./demo-studies.js";
import type { DemoArm, DemoStudy } from "./demo-study.js";
import { demoTruthDefaults } from "./demo-truth.js";
import type { DemoFamily, DemoTruth } from "./demo-truth.js";
import { printedForm } from "./printed-form.js";

/** How large the invented register is and what is true in it. */
export type DemoRegisterOptions = Readonly<{
  /** Whole number; the same seed gives the same register to the last digit. */
  seed?: number;
  /** Number of invented papers, 1–999. */
  studies?: number;
  truth?: DemoTruth;
}>;

/** The register that ships with the project. */
export const demoRegisterDefaults = {
  seed: 1,
  studies: demoPlan.length,
  truth: demoTruthDefaults,
} as const;

/** One row of the codebook, cells as a spreadsheet would hold them; columns without a cell are blank. */
export type DemoRow = Readonly<Record<string, string>>;

/** What stands behind one row. */
export type DemoRowTruth = Readonly<{
  study: string;
  arm: string;
  family: DemoFamily;
  weeks: number;
  testAngle?: number;
  /** True average log gain by the curves alone; positive means improvement. */
  curveGain: number;
  /** The same with the deviations of this study, arm and reading. */
  trueGain: number;
}>;

/** An invented register and the truth it was written from. */
export type DemoRegister = Readonly<{
  rows: readonly DemoRow[];
  /** One entry per row, in the same order. */
  rowTruths: readonly DemoRowTruth[];
  studies: readonly DemoStudy[];
  truth: DemoTruth;
}>;

const unreported = "not reported";
const judgements = ["low", "low", "low", "some concerns", "some concerns", "high"] as const;

type Cells = Record<string, string>;

/** Fields an invented author may have left out, decided once per paper. */
const studyCells = (study: DemoStudy): Cells => {
  const stream = randomStream(study.cohortSeed + 1000 + study.number);
  const judgement = (): string => judgements[stream.integer(judgements.length)] ?? "low";
  const orMissing = (value: string): string => {
    const draw = stream.uniform();
    return draw < 0.13 ? unreported : draw < 0.18 ? "" : value;
  };
  return {
    study: study.study,
    citation: demoCitation,
    year: String(study.year),
    cohort: study.cohortStated ? study.cohort : "",
    source_location: "invented table",
    source_licence: "invented, free to use",
    notes: `Invented: no such trial, clinic or person exists. Halvershore demonstration register, ${study.about}.`,
    design: study.design,
    training_status: study.trainingStatus,
    condition: study.trainingStatus === "clinical" ? "invented knee pain" : "",
    muscle_group: study.muscle.name,
    limb: study.design === "within-person limbs" || stream.uniform() < 0.7 ? "one" : "both",
    sessions_completed_percent: orMissing(String(84 + stream.integer(16))),
    age_mean_years: orMissing((20 + 14 * stream.uniform()).toFixed(1)),
    female_percent: orMissing(String(10 * stream.integer(11))),
    rest_between_repetitions_seconds: orMissing("stated"),
    rest_between_sets_seconds: orMissing("stated"),
    risk_randomisation: study.design === "single group" ? "high" : judgement(),
    risk_deviations: judgement(),
    risk_missing_data: judgement(),
    risk_measurement: judgement(),
    risk_reported_result: judgement(),
    risk_reason: "invented judgement for demonstration",
    cert_items_reported: String(8 + stream.integer(10)),
  };
};

const angleShown = (study: DemoStudy, degrees: number): string =>
  String(study.straightIs180 ? 180 - degrees : degrees);

const armCells = (study: DemoStudy, arm: DemoArm, fields: Cells): Cells => {
  const done = arm.prescription;
  const common: Cells = {
    arm: arm.arm,
    arm_kind: arm.kind,
    n_start: String(arm.nStart),
    n_end: String(arm.nEnd),
    weeks: String(study.weeks),
    angle_convention: study.straightIs180 ? "full extension is 180" : study.muscle.convention,
  };
  if (done === undefined)
    return {
      ...common,
      sessions_completed_percent: "",
      rest_between_repetitions_seconds: "",
      rest_between_sets_seconds: "",
    };
  const rest = (column: string, seconds: number): string => {
    const printed = fields[column] ?? "";
    return printed === "stated" ? String(seconds) : printed;
  };
  const rests = {
    rest_between_repetitions_seconds:
      done.repetitions === 1
        ? ""
        : rest("rest_between_repetitions_seconds", done.restBetweenRepetitionsSeconds),
    rest_between_sets_seconds:
      done.sets === 1 ? "" : rest("rest_between_sets_seconds", done.restBetweenSetsSeconds),
  };
  const work = {
    ...common,
    ...rests,
    repetitions: String(done.repetitions),
    sets: String(done.sets),
    sessions_per_week: String(done.sessionsPerWeek),
  };
  if (arm.kind === "dynamic")
    return {
      ...work,
      intensity_percent: String(done.effortPercent),
      intensity_basis: "percent of one-repetition maximum",
    };
  return {
    ...work,
    action: study.trainingStatus === "clinical" ? "holding a load" : "pushing against a fixed stop",
    effort_intent: done.fastIntent ? "as fast as possible" : "ramped and sustained",
    intensity_percent: String(done.effortPercent),
    intensity_percent_high:
      done.effortPercentHigh === undefined ? "" : String(done.effortPercentHigh),
    intensity_basis:
      done.effortPercent >= 100 ? "maximal effort" : "percent of MVC at the training angle",
    hold_seconds: String(done.holdSeconds),
    training_angle_degrees: angleShown(study, study.muscle.trainedAt[arm.muscleLength]),
    muscle_length: study.lengthStated ? arm.muscleLength : "",
  };
};

const rowOf = (study: DemoStudy, fields: Cells, score: DemoScores): DemoRow => {
  const measure = demoMeasure(study, score.family);
  return {
    ...fields,
    ...armCells(study, score.arm, fields),
    outcome: measure.outcome,
    outcome_family: score.family,
    method: measure.method,
    unit: measure.unit,
    higher_is: score.family === "symptoms" ? "worse" : "better",
    test_mode: score.family === "strength" ? "isometric" : "",
    test_angle_degrees: score.testAngle === undefined ? "" : angleShown(study, score.testAngle),
    test_site_percent: measure.sitePercent === undefined ? "" : String(measure.sitePercent),
    test_side: "trained",
    week_measured: String(score.weeks),
    ...printedForm(study.reporting, score.pre, score.post, measure.decimals),
  };
};

/**
 * An invented register of trials from one made-up place, the Halvershore coast physiotherapy network, with the
 * faults of real files in it: missing spreads and rests, standard errors, t, F and p values, medians, ranges of
 * effort, several angles and times, limbs of one person, shared controls, two papers on one cohort.
 *
 * @param options seed, number of papers, truth; defaults in `demoRegisterDefaults`
 * @returns rows in the codebook's columns, and for each row the truth behind it
 * @throws {CallError} when the number of studies is not a whole number from 1 to 999
 */
export const demoRegister = (options: DemoRegisterOptions = {}): DemoRegister => {
  const settings = { ...demoRegisterDefaults, ...options };
  const studies = demoStudies(settings.studies, settings.seed);
  const rows: DemoRow[] = [];
  const rowTruths: DemoRowTruth[] = [];
  for (const study of studies) {
    const fields = studyCells(study);
    for (const score of demoScores(study, settings.truth)) {
      rows.push(rowOf(study, fields, score));
      rowTruths.push({
        study: study.study,
        arm: score.arm.arm,
        family: score.family,
        weeks: score.weeks,
        ...(score.testAngle === undefined ? {} : { testAngle: score.testAngle }),
        curveGain: score.curveGain,
        trueGain: score.trueGain,
      });
    }
  }
  return { rows, rowTruths, studies, truth: settings.truth };
};
