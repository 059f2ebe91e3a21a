/** What has to be said beside a hold assessment: what it rests on, and where it is known to be weak. */
import type { Note } from "../errors.js";
import { contractionsPerSession } from "../protocol/derived-quantities.js";
import { doseNotes } from "../protocol/dose-notes.js";
import type { Prescription } from "../protocol/prescription.js";
import { preferCurveAbovePercent } from "./assessment-cases.js";
import type { HoldAssessment } from "./can-be-held.js";
import { fittedRangePercent } from "./endurance-time.js";
import { restMultiplierAssumed } from "./fatigue-parameters.js";
import { holdingStudy } from "./holding-modifier.js";

const seconds = (value: number): string =>
  Number.isFinite(value) ? `${value < 100 ? value.toFixed(1) : value.toFixed(0)} s` : "for ever";

/**
 * Sixty maximal knee extensions, 3 s on and 2 s off: torque fell to 77.8 of 263.9 N·m.
 *
 * @source Burnley M (2009) J Appl Physiol 106:975–983 (abstract); n = 8 men
 */
export const maximalIntermittentStudy = {
  participants: 8,
  contractions: 60,
  holdSeconds: 3,
  restSeconds: 2,
  freshNewtonMetres: 263.9,
  endNewtonMetres: 77.8,
} as const;

/** The statements that go with an assessment, most general last; the notes on the dose follow them. */
export const holdStatements = (
  p: Prescription,
  a: Omit<HoldAssessment, "statements">,
): readonly Note[] => {
  const notes: Note[] = [];
  const add = (code: string, message: string): void => {
    notes.push({ code, message });
  };
  if (a.fellBack)
    add(
      "general-curve",
      p.joint === undefined
        ? "no joint is named, so the curve pooled over all joints is used; joints differ several-fold"
        : `there is no published curve for the ${p.joint}; the curve pooled over all joints is used`,
    );
  if (a.maximal)
    add(
      "maximal-effort",
      `a maximal effort has no load to fail at: force falls with what is left, to ${(100 + a.smallestReservePercent.central).toFixed(0)} % of MVC by the weakest hold (${(100 + a.smallestReservePercent.low).toFixed(0)}–${(100 + a.smallestReservePercent.high).toFixed(0)} % over the band)`,
    );
  if (a.maximal && contractionsPerSession(p) > 1) {
    const s = maximalIntermittentStudy;
    const left = ((100 * s.endNewtonMetres) / s.freshNewtonMetres).toFixed(0);
    add(
      "maximal-repeated-weakness",
      `repeated maximal efforts cost more than the model says: ${s.contractions} knee extensions of ${s.holdSeconds} s with ${s.restSeconds} s rest left ${left} % of fresh torque (Burnley 2009, n = ${s.participants}), and the model leaves about half`,
    );
  }
  if (a.demandPercent > preferCurveAbovePercent && !a.maximal)
    add(
      "high-effort-weakness",
      a.whichCurve === "endurance-time curve"
        ? `above ${preferCurveAbovePercent} % of MVC the model is known to fail too soon (here ${seconds(a.oneHoldModelSeconds)}), so this single hold is judged by measured endurance times (${seconds(a.oneHold.centralSeconds)})`
        : `above ${preferCurveAbovePercent} % of MVC the model is known to fail too soon: it gives one fresh hold ${seconds(a.oneHoldModelSeconds)}, measured endurance times ${seconds(a.oneHold.centralSeconds)}; repeated holds may be better tolerated than the central line says`,
    );
  if (!a.oneHold.inFittedRange)
    add(
      "below-fitted-range",
      `below ${fittedRangePercent.low} % of MVC the endurance curve is stretched past its data`,
    );
  if (a.holding !== undefined)
    add(
      "holding-modifier",
      `a load that is held fails sooner than the same force pushed: ${a.holding.ratio.toFixed(2)} of the time (95 % interval ${a.holding.low.toFixed(2)}–${a.holding.high.toFixed(2)}; elbow extensors at ${holdingStudy.intensityPercent} %, n = ${holdingStudy.participants}, Schaefer & Bittmann 2017); not applied here, and with it the grade would be ${a.holding.gradeIfApplied}`,
    );
  else if (p.action === undefined && !a.maximal)
    add(
      "action-unknown",
      "it is not said whether a load is held or a stop is pushed; a held load fails sooner",
    );
  if (a.gradeAtHighEnd !== undefined && a.gradeAtHighEnd !== a.grade)
    add("high-end", `at the high end of the prescribed range the grade is ${a.gradeAtHighEnd}`);
  if (a.parameters === "alternative")
    add(
      "alternative-parameters",
      "run on the rates of Rakshit 2021 to see how much rests on the choice; their endurance times stray from the measured ones",
    );
  else if (restMultiplierAssumed.includes(a.region) && contractionsPerSession(p) > 1)
    add(
      "rest-multiplier-assumed",
      `how fast the ${a.region === "general" ? "general" : a.region} set recovers at rest was never fitted; 15 times the rate under load is assumed, as for ankle, knee and elbow`,
    );
  add(
    "band",
    "the band is the published 29–47 % about measured endurance times, taken at its wide end; it is about groups in studies, and single people spread further",
  );
  add(
    "no-person-terms",
    "curve and model describe healthy adults of 18–50 years on average: they have no term for training, age, sex or muscle length",
  );
  return [...notes, ...doseNotes(p)];
};
