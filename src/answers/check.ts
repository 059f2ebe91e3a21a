/** Whether a file can be used: its problems with their mends, and what became of each row. */
import * as z from "zod";
import type { Issue, Refusal } from "../errors.js";
import { evidenceMapCells } from "../figures/evidence-map-cells.js";
import { evidenceMapWords } from "../figures/evidence-map.js";
import type { NamedFigure } from "../figures/figure-list.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { RecordSet } from "../records/record-set.js";
import { readyEffects } from "./ready-effects.js";
import { completenessTable } from "../tables/completeness-table.js";
import { fatesTable } from "../tables/fates-table.js";
import { issuesTable } from "../tables/issues-table.js";
import { counted } from "../tables/number-format.js";
import { folded, plainTable } from "../tables/table.js";
import { noteSchema } from "./answer.js";
import { effectShape } from "./effect-options.js";
import { onOff, option } from "./option.js";
import { numbersWanted, wantedSchema, wantedTable } from "./wanted-numbers.js";
import { chosenRows, type Evidence } from "./evidence.js";
import { question } from "./question.js";
import { fateCounts, fateWords, rowFates } from "./row-fates.js";

/** Problems shown at first sight; the whole list is folded. */
const problemsAtFirst = 40;

/** What a file holds, whichever kind of table it is. */
const recordsOf = ({ kind, records, table }: Evidence): RecordSet =>
  kind === "codebook"
    ? records
    : { ...records, ...readyEffects(table), rows: [], rowsInFile: table.rows.length };

/** What must be mended, and of the doubts about a row the first: one slip often raises several. */
const firstOfEachRow = (issues: readonly Issue[], headerLine = 1): readonly Issue[] => {
  const doubted = new Set<number>();
  return issues.filter(({ severity, line }) => {
    if (severity === "error" || line <= headerLine) return true;
    if (doubted.has(line)) return false;
    doubted.add(line);
    return true;
  });
};

const middleOf = (low: number | undefined, high: number | undefined): number | undefined =>
  low === undefined ? undefined : (low + (high ?? low)) / 2;

/** Which combinations of intensity and hold length the isometric arms of some rows have studied: drawn, or in words where there are few. */
const studied = (
  rows: readonly OutcomeRow[],
): Readonly<{ sentences: readonly string[]; figures: readonly NamedFigure[] }> => {
  const arms = rows
    .filter((row) => row.armKind === undefined || row.armKind === "isometric")
    .flatMap((row) =>
      row.outcomeFamily === undefined
        ? []
        : [
            {
              study: row.cohort ?? row.study,
              arm: row.arm,
              outcomeFamily: row.outcomeFamily,
              intensityPercent: middleOf(row.intensityPercent, row.intensityPercentHigh),
              holdSeconds: middleOf(row.holdSeconds, row.holdSecondsHigh),
              participants: row.nEnd ?? row.nStart,
            },
          ],
    );
  const map = evidenceMapCells(arms);
  const sentences = evidenceMapWords(map);
  return sentences === undefined
    ? { sentences: [], figures: [{ name: "evidence-map", data: { id: "evidence-map", map } }] }
    : { sentences, figures: [] };
};

/** What decides which rows are averaged: rows, scale, assumptions; contrasts of a gain are looked at besides. */
const { confidence: _confidence, ...decisive } = effectShape;
const checkShape = {
  ...decisive,
  letters: option(onOff(), {
    help: "for every study with a missing number, a short letter to its authors",
  }),
};

/** Studies of the list of missing numbers at first sight. */
const wantedAtFirst = 5;

/** Whether a file can be used, every problem with its mend, the fate of every row, and what has been studied. */
export const check = question({
  id: "check",
  options: checkShape,
  choices: ["letters"],
  data: {
    usable: z.boolean(),
    rowsInFile: z.number(),
    /** Of several files opened as one: lines from above + 1 on are those of the file, less above. */
    files: z.array(z.object({ name: z.string(), above: z.number() })).optional(),
    fates: z.array(
      z.object({
        line: z.number(),
        fate: z.enum(fateWords),
        reason: z.string(),
        wanted: z.string(),
      }),
    ),
    issues: z.array(z.looseObject({ code: z.string(), line: z.number(), mend: z.string() })),
    notes: z.array(noteSchema),
    unknownColumns: z.array(z.string()),
    completeness: z.array(z.looseObject({ column: z.string(), coded: z.number() })),
    counts: z.string(),
    /** Studies with missing numbers, those first whose numbers would add most. */
    wanted: z.array(wantedSchema),
    fingerprint: z.string(),
    delimiter: z.string(),
    encoding: z.string(),
  },
  prepare: (evidence, options) => ({
    evidence,
    records: recordsOf(evidence),
    // A file without one usable row has nothing to map and is still looked at.
    rows: evidence.records.rows.length === 0 ? [] : chosenRows(evidence, options.where),
    fates: rowFates(evidence, options),
    wanted: numbersWanted(evidence, options),
  }),
  answer: ({ evidence: { source, table, files }, records, rows, fates, wanted }, { letters }) => {
    const { usable, rowsInFile, issues, notes, unknownColumns, completeness } = records;
    const shown = firstOfEachRow(issues, table.headerLine).slice(0, problemsAtFirst);
    const errors = issues.filter(({ severity }) => severity === "error").length;
    const counts = `${fateCounts(fates)}.`;
    const map = studied(rows);
    const refusal: Refusal | undefined = usable
      ? undefined
      : {
          kind: "refusal",
          code: "file-needs-mending",
          reason: `the file has ${counted(errors, "problem", "problems")} to mend`,
        };
    return {
      headline: usable
        ? `${source.name} can be used. ${counts}`
        : `${source.name} needs mending before all of it can be used: ${counted(errors, "problem", "problems")}. ${counts}`,
      sentences: [
        ...(unknownColumns.length === 0
          ? []
          : [
              `Columns the codebook does not know (kept as your own: filter and group by them): ${unknownColumns.join(", ")}.`,
            ]),
        ...map.sentences,
        ...(letters ? wanted.flatMap(({ letter }) => (letter === "" ? [] : letter)) : []),
      ],
      tables: [
        ...(rowsInFile > 0 ? [{ ...fatesTable(fates), id: "row-fates-counted" }] : []),
        ...(issues.length === 0
          ? []
          : shown.length === issues.length
            ? [issuesTable(issues)]
            : [
                {
                  ...issuesTable(shown),
                  id: "issues-first",
                  title: `${shown.length} of ${issues.length} problems, the first doubt of each row`,
                },
                folded(issuesTable(issues)),
              ]),
        ...(wanted.length === 0
          ? []
          : wanted.length <= wantedAtFirst
            ? [wantedTable(wanted)]
            : [
                {
                  ...wantedTable(wanted.slice(0, wantedAtFirst)),
                  id: "numbers-wanted-first",
                  title: `Which number would rescue most rows: the first ${wantedAtFirst} of ${wanted.length} studies`,
                },
                folded(wantedTable(wanted)),
              ]),
        ...(completeness.length > 0 && rowsInFile > 0 ? [completenessTable(completeness)] : []),
        {
          ...plainTable(
            "row-fates",
            ["line", "fate", "reason", "what would change it"],
            fates.map(({ line, fate, reason, wanted }) => [String(line), fate, reason, wanted]),
          ),
          title: "What became of each row",
          place: "folded",
        },
      ],
      figures: map.figures,
      notes,
      refusal,
      data: {
        usable,
        rowsInFile,
        ...(files === undefined ? {} : { files: [...files] }),
        fates,
        issues,
        notes,
        unknownColumns,
        completeness,
        wanted: [...wanted],
        fingerprint: source.fingerprint,
        delimiter: table.delimiter,
        encoding: table.encoding,
        counts: fateCounts(fates),
        rowsUsed: fates.filter(({ fate }) => fate === "averaged").map(({ line }) => line),
      },
    };
  },
});
