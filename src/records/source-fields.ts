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
