import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { shippedText } from "../answers/evidence-under-test.js";

const studies = ["Kubo 2001 J Physiol", "Massey 2018", "Balshaw 2016"];

/** The library as it ships, and some of its studies by themselves: three of them unless others are named. */
export const libraryText = shippedText("published-outcomes.csv");
export const studiesText = (named: readonly string[] = studies): string => {
  const { header, rows } = readTable(libraryText);
  return writeTable(
    header,
    rows.filter(({ cells }) => named.includes(cells[0]!)).map(({ cells }) => cells),
  );
};
