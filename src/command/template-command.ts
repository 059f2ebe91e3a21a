import { writeFileWhole } from "../host/write-whole.js";
import { codebookPage } from "../records/codebook-page.js";
import { codebookTableSchema } from "../records/codebook-table-schema.js";
import { codebookTemplate } from "../records/codebook-template.js";
import type { CommandRegistration } from "./terminal.js";
import { jsonText } from "./json-text.js";

/** `holdbook template`: a blank file with the codebook's columns. */
export const templateCommand: CommandRegistration = (program, terminal) => {
  program
    .command("template")
    .description("a blank table with the codebook's columns, to fill in")
    .option("-o, --output <file>", "write it to this file instead of printing it")
    .action(async (options: { output?: string }) => {
      if (options.output === undefined) return terminal.out(codebookTemplate());
      await writeFileWhole(options.output, codebookTemplate());
      return terminal.out(
        `The blank table is in ${options.output}; holdbook codebook explains its columns.`,
      );
    });
};

/** `holdbook codebook`: what every column means. */
export const codebookCommand: CommandRegistration = (program, terminal) => {
  program
    .command("codebook")
    .description("what every column means, its unit and the values it takes")
    .option("--schema", "print it as a Table Schema in JSON")
    .action((options: { schema?: true }) =>
      terminal.out(options.schema === true ? jsonText(codebookTableSchema()) : codebookPage()),
    );
};
