import { Option } from "commander";
import { readRecords } from "../records/read-records.js";
import { readingList } from "../report/references.js";
import { noteLines } from "../tables/note-lines.js";
import { visibleText } from "../tables/visible-text.js";
import { writeWhole } from "../host/write-whole.js";
import { requiredRows } from "../answers/evidence.js";
import type { CommandRegistration } from "./terminal.js";
import { noteText } from "./note-text.js";
import { readInput } from "./read-input.js";
import {
  referenceFormats,
  referencesText,
  referenceStyle,
  type ReferenceFormat,
} from "./reference-formats.js";

const fileNames = {
  text: "references.txt",
  bibtex: "references.bib",
  "csl-json": "references.json",
} as const satisfies Record<ReferenceFormat, string>;

/** `holdbook references FILE`: the reading list of a file. */
export const referencesCommand: CommandRegistration = (program, terminal) => {
  program
    .command("references")
    .description("the reading list of a file, from its citations and DOIs, looked up nowhere")
    .argument("<file>", "a table in the codebook's columns")
    .addOption(
      new Option(
        "--format <format>",
        `what is printed; text is in the style of the ${referenceStyle}`,
      )
        .choices(referenceFormats)
        .default("text"),
    )
    .option("-o, --output <directory>", "write the list in all three forms")
    .action(async (path: string, options: { format: ReferenceFormat; output?: string }) => {
      const file = await readInput(path);
      const { references, notes } = readingList(requiredRows(readRecords(file.table)));
      if (options.output !== undefined)
        await writeWhole(options.output, [
          ...(await Promise.all(
            referenceFormats.map(async (format) => ({
              name: fileNames[format],
              content: await referencesText(references, format),
            })),
          )),
          { name: "wanting.txt", content: `${noteLines(notes).join("\n")}\n` },
        ]);
      const list = await referencesText(references, options.format);
      terminal.out(list.trim());
      // Notes would spoil a list that another program reads, so they stand on the other stream.
      const wanting = notes.map((note) => ({ ...note, message: visibleText(note.message) }));
      if (wanting.length > 0)
        terminal.err(noteText("Wanting in the file", wanting, terminal.width));
      if (options.output !== undefined)
        terminal.err(`The list is in ${options.output} as ${Object.values(fileNames).join(", ")}.`);
    });
};
