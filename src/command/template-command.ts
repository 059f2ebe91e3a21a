import { exampleTable } from "../demo/example-table.js";
import { writeFileWhole } from "../host/write-whole.js";
import { codebookPage, codebookTemplate } from "../records/codebook-page.js";
import { codebookTableSchema } from "../records/codebook-table-schema.js";
import type { CommandRegistration } from "./terminal.js";
import { jsonText } from "./json-text.js";
import { withOutput, type TypedPlace } from "./output-place.js";

/** `holdbook template`: a blank file with the codebook's columns. */
export const templateCommand: CommandRegistration = (program, terminal) => {
  const command = program
    .command("template")
    .description("a blank table with the codebook's columns, to fill in");
  command.option("--example", "with an invented row that shows how cells are filled");
  withOutput(command, "write it to this file instead of printing it", "file").action(
    async (options: TypedPlace & { example?: true }) => {
      const table = options.example === true ? exampleTable() : codebookTemplate();
      if (options.output === undefined) return terminal.out(table);
      await writeFileWhole(options.output, table, options);
      return terminal.out(
        `The blank table is in ${options.output}; holdbook codebook explains its columns.`,
      );
    },
  );
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
