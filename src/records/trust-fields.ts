import * as z from "zod";
import { field, text } from "./codebook-field.js";

const judgement = z.enum(["low", "some concerns", "high"]);
const risk = (title: string, description: string) =>
  field(judgement, {
    title,
    description,
    level: "study",
    spellings: {
      "low risk": "low",
      "high risk": "high",
      concerns: "some concerns",
      moderate: "some concerns",
    },
    example: "some concerns",
  });

/** How far the study can be trusted: risk of bias by domain, and how completely it is described. */
export const trustFields = {
  riskRandomisation: risk(
    "Risk: randomisation",
    "Risk of bias from how people came into the arms.",
  ),
  riskDeviations: risk(
    "Risk: deviations",
    "Risk of bias from departures from the intended training or control.",
  ),
  riskMissingData: risk("Risk: missing data", "Risk of bias from people who were not measured."),
  riskMeasurement: risk("Risk: measurement", "Risk of bias from how the outcome was measured."),
  riskReportedResult: risk(
    "Risk: reported result",
    "Risk of bias from choosing which result to report.",
  ),
  riskReason: field(text, {
    title: "Reason for the judgement",
    description: "Why the domains were judged as they were.",
    level: "study",
    example: "assessors knew the groups",
  }),
  certItemsReported: field(z.int().min(0).max(19), {
    title: "Reporting items met",
    description:
      "How many of the 19 items of the Consensus on Exercise Reporting Template (Slade 2016) the source reports.",
    level: "study",
    unit: "items",
    example: "13",
  }),
};
