import { effectsFromRows } from "../effects/effects-from-rows.js";
import { writeFileWhole } from "../host/write-whole.js";
import { readRecords } from "../records/read-records.js";
import { assumptionsTable } from "../tables/assumptions-table.js";
import { effectsTable } from "../tables/effects-table.js";
import { tableToCsv } from "../tables/table-to-csv.js";
import { tableToText } from "../tables/table-to-text.js";
import {
  chosenRows,
  effectsOptionsOf,
  withAnalysisOptions,
  type AnalysisCommandOptions,
} from "./analysis-options.js";
import type { CommandRegistration } from "./commands.js";
import { jsonText } from "./json-text.js";
import { readInput } from "./read-input.js";
import { refusedRowsLine, requireRows } from "./refused-rows.js";

type Options = AnalysisCommandOptions & Readonly<{ json?: true; csv?: string }>;

/** `holdbook effects FILE`: every effect on one scale, with its route and what became of each row. */
export const effectsCommand: CommandRegistration = (program, terminal) => {
  withAnalysisOptions(
    program
      .command("effects")
      .description("put every outcome on one scale, with its variance and how it was reached")
      .argument("<file>", "a table in the codebook's columns"),
  )
    .option("--json", "print one JSON object")
    .option("--csv <file>", "also write the effects as CSV")
    .action(async (path: string, options: Options) => {
      const file = await readInput(path);
      const records = readRecords(file.table);
      requireRows(records);
      const set = effectsFromRows(
        chosenRows(records.rows, options.where),
        effectsOptionsOf(options),
      );
      if (options.csv !== undefined)
        await writeFileWhole(options.csv, tableToCsv(effectsTable(set)));
      if (options.json === true) {
        const { effects, ...rest } = set;
        terminal.out(
          jsonText({
            file: file.name,
            fingerprint: file.fingerprint,
            ...rest,
            effects: effects.map(({ row, comparatorRow, ...effect }) => ({
              ...effect,
              line: row.line,
              comparatorLine: comparatorRow?.line ?? null,
              outcome: row.outcome,
              outcomeFamily: row.outcomeFamily ?? null,
            })),
          }),
        );
        return;
      }
      const setAside = set.rowUses.filter(({ use }) => use === "set aside");
      const reasons = new Map<string, number>();
      for (const { reason } of setAside) reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
      terminal.out(
        [
          ...refusedRowsLine(records),
          tableToText(effectsTable(set), { width: terminal.width }),
          ...(reasons.size === 0
            ? []
            : [
                [
                  `${setAside.length} rows gave no effect:`,
                  ...[...reasons].map(([reason, count]) => `  ${count} × ${reason}`),
                ].join("\n"),
              ]),
          tableToText(assumptionsTable(set.assumptions), { width: terminal.width }),
          ...set.notes.map(({ message }) => `Note: ${message}`),
        ].join("\n\n"),
      );
    });
};
