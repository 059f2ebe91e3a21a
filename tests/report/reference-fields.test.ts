import { expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { citationParts } from "../../src/report/citation-parts.js";
import { filledFromList, referenceCells } from "../../src/report/reference-fields.js";
import { readReferences } from "../../src/report/read-references.js";

const bibtex = `@article{ash1, author = {Ash, Ben Carl and M{\\"u}ller, D.}, year = 2001,
  title = {Holds of two lengths}, journal = {Journal of Holding}, volume = 4, number = 2, pages = {11--19}, doi = {10.1234/HOLD.1}}
@article{birch, author = {Birch, E.}, year = {2002}, title = {Angles?}, journal = {Knees}}`;
const list = readReferences(bibtex);

test("a work gives study, citation, DOI and year; the citation is read back with all its parts", () => {
  const cells = referenceCells(list[0]!);
  expect(cells).toEqual({
    study: "Ash 2001",
    citation: "Ash BC, Müller D (2001) Holds of two lengths. Journal of Holding 4(2):11-19",
    doi: "10.1234/HOLD.1",
    year: "2001",
  });
  expect(citationParts(cells.citation!)).toMatchObject({
    ...{ title: "Holds of two lengths", journal: "Journal of Holding" },
    ...{ volume: "4", issue: "2", pages: "11-19", year: 2001 },
  });
});

test("CSL-JSON of the same work gives the same cells", () => {
  const csl = JSON.stringify([
    {
      ...{ id: "x", type: "article-journal", title: "Holds of two lengths", page: "11-19" },
      ...{ volume: 4, issue: "2", "container-title": "Journal of Holding", DOI: "10.1234/HOLD.1" },
      author: [
        { family: "Ash", given: "Ben Carl" },
        { family: "Müller", given: "D." },
      ],
      issued: { "date-parts": [[2001]] },
    },
  ]);
  expect(referenceCells(readReferences(csl)[0]!)).toEqual(referenceCells(list[0]!));
});

test("old rows get titles, DOIs and years by DOI, else by author and year; what is typed otherwise stays", () => {
  const table = readTable(
    [
      "study,citation,doi,arm",
      'Some name,"Ash BC, Müller D (2001) Journal of Holding 4:11",https://doi.org/10.1234/hold.1,a',
      "Birch 2002,,,b",
      'Birch 2002,"Birch E (2002) A title of its own. Knees 3:1",10.9999/other,c',
      "Cedar 2003,,,d",
      "",
    ].join("\n"),
  );
  const { header, cells, works } = filledFromList(table, list);
  expect(header).toEqual(["study", "citation", "doi", "arm", "year"]);
  expect(works).toBe(2);
  expect(cells).toEqual([
    { row: 0, column: 1, text: referenceCells(list[0]!).citation },
    { row: 0, column: 4, text: "2001" },
    { row: 1, column: 1, text: "Birch E (2002) Angles? Knees" },
    { row: 1, column: 4, text: "2002" },
  ]);
});
