/** The reading list from the command: three forms, read back by the reader of lists; its parser is a kept library. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { referencesText } from "../../src/report/reference-formats.js";
import { readReferences } from "../../src/report/read-references.js";
import type { Reference } from "../../src/report/references.js";
import { tableText } from "../records/record-table.js";
import { runHere } from "./run-here.js";
import { fileOf, testFolder } from "./test-folder.js";

const rows = [
  {
    study: "Noorkõiv 2014",
    citation:
      "Noorkõiv M, Nosaka K and others (2014) Holds & angles: 50% of $x_1$ #2. Med Sci 46(8):1525-1537",
    doi: "10.1249/MSS.0000000000000269",
  },
  {
    study: "Trap",
    citation: "Trap \\input{secret} } @comment{ <script>alert(1)</script> \u001b[31m\u202ered",
  },
  { study: "Only a DOI", doi: "10.1000/a_b" },
];
const file = fileOf("works.csv", tableText(rows));
const folder = join(testFolder, "works");
const ran = await runHere("references", file, "-o", folder);
const written = (name: string): string => readFileSync(join(folder, name), "utf8");
const csl = JSON.parse(written("references.json")) as readonly Reference[];

test("a list in the common style on standard output, what is wanting on the other", () => {
  expect(ran.exitCode).toBe(0);
  // the style's manual: names inverted with initials, year in brackets, volume(issue), pages, DOI as an address
  expect(ran.out).toContain(
    "Noorkõiv, M., Nosaka, K., and others. (2014). Holds & angles: 50% of $x_1$ #2. Med Sci, 46(8), 1525–1537. https://doi.org/10.1249/MSS.0000000000000269",
  );
  expect(ran.err).toMatch(/no known order.*Trap/s);
  expect(written("references.txt").trim()).toBe(ran.out.trim());
});

test("BibTeX read back gives the works of the CSL-JSON, letters with marks and signs included", () => {
  const bibtex = written("references.bib");
  expect(readReferences(bibtex)).toEqual(csl);
  expect(readReferences(written("references.json"))).toEqual(csl);
  expect(bibtex).toContain(" and others}");
});

test("a list from elsewhere fills what the table lacks, by DOI or by study", async () => {
  const list = fileOf(
    "library.bib",
    String.raw`@string{mss = "Med Sci Sports Exerc"}
@article{x1, author = {Noork{\~o}iv, Marika and {The Hold Group} and M{\"u}ller, J{\'e}r{\^o}me},
  title = "Training {Adaptations} \& 50\% holds", journal = mss, year = 2014, doi = {https://doi.org/10.1249/MSS.0000000000000269}, pages = {1--2}, number = 8}
@article{OnlyaDOI, title={Other work}, doi={10.1000/A_B}, journaltitle={J Holds}, date={1999-04}}`,
  );
  const { out } = await runHere("references", file, "--from", list);
  // a field of the table stands, the list gives what the table has not
  expect(out).toContain("Noorkõiv, M., Nosaka, K., and others. (2014). Holds & angles");
  expect(out).toContain("(1999). Other work. J Holds. https://doi.org/10.1000/a_b");
  expect(readReferences(readFileSync(list, "utf8"))[0]).toEqual({
    id: "x1",
    type: "article-journal",
    author: [
      { family: "Noorkõiv", given: "Marika" },
      { literal: "The Hold Group" },
      { family: "Müller", given: "Jérôme" },
    ],
    issued: { "date-parts": [[2014]] },
    title: "Training Adaptations & 50% holds",
    "container-title": "Med Sci Sports Exerc",
    issue: "8",
    page: "1-2",
    DOI: "10.1249/MSS.0000000000000269",
  });
  for (const [text, words] of [
    ["@article{x, title={unclosed", "cannot be read as BibTeX"],
    ['[{"id": "a", "title": {}}]', "entry 1, title"],
    ["[1", "cannot be read as CSL-JSON"],
  ] as const) {
    const refused = await runHere("references", file, "--from", fileOf("damaged.bib", text));
    expect([refused.exitCode, refused.out]).toEqual([1, ""]);
    expect(refused.err).toContain(words);
  }
});

test("text of the file is neither a command of a typesetter nor of a terminal", async () => {
  const bibtex = written("references.bib");
  expect(bibtex).not.toContain("\\input");
  expect(bibtex.match(/^@/gm)).toHaveLength(3);
  const everything = [ran.out, ran.err, bibtex, written("references.json")].join("");
  expect(everything).not.toMatch(/[\u0000-\u0008\u001b\u202e]/);
  expect(JSON.parse((await runHere("references", file, "--format", "csl-json")).out)).toEqual(csl);
});

test("a list without works is empty in every form, and a file without rows is refused", async () => {
  expect(referencesText([], "text")).toBe("");
  expect(referencesText([], "bibtex")).toBe("");
  expect(referencesText([], "csl-json")).toBe("[]\n");
  const refused = await runHere("references", fileOf("broken.csv", "study,arm\nA,x\n"));
  expect([refused.exitCode, refused.out]).toEqual([1, ""]);
});
