import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { join, relative, sep } from "node:path";
import ts from "typescript";

/** The project's root. */
export const projectRoot = join(import.meta.dirname, "..", "..");

const leftOut = /^(?:node_modules|\.git|dist|\.dist-.*|build|coverage|holdbook-report.*)$/;

/** Every file below a folder of the project, as paths from its root with forward slashes, in order. */
export const filesBelow = (folder: string): readonly string[] => {
  const found: string[] = [];
  const walk = (path: string): void => {
    for (const name of readdirSync(path).sort()) {
      if (leftOut.test(name)) continue;
      const inside = join(path, name);
      if (statSync(inside).isDirectory()) walk(inside);
      else found.push(relative(projectRoot, inside).split(sep).join("/"));
    }
  };
  const start = join(projectRoot, folder);
  if (existsSync(start)) walk(start);
  return found;
};

/** A file of the project as text. */
export const readProject = (path: string): string => readFileSync(join(projectRoot, path), "utf8");

const isCode = (path: string): boolean => /\.tsx?$/.test(path) && !path.endsWith(".d.ts");

/** The program's own source files. */
export const sourceFiles: readonly string[] = filesBelow("src").filter(isCode);

/** The tests' source files. */
export const testFiles: readonly string[] = filesBelow("tests").filter(isCode);

const trees = new Map<string, ts.SourceFile>();

/** A source file's syntax tree, made once for all tests of a worker. */
export const syntaxTree = (path: string): ts.SourceFile => {
  const tree =
    trees.get(path) ?? ts.createSourceFile(path, readProject(path), ts.ScriptTarget.ES2022, true);
  trees.set(path, tree);
  return tree;
};

/** Every node of a tree, parents first. */
export const nodesOf = (node: ts.Node): readonly ts.Node[] => {
  const found: ts.Node[] = [];
  const walk = (each: ts.Node): void => {
    found.push(each);
    ts.forEachChild(each, walk);
  };
  walk(node);
  return found;
};

/** The room a source file is in; empty for files that stand beside the rooms. */
export const roomOf = (path: string): string => /^src\/([^/]+)\//.exec(path)?.[1] ?? "";
