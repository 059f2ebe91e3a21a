/** The studies of a file: who was trained, what was measured, where it was printed. */
import * as z from "zod";
import { grouped } from "../records/grouped.js";
import { familiesOf } from "../records/outcome-families.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { counted } from "../tables/number-format.js";
import { rowShape } from "./effect-options.js";
import { chosenRows } from "./evidence.js";
import { question } from "./question.js";

const firstOf = <Value>(
  rows: readonly OutcomeRow[],
  of: (row: OutcomeRow) => Value | undefined,
): Value | null => rows.map(of).find((value) => value !== undefined) ?? null;

/** Every arm once, with its people as they were measured. */
const armsOf = (rows: readonly OutcomeRow[]): readonly string[] =>
  [...grouped(rows, ({ arm }) => arm)].map(([arm, own]) => {
    const people = firstOf(own, ({ nEnd, nStart }) => nEnd ?? nStart);
    return `${arm} (${people ?? "people not given"})`;
  });

const text = (key: string, label: string) => ({ key, label, align: "left" }) as const;

/** Every study of a file with its arms, outcomes and reference. */
export const studies = question({
  id: "studies",
  options: { where: rowShape.where },
  choices: [],
  data: {
    studies: z.array(
      z.object({
        study: z.string(),
        citation: z.string().nullable(),
        doi: z.string().nullable(),
        year: z.number().nullable(),
        design: z.string().nullable(),
        arms: z.array(z.string()),
        weeks: z.number().nullable(),
        families: z.array(z.string()),
        rows: z.number(),
      }),
    ),
  },
  prepare: (evidence, { where }) => chosenRows(evidence, where),
  answer: (rows) => {
    const found = [...grouped(rows, ({ study }) => study)].map(([study, own]) => ({
      study,
      citation: firstOf(own, ({ citation }) => citation),
      doi: firstOf(own, ({ doi }) => doi),
      year: firstOf(own, ({ year }) => year),
      design: firstOf(own, ({ design }) => design),
      arms: [...armsOf(own)],
      weeks: firstOf(own, ({ weeks }) => weeks),
      families: [...familiesOf(own)],
      rows: own.length,
    }));
    const cited = found.filter(({ citation, doi }) => citation !== null || doi !== null).length;
    return {
      headline: `${counted(found.length, "paper")} with ${counted(rows.length, "row")} that can be used; ${cited === found.length ? "each has" : `${cited} have`} a reference in the file.`,
      tables: [
        {
          id: "studies",
          title: "Studies in the file",
          columns: [
            text("study", "Study"),
            text("design", "Design"),
            text("arms", "Arms (people measured)"),
            { key: "weeks", label: "Weeks", align: "right" },
            text("outcomes", "Outcomes"),
            text("reference", "Reference, as the file has it"),
          ],
          rows: found.map(({ study, design, arms, weeks, families, citation, doi }) => ({
            study,
            design: design ?? "not coded",
            arms: arms.join("; "),
            weeks: weeks === null ? "" : String(weeks),
            outcomes: families.join(", "),
            reference: [
              ...(citation === null ? [] : [citation]),
              ...(doi === null ? [] : [`doi ${doi}`]),
            ].join(", "),
          })),
          notes: [],
        },
      ],
      data: { rowsUsed: rows.map(({ line }) => line), studies: found },
    };
  },
});
