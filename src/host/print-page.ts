import { spawn } from "node:child_process";
import { access } from "node:fs/promises";
import { delimiter, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

/** Names under which a Chromium is installed. */
const names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"] as const;

/** How long printing may take. */
const patienceMilliseconds = 30_000;

/** Where a Chromium is installed; undefined where none is. */
export const chromiumHere = async (): Promise<string | undefined> => {
  for (const folder of (process.env["PATH"] ?? "").split(delimiter))
    for (const name of names) {
      const file = join(folder, name);
      const isThere = await access(file).then(
        () => true,
        () => false,
      );
      if (folder !== "" && isThere) return file;
    }
  return undefined;
};

/**
 * Prints a page that stands on disk.
 *
 * @param program from `chromiumHere`
 * @returns whether the PDF was written
 */
export const printPage = async (program: string, html: string, pdf: string): Promise<boolean> =>
  new Promise((done) => {
    const words = [
      "--headless",
      "--disable-gpu",
      // The page is our own and runs no script; the browser's sandbox does not start for the system's owner.
      ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
      "--no-pdf-header-footer",
      `--print-to-pdf=${resolve(pdf)}`,
      pathToFileURL(resolve(html)).href,
    ];
    const child = spawn(program, words, { stdio: "ignore", timeout: patienceMilliseconds });
    child.once("error", () => done(false)).once("exit", (code) => done(code === 0));
  });
