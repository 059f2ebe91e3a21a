import * as z from "zod";
import { field, name, text } from "./codebook-field.js";

/** Where a row's numbers come from. */
export const sourceFields = {
  study: field(name, {
    title: "Study",
    description: "Short id of the study, the same on all its rows, such as first author and year.",
    level: "row",
    required: true,
    example: "Ashdown 2019",
  }),
  citation: field(text, {
    title: "Citation",
    description: "Full reference of the source.",
    level: "study",
    example: "Ashdown B, Pell C (2019) Journal of Invented Trials 4:1–9",
  }),
  doi: field(name, {
    title: "DOI",
    description: "Digital object identifier of the source, without the resolver's address.",
    level: "study",
    example: "10.1234/invented.2019.1",
  }),
  year: field(z.int().min(1850).max(2100), {
    title: "Year",
    description: "Year of publication.",
    level: "study",
    example: "2019",
  }),
  cohort: field(name, {
    title: "Cohort",
    description:
      "Name of the group of people when two papers report on the same ones: both papers' rows carry the same name, so that nobody is counted twice.",
    level: "row",
    example: "Ashdown cohort",
  }),
  sourceLocation: field(text, {
    title: "Place in the source",
    description: "Table, figure or page the numbers were read from.",
    level: "row",
    example: "Table 2",
  }),
  sourceLicence: field(text, {
    title: "Licence of the source",
    description: "Licence under which the source's data may be shared, when known.",
    level: "study",
    example: "CC BY 4.0",
  }),
  extractedBy: field(name, {
    title: "Extracted by",
    description: "Initials of who typed the row.",
    level: "row",
    example: "AB",
  }),
  checkedBy: field(name, {
    title: "Checked by",
    description: "Initials of the second person who compared the row with the source.",
    level: "row",
    example: "CD",
  }),
  confirmed: field(name, {
    title: "Confirmed",
    description:
      "Names of checks, as holdbook check prints them, whose doubt about this row was looked up and is no slip; several are separated by a slash with spaces.",
    level: "row",
    example: "spread-out-of-scale / against-training",
  }),
  notes: field(text, {
    title: "Notes",
    description: "Anything a later reader of the row must know.",
    level: "row",
    example: "read off a figure",
  }),
};

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
