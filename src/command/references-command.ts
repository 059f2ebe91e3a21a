import { Option } from "commander";
import { writeTable } from "../csv/write-table.js";
import { readRecords } from "../records/read-records.js";
import {
  referenceFormats,
  referencesText,
  referenceStyle,
  type ReferenceFormat,
} from "../report/reference-formats.js";
import { filledFromList } from "../report/reference-fields.js";
import { readReferences } from "../report/read-references.js";
import { readingList } from "../report/references.js";
import { counted } from "../tables/number-format.js";
import { noteLines } from "../tables/note-lines.js";
import { readBytes } from "../host/read-bytes.js";
import { writeFileWhole, writeWhole } from "../host/write-whole.js";
import { requiredRows } from "../answers/evidence.js";
import type { CommandRegistration } from "./terminal.js";
import { noteText } from "./note-text.js";
import { placeOptions, withOutput, type TypedPlace } from "./output-place.js";
import { readInput } from "./read-input.js";
import { withSheet, type TypedFiles } from "./typed-files.js";

const fileNames = {
  text: "references.txt",
  bibtex: "references.bib",
  "csl-json": "references.json",
} as const satisfies Record<ReferenceFormat, string>;

/** `holdbook references FILE`: the reading list of a file. */
export const referencesCommand: CommandRegistration = (program, terminal) => {
  const command = program
    .command("references")
    .description("the reading list of a file, from its citations and DOIs, looked up nowhere")
    .argument("<file>", "a table in the codebook's columns")
    .addOption(
      new Option("--format <format>", `what is printed; text is a printed list: ${referenceStyle}`)
        .choices(referenceFormats)
        .default("text"),
    )
    .option(
      "--from <list>",
      "a BibTeX or CSL-JSON file whose works fill what the table lacks, matched by DOI or by study",
    );
  command.option(
    "--fill <table>",
    "write the table anew to this file, with the citations (and their titles), DOIs and years that --from has",
  );
  withOutput(withSheet(command), "write the list in all three forms").action(
    async (
      path: string,
      options: TypedPlace & TypedFiles & { format: ReferenceFormat; from?: string; fill?: string },
    ) => {
      const file = await readInput(path, options.sheet);
      const rows = requiredRows(readRecords(file.table));
      const list =
        options.from === undefined
          ? []
          : readReferences(new TextDecoder().decode(await readBytes(options.from)));
      if (options.fill !== undefined) {
        const { header, cells, works } = filledFromList(file.table, list);
        const filled = file.table.rows.map(({ cells: own }) =>
          header.map((_, column) => own[column] ?? ""),
        );
        for (const { row, column, text } of cells) filled[row]![column] = text;
        await writeFileWhole(options.fill, writeTable(header, filled), {
          ...(options.replace === true ? { replace: true } : {}),
          reads: [path],
        });
        return terminal.out(
          `${counted(cells.length, "cell")} filled from ${counted(works, "work")} of the list; the table is in ${options.fill}.`,
        );
      }
      const { references, notes } = readingList(rows, list);
      if (options.output !== undefined)
        await writeWhole(
          options.output,
          [
            ...referenceFormats.map((format) => ({
              name: fileNames[format],
              content: referencesText(references, format),
            })),
            { name: "wanting.txt", content: `${noteLines(notes).join("\n")}\n` },
          ],
          placeOptions("references", path, options.output, options),
        );
      terminal.out(referencesText(references, options.format).trim());
      // Notes would spoil a list that another program reads, so they stand on the other stream.
      if (notes.length > 0) terminal.err(noteText("Wanting in the file", notes, terminal.width));
      if (options.output !== undefined)
        terminal.err(`The list is in ${options.output} as ${Object.values(fileNames).join(", ")}.`);
    },
  );
};
