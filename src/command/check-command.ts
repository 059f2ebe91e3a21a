import { readRecords } from "../records/read-records.js";
import { completenessTable } from "../tables/completeness-table.js";
import { fatesTable } from "../tables/fates-table.js";
import { issuesTable } from "../tables/issues-table.js";
import { tableToText } from "../tables/table-to-text.js";
import type { CommandRegistration } from "./commands.js";
import { readInput } from "./read-input.js";
import { jsonText } from "./json-text.js";

/** `holdbook check FILE`: is the file usable, what is wrong with it, and what became of each row. */
export const checkCommand: CommandRegistration = (program, terminal, finish) => {
  program
    .command("check")
    .description("say whether a file can be used: problems with their mends, the fate of every row")
    .argument("<file>", "delimited text in the codebook's columns")
    .option("--json", "print one JSON object instead of tables")
    .option("--all", "list every problem; without it the first 40")
    .action(async (path: string, options: { json?: true; all?: true }) => {
      const file = await readInput(path);
      const records = readRecords(file.table);
      finish(records.usable ? 0 : 1);
      if (options.json === true) {
        terminal.out(
          jsonText({
            file: file.name,
            fingerprint: file.fingerprint,
            usable: records.usable,
            rowsInFile: records.rowsInFile,
            fates: records.fates,
            issues: records.issues,
            notes: records.notes,
            unknownColumns: records.unknownColumns,
            completeness: records.completeness,
            delimiter: file.table.delimiter,
            encoding: file.table.encoding,
          }),
        );
        return;
      }
      const text = (table: Parameters<typeof tableToText>[0]): string =>
        tableToText(table, { width: terminal.width });
      const errors = records.issues.filter(({ severity }) => severity === "error").length;
      const verdict = records.usable
        ? `${file.name} can be used.`
        : `${file.name} needs mending before all of it can be used: ${errors} ${errors === 1 ? "problem" : "problems"}.`;
      const shown = options.all === true ? records.issues : records.issues.slice(0, 40);
      const parts = [verdict];
      if (records.rowsInFile > 0) parts.push(text(fatesTable(records.fates)));
      if (shown.length > 0) parts.push(text(issuesTable(shown)));
      if (shown.length < records.issues.length)
        parts.push(
          `${records.issues.length - shown.length} more problems: holdbook check ${path} --all`,
        );
      if (records.unknownColumns.length > 0)
        parts.push(
          `Columns the codebook does not know (kept as your own: filter and group by them): ${records.unknownColumns.join(", ")}`,
        );
      if (records.notes.length > 0)
        parts.push(records.notes.map(({ message }) => `Note: ${message}`).join("\n"));
      if (records.rowsInFile > 0) parts.push(text(completenessTable(records.completeness)));
      terminal.out(parts.join("\n\n"));
    });
};
