import type { Figure } from "../figures/figure.js";
import { writeWhole } from "../host/write-whole.js";
import type { CautionsBlock } from "../projection/cautions.js";
import { cautionsToMarkdown } from "../tables/cautions-block.js";
import { tableToCsv } from "../tables/table-to-csv.js";
import type { Table } from "../tables/table.js";
import { figureFiles } from "./figure-files.js";
import type { Terminal } from "./terminal.js";

/** Writes what a projection gave into a folder: tables, figures and, always, the cautions. */
export const writeProjectionFiles = async (
  directory: string,
  given: Readonly<{
    tables: readonly Table[];
    figures: readonly Figure[];
    cautions: CautionsBlock;
  }>,
  terminal: Terminal,
): Promise<void> =>
  writeWhole(directory, [
    ...given.tables.map((table) => ({
      name: `tables/${table.id}.csv`,
      content: tableToCsv(table),
    })),
    ...(await figureFiles(given.figures, terminal)),
    { name: "cautions.md", content: cautionsToMarkdown(given.cautions) },
  ]);
