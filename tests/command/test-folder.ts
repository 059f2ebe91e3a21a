import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll } from "vitest";

/** A folder of its own for the files of one test file, gone when its tests are done. */
export let testFolder = "";

/** Gives the test file that is about to be read its folder: files share this module with those before them. */
export const giveTestFolder = (): void => {
  const folder = mkdtempSync(join(tmpdir(), "holdbook-test-"));
  testFolder = folder;
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });
};

/** Writes a file into the test folder; its path. */
export const fileOf = (name: string, content: string): string => {
  const path = join(testFolder, name);
  writeFileSync(path, content);
  return path;
};
