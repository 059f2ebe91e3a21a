import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";

/** A file the browser saved. */
export type SavedFile = Readonly<{ name: string; bytes: Buffer; text: string }>;

const placeOf: Readonly<Record<string, string>> = {
  answers: "Evidence",
  variables: "Evidence",
  dose: "Evidence",
  made: "Evidence",
  sure: "Evidence",
  follow: "Protocols",
  figures: "Evidence",
  protocols: "Protocols",
  explore: "Protocols",
  hold: "Protocols",
  ramp: "Protocols",
  data: "Data",
  statements: "Statements",
  teach: "Teach",
  report: "Report",
};

/** Waits until a view is the one shown. */
export const shows = async (page: Page, view: string): Promise<void> => {
  await page.waitForSelector(`a[aria-current="page"][href^="#/${view}"]`);
};

/** Goes to a view as a person does: to its place, then to the view within it. */
export const goTo = async (page: Page, view: string): Promise<void> => {
  const place = placeOf[view];
  if (place === undefined) await page.locator("a.name").click();
  else {
    await page.locator(".places a", { hasText: place }).click();
    const within = page.locator(`.within a[href^="#/${view}"]`);
    if (!["Data", "Report", "Statements", "Teach"].includes(place)) await within.click();
  }
  await shows(page, view);
};

/** Does something that saves a file; the file as the person gets it. */
export const savedBy = async (page: Page, act: () => Promise<unknown>): Promise<SavedFile> => {
  const [download] = await Promise.all([page.waitForEvent("download"), act()]);
  const bytes = readFileSync(await download.path());
  return { name: download.suggestedFilename(), bytes, text: bytes.toString("utf8") };
};

/** Drops a file on an element, as a person does with the mouse. */
export const dropFile = async (
  page: Page,
  selector: string,
  name: string,
  content: string | Uint8Array,
): Promise<void> => {
  const base64 = Buffer.from(content).toString("base64");
  const carried = await page.evaluateHandle(
    ({ fileName, data }) => {
      const transfer = new DataTransfer();
      const bytes = Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0));
      transfer.items.add(new File([bytes], fileName));
      return transfer;
    },
    { fileName: name, data: base64 },
  );
  await page.dispatchEvent(selector, "drop", { dataTransfer: carried });
};

/** Cells of the table whose caption begins with the words, row by row, headings first. */
export const cellsOf = (page: Page, caption: string): Promise<readonly (readonly string[])[]> =>
  page
    .locator("table", { has: page.locator("caption", { hasText: caption }) })
    .first()
    .locator("tr")
    .evaluateAll((rows) =>
      rows.map((row) => [...row.querySelectorAll("th, td")].map((cell) => cell.textContent ?? "")),
    );
