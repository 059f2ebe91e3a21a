import * as z from "zod";
import type { LetterWidths } from "../host/letter-widths.js";
import type { OpenFile, ShippedFile } from "./app.js";

/** Where the page's data and its program stand in the document. */
export const dataId = "holdbook-data";
export const programId = "holdbook-program";
export const typeId = "holdbook-type";

const schema = z.strictObject({
  letters: z.strictObject({ unitsPerEm: z.number(), regular: z.string(), strong: z.string() }),
  shipped: z.array(z.strictObject({ name: z.string(), label: z.string(), text: z.string() })),
  open: z.strictObject({ name: z.string(), base64: z.string() }).nullable(),
});

/** What travels inside the page: tables to choose from, and the one to open at once. */
export type PageData = z.infer<typeof schema>;

/** The data that this page was written with. */
export const pageData = (
  page: Document,
): Readonly<{
  shipped: readonly ShippedFile[];
  letters: LetterWidths;
  type: string;
  open: OpenFile | null;
}> => {
  const text = page.getElementById(dataId)?.textContent ?? "";
  const { shipped, letters, open } = schema.parse(JSON.parse(text));
  return {
    shipped,
    letters,
    type: page.getElementById(typeId)?.textContent ?? "",
    open:
      open === null
        ? null
        : {
            name: open.name,
            bytes: Uint8Array.from(atob(open.base64), (letter) => letter.charCodeAt(0)),
          },
  };
};
