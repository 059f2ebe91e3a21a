/** Citations as people type them, taken apart by hand in the expected values. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { citationParts } from "../../src/report/citation-parts.js";

const person = (family: string, given: string) => ({ family, given });
const jones = [person("Jones", "D. A."), person("Rutherford", "O. M.")];

test.each([
  [
    "Jones DA, Rutherford OM (1987) J Physiol 391:1-11",
    { authors: jones, year: 1987, journal: "J Physiol", volume: "391", pages: "1-11" },
  ],
  [
    "Jones, D. A., & Rutherford, O. M. (1987). Strength training of three kinds. The Journal of Physiology, 391(2), 1–11. https://doi.org/10.1113/jphysiol.1987.sp016721",
    {
      authors: jones,
      year: 1987,
      title: "Strength training of three kinds",
      journal: "The Journal of Physiology",
      volume: "391",
      issue: "2",
      pages: "1-11",
    },
  ],
  [
    "Jones DA, Rutherford OM. Strength training of three kinds. J Physiol. 1987 Oct;391(2):1-11.",
    {
      authors: jones,
      year: 1987,
      title: "Strength training of three kinds",
      journal: "J Physiol",
      volume: "391",
      issue: "2",
      pages: "1-11",
    },
  ],
  [
    "Bonde Petersen F;Kitai TA (1960) Acta Physiologica",
    {
      authors: [person("Bonde Petersen", "F."), person("Kitai", "T. A.")],
      year: 1960,
      journal: "Acta Physiologica",
    },
  ],
  [
    "Ōkubo J-P, O'Neill Ç, Müller-Łódź Ž and others (2011b) Ŝport 7:e12",
    {
      authors: [
        person("Ōkubo", "J.-P."),
        person("O'Neill", "Ç."),
        person("Müller-Łódź", "Ž."),
        { literal: "others" },
      ],
      year: 2011,
      journal: "Ŝport",
      volume: "7",
      pages: "e12",
    },
  ],
  [
    "World Health Organization (2020)",
    { authors: [{ literal: "World Health Organization" }], year: 2020 },
  ],
  ["Noorkõiv 2014, see the PDF", { authors: [], title: "Noorkõiv 2014, see the PDF" }],
  ["   ", { authors: [] }],
])("%s", (citation, expected) => {
  expect(citationParts(citation)).toEqual(expected);
});

// identity: what is typed is found again, for every number of people, with and without a title
test("names, year, journal and place come back from the form they are written in", () => {
  const word = fc.stringMatching(/^\p{Lu}\p{Ll}{2,9}$/u);
  const people = fc.array(fc.tuple(word, fc.stringMatching(/^[A-Z]{1,3}$/)), {
    minLength: 1,
    maxLength: 8,
  });
  fc.assert(
    fc.property(
      people,
      word,
      word,
      fc.integer({ min: 1800, max: 2099 }),
      fc.nat(900),
      (names, title, journal, year, volume) => {
        const authors = names.map(([family, letters]) => `${family} ${letters}`).join(", ");
        const parts = citationParts(
          `${authors} (${year}) ${title} of holds. ${journal} Res ${volume}:1-9`,
        );
        expect(parts).toEqual({
          authors: names.map(([family, letters]) =>
            person(family, [...letters].map((l) => `${l}.`).join(" ")),
          ),
          year,
          title: `${title} of holds`,
          journal: `${journal} Res`,
          volume: String(volume),
          pages: "1-9",
        });
      },
    ),
    { numRuns: 60 },
  );
});

test("any text at all is read in a moment and never throws", () => {
  fc.assert(
    fc.property(fc.string({ unit: "grapheme", maxLength: 300 }), (text) => {
      expect(citationParts(text).authors).toBeInstanceOf(Array);
    }),
    { numRuns: 200 },
  );
  const started = performance.now();
  for (const length of [300, 20_000])
    citationParts(`${"A. ".repeat(length)}(2014) ${"a. ".repeat(length)}`);
  expect(performance.now() - started).toBeLessThan(2000);
});
