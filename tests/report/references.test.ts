import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { readRecords } from "../../src/records/read-records.js";
import { readingList } from "../../src/report/references.js";
import { tableText } from "../records/record-table.js";

type Cells = Parameters<typeof tableText>[0][number];

const listOf = (rows: readonly Cells[]) =>
  readingList(readRecords(readTable(tableText(rows))).rows);
const cited = "Jones DA, Rutherford OM (1987) J Physiol 391:1-11";

test("the starter file: every study is in the list once, with its DOI where the file has one", () => {
  const { rows } = readRecords(
    readTable(readFileSync(new URL("../first-wave/published-outcomes.csv", import.meta.url))),
  );
  const { references, studies } = readingList(rows);
  expect([...studies.flat()].sort()).toEqual([...new Set(rows.map(({ study }) => study))].sort());
  for (const row of rows.filter(({ doi }) => doi !== undefined))
    expect(references.map(({ DOI }) => DOI)).toContain(row.doi);
  const kubo = references.filter(({ id }) => id.startsWith("Kubo2001"));
  expect(kubo.map((work) => [work["container-title"], work.volume, work.page])).toEqual([
    ["J Appl Physiol", "91", "26-32"],
    ["J Physiol", "536", "649-655"],
  ]);
});

test("one work cited by many rows stands once; the DOI decides, in whatever form it is typed", () => {
  const { references, studies, notes } = listOf([
    { study: "Jones 1987 a", citation: cited, doi: "10.1113/jphysiol.1987.sp016721" },
    {
      study: "Jones 1987 b",
      citation: cited,
      doi: "https://doi.org/10.1113/JPHYSIOL.1987.sp016721",
    },
    { study: "Jones 1987 c", citation: `${cited}.`, doi: "doi: 10.1113/jphysiol.1987.sp016721" },
  ]);
  expect(references).toHaveLength(1);
  expect(studies).toEqual([["Jones 1987 a", "Jones 1987 b", "Jones 1987 c"]]);
  expect(references[0]?.DOI).toBe("10.1113/jphysiol.1987.sp016721");
  expect(notes.map(({ code }) => code)).toContain("citations-disagree");
});

test("only a DOI, only a year, no author, nothing at all: each is kept or said to be wanting", () => {
  const { references, notes } = listOf([
    { study: "Only a DOI", doi: "10.1000/xyz", year: "1999" },
    { study: "No DOI", citation: "no order at all" },
    { study: "Not a DOI", citation: cited, doi: "see paper" },
    { study: "Nothing" },
  ]);
  expect(references).toEqual([
    { id: "NoDOI", type: "document", title: "no order at all" },
    expect.objectContaining({ id: "NotaDOI", volume: "391" }),
    {
      id: "OnlyaDOI",
      type: "article-journal",
      issued: { "date-parts": [[1999]] },
      DOI: "10.1000/xyz",
    },
  ]);
  expect(references[1]).not.toHaveProperty("DOI");
  const wanting = Object.fromEntries(notes.map(({ code, message }) => [code, message]));
  expect(wanting["no-citation"]).toMatch(/: Nothing$/);
  expect(wanting["citation-not-read"]).toMatch(/: No DOI$/);
  expect(wanting["not-a-doi"]).toMatch(/: Not a DOI$/);
});

test("keys have letters and digits only, and none stands twice", () => {
  const { references } = listOf(
    ["Noorkõiv 2014", "Noorkoiv-2014", "握力 研究", "2019 trial", "\\input{x}"].map(
      (study, index) => ({
        study,
        citation: `Work ${index}`,
      }),
    ),
  );
  const ids = references.map(({ id }) => id);
  expect(new Set(ids).size).toBe(5);
  for (const id of ids) expect(id).toMatch(/^[A-Za-z][A-Za-z0-9]*(-\d+)?$/);
  expect(ids).toContain("Noorkoiv2014");
  expect(ids).toContain("Noorkoiv2014-2");
});
