import { expect, test } from "vitest";
import { readProject, sourceFiles } from "./source-tree.js";

const unions = [...readProject("src/errors.ts").matchAll(/type (\w+Code) =[^`;]*`([^`]*)`/g)];
const others = sourceFiles
  .filter((file) => file !== "src/errors.ts")
  .map((file) => readProject(file))
  .join("\n");

// The compiler refuses a code that is in no list; it says nothing of one that has died.
test("every code in the lists of errors.ts is given somewhere", () => {
  expect(unions.map(([, name]) => name)).toEqual([
    "IssueCode",
    "NoteCode",
    "CallErrorCode",
    "RefusalCode",
  ]);
  const dead = unions.flatMap(([, , words = ""]) =>
    words.split(/\s+/).filter((word) => word !== "" && !others.includes(`"${word}"`)),
  );
  expect(dead).toEqual([]);
});
