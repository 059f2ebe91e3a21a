import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

import { afterAll, beforeAll, expect, test } from "vitest";

import { readBytes } from "../../src/host/read-bytes.js";

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "read-bytes-"));
  await writeFile(join(folder, "trials.csv"), Buffer.from([0xef, 0xbb, 0xbf, 0x61]));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

test("bytes as they stand, undecoded", async () => {
  expect([...(await readBytes(join(folder, "trials.csv")))]).toEqual([0xef, 0xbb, 0xbf, 0x61]);
});

test("a misspelt name is answered with the near one", async () => {
  await expect(readBytes(join(folder, "trails.csv"))).rejects.toMatchObject({
    code: "file-missing",
    message: expect.stringMatching(/got nothing there; did you mean "trials.csv"$/) as string,
  });
});

test("a name near nothing, and a folder that is not there, get no guess", async () => {
  await expect(readBytes(join(folder, "quite-else.json"))).rejects.toMatchObject({
    code: "file-missing",
    message: expect.stringMatching(/check the spelling/) as string,
  });
  await expect(readBytes(join(folder, "no", "x.csv"))).rejects.toMatchObject({
    code: "file-missing",
  });
});

test("a directory is named as one", async () => {
  await expect(readBytes(folder)).rejects.toMatchObject({ code: "is-a-directory" });
});
