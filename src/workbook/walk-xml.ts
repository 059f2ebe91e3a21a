import { Parser } from "saxen";

/** What is told while a text in XML is walked through; names are without their prefix. */
export type XmlWalker = Readonly<{
  opens: (name: string, attribute: (name: string) => string | undefined) => void;
  closes?: (name: string) => void;
  text?: (text: string) => void;
}>;

const bare = (name: string): string => name.slice(name.indexOf(":") + 1);

/**
 * Nothing; tells every element and text of an XML document in order.
 *
 * @throws {Error} where it is not well formed or does not end
 */
export const walkXml = (xml: string, { opens, closes, text }: XmlWalker): void => {
  let depth = 0;
  let elements = 0;
  new Parser()
    .on("error", (error) => {
      throw error;
    })
    .on("openTag", (name, attributes, decode) => {
      depth += 1;
      elements += 1;
      opens(bare(name), (wanted) => {
        const all = attributes();
        // "r:id" beside "sheetId": the prefix is the file's own choice.
        const key = Object.keys(all).find((each) => bare(each) === wanted);
        return key === undefined ? undefined : decode(all[key]!);
      });
    })
    .on("closeTag", (name) => {
      depth -= 1;
      closes?.(bare(name));
    })
    .on("text", (raw, decode) => text?.(decode(raw)))
    .on("cdata", (raw) => text?.(raw))
    .parse(xml);
  if (depth !== 0 || elements === 0) throw new Error("the document does not end");
};
