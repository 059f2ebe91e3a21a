/** The reading list from the command: three forms, read back by the citation library. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Cite } from "@citation-js/core";
import "@citation-js/plugin-bibtex";
import { expect, test } from "vitest";
import { referencesText } from "../../src/command/reference-formats.js";
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

type Plain = Readonly<Record<string, unknown>>;

test("a list in the common style on standard output, what is wanting on the other", () => {
  expect(ran.exitCode).toBe(0);
  // the style's manual: names inverted with initials, year in brackets, volume(issue), pages, DOI as an address
  expect(ran.out).toContain(
    "Noorkõiv, M., Nosaka, K., & others. (2014). Holds & angles: 50% of $x_1$ #2. Med Sci, 46(8), 1525–1537. https://doi.org/10.1249/MSS.0000000000000269",
  );
  expect(ran.err).toMatch(/no known order.*Trap/s);
  expect(written("references.txt").trim()).toBe(ran.out.trim());
});

// independent: the file is read by the library's own reader of that form
test("BibTeX read back gives the works of the CSL-JSON, letters with marks and signs included", () => {
  const bibtex = written("references.bib");
  const back = new Cite(bibtex).data as unknown as readonly Plain[];
  const fields = [
    "id",
    "issued",
    "title",
    "container-title",
    "volume",
    "issue",
    "page",
    "DOI",
  ] as const;
  const only = (work: Plain): Plain =>
    Object.fromEntries(
      fields.filter((name) => work[name] !== undefined).map((name) => [name, work[name]]),
    );
  expect(back.map(only)).toEqual(csl.map((work) => only(work)));
  expect(bibtex).toContain(" and others}");
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
  expect(await referencesText([], "text")).toBe("");
  expect(await referencesText([], "bibtex")).toBe("");
  expect(await referencesText([], "csl-json")).toBe("[]\n");
  const refused = await runHere("references", fileOf("broken.csv", "study,arm\nA,x\n"));
  expect([refused.exitCode, refused.out]).toEqual([1, ""]);
});
