import { deflateSync, inflateSync, strFromU8, strToU8 } from "fflate";
import * as z from "zod";
import type { LetterWidths } from "../host/letter-widths.js";
import type { ShippedFile } from "./app.js";
import { fromBase64, toBase64 } from "./base64.js";
import type { OpenFile } from "./open-file.js";

/** Where the page's data, its program packed and, once unpacked, the program itself stand in the document. */
export const dataId = "holdbook-data";
export const packedId = "holdbook-packed";
export const programId = "holdbook-program";
export const typeId = "holdbook-type";

const carried = z.strictObject({
  name: z.string(),
  base64: z.string(),
  sheet: z.string().exactOptional(),
});

const schema = z.strictObject({
  letters: z.strictObject({ unitsPerEm: z.number(), regular: z.string(), strong: z.string() }),
  glossary: z.array(z.object({ term: z.string(), meaning: z.string() })),
  shipped: z.array(z.strictObject({ name: z.string(), label: z.string(), text: z.string() })),
  open: carried.extend({ others: z.array(carried).exactOptional() }).nullable(),
});

/** What travels inside the page: tables to choose from, and the one to open at once. */
export type PageData = z.infer<typeof schema>;

const fileOf = ({ name, base64, sheet }: z.infer<typeof carried>): OpenFile => ({
  name,
  bytes: fromBase64(base64),
  ...(sheet === undefined ? {} : { sheet }),
});

/** A text packed into letters that hold no markup. */
export const packedText = (text: string): string =>
  toBase64(deflateSync(strToU8(text), { level: 9 }));

/** The data packed: a quarter of its size. */
export const packedData = (data: PageData): string => packedText(JSON.stringify(data));

/** The data that this page was written with. */
export const pageData = (
  page: Document,
): Readonly<{
  shipped: readonly ShippedFile[];
  glossary: PageData["glossary"];
  letters: LetterWidths;
  type: string;
  open: OpenFile | null;
}> => {
  const text = page.getElementById(dataId)?.textContent ?? "";
  const { shipped, glossary, letters, open } = schema.parse(
    JSON.parse(strFromU8(inflateSync(fromBase64(text)))),
  );
  return {
    shipped,
    glossary,
    letters,
    type: page.getElementById(typeId)?.textContent ?? "",
    open:
      open === null
        ? null
        : {
            ...fileOf(open),
            ...(open.others === undefined ? {} : { others: open.others.map(fileOf) }),
          },
  };
};
