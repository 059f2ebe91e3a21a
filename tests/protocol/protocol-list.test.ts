import { expect, test } from "vitest";
import { DataError } from "../../src/errors.js";
import { protocolList } from "../../src/protocol/protocol-list.js";

const issuesOf = (text: string) => {
  try {
    protocolList(text);
  } catch (error) {
    if (error instanceof DataError) return error.issues;
    throw error;
  }
  throw new Error("nothing was thrown");
};

test("names, written forms and lines; blank lines and remarks say nothing", () => {
  const found = protocolList(
    "\uFEFF# two for Tuesday\r\n\r\nlong holds: 4 x 30 s at 70 %, rest 60 s\r\nshort: 5 x 3 s at 95 %, rest 5 s",
  );
  expect(found.map(({ name, line }) => [name, line])).toEqual([
    ["long holds", 3],
    ["short", 4],
  ]);
  expect(found[0]!.prescription).toMatchObject({ sets: 1, repetitions: 4, holdSeconds: 30 });
});

test("every problem at once, with its line, value and mend", () => {
  const issues = issuesOf(
    [
      "A: 4 x 30 s at 70 %",
      "4 x 30 s at 70 %",
      "A: 5 x 3 s at 90 %",
      "B: four holds",
      ": 3 x 3 s",
    ].join("\n"),
  );
  expect(issues.map(({ line, severity }) => [line, severity])).toEqual([
    [2, "error"],
    [3, "error"],
    [4, "error"],
    [5, "error"],
  ]);
  expect(issues[0]).toMatchObject({ code: "no-name", value: "4 x 30 s at 70 %" });
  expect(issues[1]).toMatchObject({ code: "name-twice", value: "A" });
  expect(issues[1]!.message).toContain("line 1");
  expect(issues[2]!.value).toBe("four holds");
  for (const { mend } of issues) expect(mend.length).toBeGreaterThan(10);
});

test.each(["", "\n\n", "# nothing but a remark\n"])("a file without protocols: %j", (text) => {
  expect(issuesOf(text)[0]).toMatchObject({ code: "no-protocols" });
});
