/** An older file to set a newer one beside, as a door opens it: a table, or the `results.json` that a report wrote. */
import * as z from "zod";
import { CallError } from "../errors.js";
import type { Evidence } from "./evidence.js";
import { readJson } from "./read-json.js";

const resultsForm = z.object({
  holdbook: z.string(),
  file: z.string(),
  fingerprint: z.string(),
  invented: z.boolean(),
  table: z
    .object({
      header: z.array(z.string()),
      rows: z.array(z.object({ line: z.number(), cells: z.array(z.string()) })),
    })
    .optional(),
  answers: z.array(
    z.looseObject({
      question: z.object({ id: z.string(), options: z.record(z.string(), z.unknown()) }),
      contrast: z.string().nullable(),
    }),
  ),
});

/** What a report said, with the program that said it, and the rows it said it of where they are kept. */
export type ReportResults = Pick<Evidence, "source"> &
  Readonly<Pick<z.infer<typeof resultsForm>, "holdbook" | "table" | "answers">>;

export type OlderFile = Evidence | ReportResults;

const refused = (got: string): CallError =>
  new CallError({
    code: "not-a-table",
    where: "the older file",
    needs: "a table in the codebook's columns, or the results.json of a report",
    got,
  });

/** Whether text is JSON and no table. */
export const isJson = (text: string): boolean => /^\s*[{[]/.test(text);

/**
 * The results of a report out of their text.
 *
 * @throws {CallError} "not-a-table"
 */
export const readResults = (text: string): ReportResults => {
  const read = resultsForm.safeParse(readJson(text, refused));
  if (!read.success) throw refused("JSON of another form");
  const { file: name, fingerprint, invented, ...results } = read.data;
  return { source: { name, fingerprint, invented }, ...results };
};

/** The option that takes one. */
export const olderFile = () =>
  z.custom<OlderFile>(
    (value) =>
      typeof value === "object" &&
      value !== null &&
      ("records" in value || "answers" in value) &&
      "source" in value,
    "an older file that is open, or the results.json of a report",
  );
