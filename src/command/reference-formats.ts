import type { Reference } from "../report/references.js";

/** Forms in which a reading list is written. */
export const referenceFormats = ["text", "bibtex", "csl-json"] as const;
export type ReferenceFormat = (typeof referenceFormats)[number];

/** The style of the formatted list, in words. */
export const referenceStyle =
  "American Psychological Association, 7th edition, as the citation library sets it";

/** Loaded when asked for: it takes a moment, and no other command needs it. */
const citationLibrary = async () => {
  const [core] = await Promise.all([
    import("@citation-js/core"),
    import("@citation-js/plugin-bibtex"),
    import("@citation-js/plugin-csl"),
  ]);
  return core;
};

type Item = ConstructorParameters<Awaited<ReturnType<typeof citationLibrary>>["Cite"]>[0];

/**
 * A reading list in one of the forms, by a kept citation library, without a network.
 *
 * @param references from `readingList`
 * @param format     a list in a common style, BibTeX, or CSL-JSON
 */
export const referencesText = async (
  references: readonly Reference[],
  format: ReferenceFormat,
): Promise<string> => {
  if (format === "csl-json") return `${JSON.stringify(references, null, 2)}\n`;
  if (references.length === 0) return "";
  const { Cite } = await citationLibrary();
  const items: Item = references.map((reference) => ({
    ...reference,
    "citation-key": reference.id,
  }));
  const cite = new Cite(items);
  if (format === "text") {
    const list: string = cite.format("bibliography", {
      format: "text",
      template: "apa",
      lang: "en-US",
    });
    return list;
  }
  const bibtex: string = cite.format("bibtex");
  // The word that stands for further authors is one of the form's own, and not a name in braces.
  return bibtex.replaceAll(" and {others}", " and others");
};
