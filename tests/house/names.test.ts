import { readFileSync } from "node:fs";
import { basename, join } from "node:path";
import ts from "typescript";
import { expect, test } from "vitest";
import {
  filesBelow,
  nodesOf,
  projectRoot,
  readProject,
  sourceFiles,
  syntaxTree,
  testFiles,
} from "./source-tree.js";

const codeFiles = [...sourceFiles, ...testFiles];

test("no file is a drawer, and every name is in kebab-case", () => {
  const drawers = /^(utils?|helpers?|types?|common|misc|shared|lib|constants|index)\.tsx?$/;
  const names = codeFiles.filter((file) => file !== "src/index.ts");
  expect(names.filter((file) => drawers.test(basename(file)))).toEqual([]);
  expect(
    names.filter((file) => !/^[a-z0-9]+(-[a-z0-9]+)*(\.(test|bench))?\.tsx?$/.test(basename(file))),
  ).toEqual([]);
});

test("nothing is typed as any, exported by default, skipped or left for later", () => {
  const found: string[] = [];
  for (const file of codeFiles) {
    const tree = syntaxTree(file);
    for (const node of nodesOf(tree)) {
      const line = tree.getLineAndCharacterOfPosition(node.getStart()).line + 1;
      if (node.kind === ts.SyntaxKind.AnyKeyword) found.push(`${file}:${line} any`);
      if (ts.isExportAssignment(node)) found.push(`${file}:${line} default export`);
      if (
        ts.isPropertyAccessExpression(node) &&
        ["skip", "only", "todo"].includes(node.name.text) &&
        /^(test|it|describe)$/.test(node.expression.getText())
      )
        found.push(`${file}:${line} ${node.getText()}`);
    }
    // Written in pieces so that this file does not find itself.
    const words = ["TO" + "DO", "FIX" + "ME", "coming " + "soon"];
    const later = new RegExp(`\\b(${words.join("|")})\\b`);
    for (const [index, text] of readProject(file).split("\n").entries())
      if (later.test(text)) found.push(`${file}:${index + 1} left for later`);
  }
  expect(found).toEqual([]);
});

test("no file is longer than 400 lines", () => {
  const lengths = codeFiles
    .map((file) => ({ file, lines: readProject(file).trimEnd().split("\n").length }))
    .sort((first, second) => second.lines - first.lines);
  const longest = lengths.slice(0, 10).map(({ file, lines }) => `${lines} ${file}`);
  process.stdout.write(`The ten longest files:\n${longest.join("\n")}\n`);
  expect(lengths.filter(({ lines }) => lines > 400)).toEqual([]);
});

const isText = (file: string): boolean =>
  /\.(tsx?|mjs|json|md|csv|txt|html|css|ipynb|svg)$|^\.?[^.]+$|^\.(npmrc|prettierrc|gitignore|prettierignore)$/.test(
    basename(file),
  );
const textFiles = filesBelow(".").filter(isText);

test("no machine's paths and no registry's host stand in the repository", () => {
  // Written in pieces so that this file does not find itself.
  const machine = [
    ["/wo", "rk/"],
    ["/ho", "me/"],
    ["/Us", "ers/"],
    ["/tm", "p/"],
    ["/ro", "ot/"],
    ["C:", "\\\\"],
    ["registry.", "npmjs"],
    ["registry.", "yarnpkg"],
    ["npm", ".pkg."],
  ].map((parts) => parts.join(""));
  const found: string[] = [];
  for (const file of textFiles) {
    const text = readFileSync(join(projectRoot, file), "utf8");
    for (const word of machine) {
      let at = text.indexOf(word);
      while (at !== -1) {
        // An address on the web may hold the same letters after its host.
        const isPathStart = word.startsWith("/") ? !/[\w.)-]/.test(text.charAt(at - 1)) : true;
        if (isPathStart) found.push(`${file}:${text.slice(0, at).split("\n").length} ${word}`);
        at = text.indexOf(word, at + 1);
      }
    }
  }
  expect(found).toEqual([]);
});

/** American forms and what to write. Titles of papers keep their own spelling: see `isCitation`. */
const spelling: Readonly<Record<string, string>> = {
  analyze: "analyse",
  analyzed: "analysed",
  behavior: "behaviour",
  center: "centre",
  centered: "centred",
  color: "colour",
  colors: "colours",
  favor: "favour",
  favored: "favoured",
  fiber: "fibre",
  labeled: "labelled",
  maximize: "maximise",
  minimize: "minimise",
  modeling: "modelling",
  normalize: "normalise",
  normalized: "normalised",
  optimize: "optimise",
  optimizer: "optimiser",
  randomized: "randomised",
  recognize: "recognise",
  standardize: "standardise",
  standardized: "standardised",
  summarize: "summarise",
};
/** A word beside a hyphen, colon or semicolon is a property or value of a style sheet. */
const american = new RegExp(
  `(?<![-\\w])(${Object.keys(spelling).join("|")})(?![-\\w]|\\s*[:;}])`,
  "gi",
);

/** Lines that quote a source by author and year, or a digital object identifier. */
const isCitation = (line: string): boolean =>
  /@source|\bdoi\b|10\.\d{4,}\/|\b(19|20)\d\d\)|https?:/i.test(line);

/**
 * What people read in a source file: its comments, and, outside the tests (which quote what strangers
 * write), its texts of more than one word.
 */
const proseOf = (file: string): readonly Readonly<{ line: number; text: string }>[] => {
  const text = readProject(file);
  if (!/\.tsx?$/.test(file))
    return text.split("\n").map((line, index) => ({ line: index + 1, text: line }));
  const tree = syntaxTree(file);
  const lineAt = (position: number): number =>
    tree.getLineAndCharacterOfPosition(position).line + 1;
  const pieces: Readonly<{ line: number; text: string }>[] = [];
  const seen = new Set<number>();
  for (const node of nodesOf(tree)) {
    for (const range of ts.getLeadingCommentRanges(text, node.getFullStart()) ?? []) {
      if (seen.has(range.pos)) continue;
      seen.add(range.pos);
      const lines = text.slice(range.pos, range.end).split("\n");
      lines.forEach((line, index) => pieces.push({ line: lineAt(range.pos) + index, text: line }));
    }
    const isString =
      ts.isStringLiteral(node) ||
      ts.isNoSubstitutionTemplateLiteral(node) ||
      ts.isTemplateHead(node) ||
      ts.isTemplateMiddle(node) ||
      ts.isTemplateTail(node);
    if (isString && node.text.includes(" ") && !file.startsWith("tests/"))
      pieces.push({ line: lineAt(node.getStart()), text: node.text });
  }
  return pieces;
};

test("what people read is spelled the British way", () => {
  const ownTexts = ["README.md", "DEVELOPERS.md", "data/README.md", "shared/README.md"];
  const read = [...codeFiles, ...textFiles.filter((file) => ownTexts.includes(file))].filter(
    (file) => file !== "tests/house/names.test.ts" && !file.startsWith("tests/published/"),
  );
  const found = read.flatMap((file) =>
    proseOf(file)
      .filter(({ text }) => !isCitation(text))
      // Names in backticks belong to a programming interface, which spells as it likes.
      .flatMap(({ line, text }) =>
        [...text.replace(/`[^`]*`/g, "").matchAll(american)].map(
          (match) => `${file}:${line} ${match[0]}, write ${spelling[match[0].toLowerCase()] ?? ""}`,
        ),
      ),
  );
  expect(found).toEqual([]);
});
