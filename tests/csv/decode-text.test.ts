import { expect, test } from "vitest";
import { decodeText } from "../../src/csv/decode-text.js";

const text = "study,note\nNoorkõiv 2014,“3–10 s” − ½ ×\n";
const utf8 = new TextEncoder().encode(text);
const readable = (bytes: Uint8Array) => new TextDecoder().decode(decodeText(bytes).utf8);

const utf16 = (words: string, littleEndian: boolean, mark: boolean): Uint8Array => {
  const units = mark ? `\ufeff${words}` : words;
  const view = new DataView(new ArrayBuffer(2 * units.length));
  for (let i = 0; i < units.length; i++) view.setUint16(2 * i, units.charCodeAt(i), littleEndian);
  return new Uint8Array(view.buffer);
};

test("decodeText: UTF-8 with and without a mark is the same text", () => {
  expect(readable(utf8)).toBe(text);
  expect(readable(new Uint8Array([0xef, 0xbb, 0xbf, ...utf8]))).toBe(text);
});

test("decodeText: UTF-16 of both byte orders, with and without a mark", () => {
  for (const littleEndian of [true, false]) {
    for (const mark of [true, false]) {
      const decoded = decodeText(utf16(text, littleEndian, mark));
      expect(decoded.encoding).toBe(littleEndian ? "utf-16le" : "utf-16be");
      expect(new TextDecoder().decode(decoded.utf8)).toBe(text);
    }
  }
});

test("decodeText: bytes that are not UTF-8 are windows-1252, and a note says so", () => {
  // é, en dash and right quotation mark of windows-1252.
  const decoded = decodeText(new Uint8Array([0x61, 0xe9, 0x33, 0x96, 0x34, 0x92]));
  expect(new TextDecoder().decode(decoded.utf8)).toBe("aé3–4’");
  expect(decoded.encoding).toBe("windows-1252");
  expect(decoded.notes.map(({ code }) => code)).toEqual(["not-utf-8"]);
});

test("decodeText: one stray byte in a UTF-8 file is located and leaves the rest as it was", () => {
  const bytes = new Uint8Array([...utf8, 0xe9, 0x0a]);
  const decoded = decodeText(bytes);
  expect(decoded.encoding).toBe("utf-8");
  expect(new TextDecoder().decode(decoded.utf8)).toContain("Noorkõiv 2014,“3–10 s”");
  expect(decoded.issues.map(({ code, line }) => `${code}@${line}`)).toEqual(["stray-byte@3"]);
});

test("decodeText: a character cut by the border of a megabyte is whole", () => {
  const long = `${"x".repeat((1 << 20) - 1)}–y`;
  expect(readable(new TextEncoder().encode(long))).toBe(long);
});
