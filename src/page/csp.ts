import { sha256 } from "@noble/hashes/sha2.js";

const base64 = (bytes: Uint8Array): string => {
  let letters = "";
  for (const byte of bytes) letters += String.fromCharCode(byte);
  return btoa(letters);
};

/** The word by which a policy admits exactly this text. */
export const hashSource = (text: string): string =>
  `'sha256-${base64(sha256(new TextEncoder().encode(text)))}'`;

/**
 * The content-security policy of the page: its own script, its own styles, and nothing from anywhere.
 *
 * The worker and the pictures are made from the page's own text, which is what `blob:` stands for; no
 * address can be fetched, no form sent, no other script run, no text turned into code.
 *
 * @param scripts  texts of the scripts that may run
 * @param styles   texts of the style sheets that may apply, those of the report shown inside included
 */
export const contentSecurityPolicy = (
  scripts: readonly string[],
  styles: readonly string[],
): string =>
  [
    "default-src 'none'",
    `script-src ${scripts.map(hashSource).join(" ")}`,
    "worker-src blob:",
    `style-src ${styles.map(hashSource).join(" ")}`,
    "img-src data: blob:",
    "font-src data:",
    "connect-src 'none'",
    "form-action 'none'",
    "base-uri 'none'",
  ].join("; ");
