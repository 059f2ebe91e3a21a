/** The files that slips are typed into, in the codebook's columns. */
import { readFileSync } from "node:fs";
import type { CsvTable } from "../../src/csv/csv-table.js";
import { readTable } from "../../src/csv/read-table.js";
import { parseImportMap } from "../../src/records/import-map.js";
import { importRows } from "../../src/records/import-rows.js";

export type SlipFile = Readonly<{ name: string; table: CsvTable }>;

/** @param folder the project's data folder, with a slash at its end */
export const slipFiles = (folder: URL): readonly SlipFile[] => {
  const read = (name: string) => readTable(readFileSync(new URL(name, folder)));
  const map: unknown = JSON.parse(
    readFileSync(new URL("historic-isometric-map.json", folder), "utf8"),
  );
  const historic = read("historic_isometric_trials.csv");
  const { csv } = importRows(historic, parseImportMap(map));
  return [
    { name: "demonstration", table: read("demo-register.csv") },
    { name: "published", table: read("published-outcomes.csv") },
    {
      name: "historic",
      table: {
        ...historic,
        header: csv.header,
        rows: csv.rows.map((cells, i) => ({ line: i + 2, cells })),
      },
    },
  ];
};
