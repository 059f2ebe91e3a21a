/** Bytes as letters that any text may hold. */
export const toBase64 = (bytes: Uint8Array): string => {
  let letters = "";
  for (let from = 0; from < bytes.length; from += 8192)
    letters += String.fromCharCode(...bytes.subarray(from, from + 8192));
  return btoa(letters);
};

/**
 * The bytes that letters stand for.
 *
 * @throws {Error} where they are no base64
 */
export const fromBase64 = (text: string): Uint8Array =>
  Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
