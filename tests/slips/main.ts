/** Prints how many slips the reader notices, kind by kind, and the doubts it has about the files as they are. */
import { readRecords } from "../../src/records/read-records.js";
import { slipFiles } from "./slip-files.js";
import { slipTable } from "./slip-table.js";
import { trySlips } from "./try-slips.js";

const print = (line: string) => process.stdout.write(`${line}\n`);

const kinds = process.argv.slice(2);
const files = slipFiles(new URL("../../data/", import.meta.url));
const tried = files.flatMap((file) => trySlips(file, kinds.length === 0 ? {} : { kinds }));
print(slipTable(tried));
for (const { name, table } of files) {
  const { issues, rowsInFile } = readRecords(table);
  print(`\nDoubts about the ${name} file as it is (${rowsInFile} rows)`);
  for (const { line, code, column, value, message } of issues)
    print(`line ${line}, ${code}, ${column} ${value}: ${message}`);
}
