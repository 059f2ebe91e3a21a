import { writeTable } from "../csv/write-table.js";
import { readJson } from "../answers/read-json.js";
import { DataError } from "../errors.js";
import { readBytes } from "../host/read-bytes.js";
import { writeFileWhole } from "../host/write-whole.js";
import { readTable } from "../csv/read-table.js";
import { parseImportMap } from "../records/import-map.js";
import { importRows } from "../records/import-rows.js";
import { readRecords } from "../records/read-records.js";
import { formatCount } from "../tables/number-format.js";
import { fatesTable } from "../tables/fates-table.js";
import { issuesTable } from "../tables/issues-table.js";
import { tableToText } from "../tables/table-to-text.js";
import type { CommandRegistration } from "./terminal.js";
import { withOutput, type TypedPlace } from "./output-place.js";
import { jsonText } from "./json-text.js";
import { readInput } from "./read-input.js";
import { withSheet, type TypedFiles } from "./typed-files.js";

const readMap = async (path: string): Promise<unknown> =>
  readJson(
    new TextDecoder().decode(await readBytes(path)),
    (found) =>
      new DataError([
        {
          code: "not-json",
          severity: "error",
          line: 0,
          column: "",
          value: "",
          message: `the map ${path} is ${found}`,
          mend: "correct it; commas and quotes are the usual suspects",
        },
      ]),
  );

/** `holdbook import FILE --map MAP.json`: a foreign table into the codebook. */
export const importCommand: CommandRegistration = (program, terminal, finish) => {
  const command = program
    .command("import")
    .description("carry a foreign table into the codebook's columns by a map in JSON")
    .argument("<file>", "the foreign table")
    .requiredOption("--map <file>", "the map: columns renamed, values translated, units converted")
    .option("--json", "print rows' fates and problems as JSON");
  withOutput(
    withSheet(command),
    "write the table to this file instead of printing it",
    "file",
  ).action(
    async (path: string, options: TypedPlace & TypedFiles & { map: string; json?: true }) => {
      const file = await readInput(path, options.sheet);
      const imported = importRows(file.table, parseImportMap(await readMap(options.map)));
      const csv = writeTable(imported.csv.header, imported.csv.rows);
      // The result is read back at once, so that its own problems are told here and not a step later.
      const records = readRecords(readTable(csv));
      const failed = imported.csv.rows.length === 0;
      finish(failed ? 1 : 0);
      if (options.output !== undefined && !failed)
        await writeFileWhole(options.output, csv, { ...options, reads: [path, options.map] });
      if (options.json === true) {
        terminal.out(
          jsonText({
            file: file.name,
            sourceRows: file.table.rows.length,
            codebookRows: imported.csv.rows.length,
            fates: imported.fates,
            issues: imported.issues,
            notes: imported.notes,
            sourceLines: imported.sourceLines,
            readBack: { fates: records.fates, issues: records.issues, notes: records.notes },
          }),
        );
        return;
      }
      const report = [
        failed
          ? `${file.name}: nothing was imported; none of its ${formatCount(file.table.rows.length)} rows became a row of the codebook.`
          : `${file.name}: ${file.table.rows.length} source rows became ${imported.csv.rows.length} codebook rows.`,
        tableToText(fatesTable(imported.fates), { width: terminal.width }),
        ...(imported.issues.length > 0
          ? [tableToText(issuesTable(imported.issues), { width: terminal.width })]
          : []),
        ...imported.notes.map(({ message }) => `Note: ${message}`),
        ...(failed
          ? []
          : [
              "Read back through the codebook:",
              tableToText(fatesTable(records.fates), { width: terminal.width }),
            ]),
      ].join("\n\n");
      if (failed) terminal.err(report);
      else if (options.output !== undefined)
        terminal.out(`${report}\n\nThe table is in ${options.output}.`);
      else {
        terminal.err(report);
        terminal.out(csv);
      }
    },
  );
};
