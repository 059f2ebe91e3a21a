import { existsSync } from "node:fs";
import { join } from "node:path";
import { projectRoot, readProject } from "./source-tree.js";

/** One fenced block of a document. */
export type Fence = Readonly<{
  document: string;
  line: number;
  language: string;
  text: string;
}>;

/** The documents whose fences are promises. */
export const documents: readonly string[] = ["README.md", "DEVELOPERS.md"].filter((name) =>
  existsSync(join(projectRoot, name)),
);

/** Every fenced block of a document, in order. */
export const fencesOf = (document: string): readonly Fence[] => {
  const fences: Fence[] = [];
  let open: Readonly<{ line: number; language: string; lines: string[] }> | undefined;
  for (const [index, line] of readProject(document).split("\n").entries()) {
    const mark = /^```\s*(\S*)\s*$/.exec(line);
    if (mark === null) open?.lines.push(line);
    else if (open === undefined) open = { line: index + 1, language: mark[1] ?? "", lines: [] };
    else {
      const { line: start, language, lines } = open;
      fences.push({ document, line: start, language, text: lines.join("\n") });
      open = undefined;
    }
  }
  if (open !== undefined) throw new Error(`${document}:${open.line}: a fence is not closed`);
  return fences;
};

/** The commands of a shell fence: comments left out, lines ended by a backslash joined. */
export const commandsOf = (fence: Fence): readonly string[] =>
  fence.text
    .replace(/\\\n\s*/g, " ")
    .split("\n")
    .map((line) =>
      line
        .replace(/^\$ /, "")
        .replace(/\s+#\s.*$/, "")
        .trim(),
    )
    .filter((line) => line !== "" && !line.startsWith("#"));

/** Words as a shell hands them over: parted at spaces, quotation marks taken off. */
export const shellWords = (line: string): readonly string[] =>
  [...line.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, bare]) => quoted ?? bare ?? "");
