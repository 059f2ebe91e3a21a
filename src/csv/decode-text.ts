import type { Issue, Note } from "../errors.js";
import type { CsvEncoding } from "./csv-table.js";

/** The bytes of a table as UTF-8 without a byte-order mark, with how they were written before. */
export type DecodedText = Readonly<{
  utf8: Uint8Array;
  encoding: CsvEncoding;
  issues: readonly Issue[];
  notes: readonly Note[];
}>;

const chunkBytes = 1 << 20;
const lineFeed = 0x0a;
const carriageReturn = 0x0d;

/** Line of the file at a byte offset, counting LF, CR and CRLF alike. */
const lineAt = (bytes: Uint8Array, offset: number): number => {
  let line = 1;
  for (let i = 0; i < offset; i++) {
    if (bytes[i] === lineFeed) line += 1;
    else if (bytes[i] === carriageReturn && bytes[i + 1] !== lineFeed) line += 1;
  }
  return line;
};

const isUtf8 = (bytes: Uint8Array): boolean => {
  const decoder = new TextDecoder("utf-8", { fatal: true });
  try {
    for (let start = 0; start < bytes.length; start += chunkBytes) {
      decoder.decode(bytes.subarray(start, start + chunkBytes), { stream: true });
    }
    decoder.decode();
    return true;
  } catch {
    return false;
  }
};

/** Length of the well-formed multi-byte sequence at an offset, or 0 when the bytes there form none. */
const sequenceLength = (bytes: Uint8Array, offset: number): number => {
  const first = bytes[offset] ?? 0;
  const length = first >= 0xf0 && first < 0xf5 ? 4 : first >= 0xe0 ? 3 : first >= 0xc2 ? 2 : 0;
  if (length === 0 || first >= 0xf5) return 0;
  for (let i = 1; i < length; i++) if (((bytes[offset + i] ?? 0) & 0xc0) !== 0x80) return 0;
  return length;
};

/**
 * Offsets of bytes that belong to no UTF-8 sequence, and how many sequences are well formed: a file in
 * UTF-8 with a stray byte has many sequences and few strays, a Latin-1 file the reverse.
 */
const strayBytes = (bytes: Uint8Array): Readonly<{ strays: number[]; sequences: number }> => {
  const strays: number[] = [];
  let sequences = 0;
  for (let i = 0; i < bytes.length; i++) {
    if ((bytes[i] ?? 0) < 0x80) continue;
    const length = sequenceLength(bytes, i);
    if (length === 0) strays.push(i);
    else {
      sequences += 1;
      i += length - 1;
    }
  }
  return { strays, sequences };
};

/** UTF-16 without a mark: in mostly Western text nearly every second byte is zero. */
const unmarkedUtf16 = (bytes: Uint8Array): "utf-16le" | "utf-16be" | undefined => {
  const length = Math.min(bytes.length, 2048) & ~1;
  if (length < 8) return undefined;
  let evenZeros = 0;
  let oddZeros = 0;
  for (let i = 0; i < length; i += 2) {
    if (bytes[i] === 0) evenZeros += 1;
    if (bytes[i + 1] === 0) oddZeros += 1;
  }
  const most = length / 2;
  if (oddZeros > 0.7 * most && evenZeros < 0.1 * most) return "utf-16le";
  if (evenZeros > 0.7 * most && oddZeros < 0.1 * most) return "utf-16be";
  return undefined;
};

/** Characters of the bytes 80 to 9f in windows-1252; elsewhere byte and code point are the same. */
const upperControls = "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ";

/** Text of windows-1252 bytes; some JavaScript engines decode that label as Latin-1, so it is done here. */
const windows1252Text = (bytes: Uint8Array): string => {
  const parts: string[] = [];
  for (let start = 0; start < bytes.length; start += 8192) {
    const points = Array.from(bytes.subarray(start, start + 8192), (byte) =>
      byte >= 0x80 && byte < 0xa0 ? upperControls.charCodeAt(byte - 0x80) : byte,
    );
    parts.push(String.fromCharCode(...points));
  }
  return parts.join("");
};

const asUtf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

/**
 * A table's bytes as UTF-8, whatever they were written in.
 *
 * A byte-order mark decides; without one, bytes that are valid UTF-8 are UTF-8, bytes with a zero in
 * every second place are UTF-16, and anything else is windows-1252 (which contains Latin-1). A file that
 * is UTF-8 but for a few stray bytes stays UTF-8, and each stray byte is located.
 *
 * @param bytes the whole file
 * @returns the same text in UTF-8 without its mark, how it was written, and what was odd about it
 */
export const decodeText = (bytes: Uint8Array): DecodedText => {
  const marked = (first: number, second: number) => bytes[0] === first && bytes[1] === second;
  const utf16 = marked(0xff, 0xfe)
    ? "utf-16le"
    : marked(0xfe, 0xff)
      ? "utf-16be"
      : unmarkedUtf16(bytes);
  if (utf16 !== undefined) {
    const text = new TextDecoder(utf16).decode(bytes);
    return { utf8: asUtf8(text), encoding: utf16, issues: [], notes: [] };
  }
  const hasMark = marked(0xef, 0xbb) && bytes[2] === 0xbf;
  const body = hasMark ? bytes.subarray(3) : bytes;
  if (isUtf8(body)) return { utf8: body, encoding: "utf-8", issues: [], notes: [] };
  const { strays, sequences } = strayBytes(body);
  if (hasMark || sequences > strays.length) {
    const issues = strays.slice(0, 100).map((offset): Issue => {
      const value = `byte ${(body[offset] ?? 0).toString(16)}`;
      const line = lineAt(body, offset);
      return {
        code: "stray-byte",
        severity: "warning",
        line,
        column: "",
        value,
        message: "the file is UTF-8 but this byte is not",
        mend: "retype the character that shows as a black diamond and save as UTF-8",
      };
    });
    const text = new TextDecoder("utf-8").decode(body);
    return { utf8: asUtf8(text), encoding: "utf-8", issues, notes: [] };
  }
  const note: Note = {
    code: "not-utf-8",
    message:
      "the file is not UTF-8 and was read as windows-1252 (Latin-1); check that accents and dashes look right",
  };
  return {
    utf8: asUtf8(windows1252Text(body)),
    encoding: "windows-1252",
    issues: [],
    notes: [note],
  };
};
