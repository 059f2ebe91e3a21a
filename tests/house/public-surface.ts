import { existsSync } from "node:fs";
import { join, posix, relative, sep } from "node:path";
import ts from "typescript";
import { roomTable } from "./room-table.js";
import { projectRoot, roomOf, sourceFiles } from "./source-tree.js";

/** One exported thing with what is written above it. */
export type PublicName = Readonly<{
  name: string;
  /** File that declares it. */
  file: string;
  room: string;
  kind: "function" | "value" | "type";
  /** The docstring without its tags. */
  summary: string;
  tags: readonly Readonly<{ tag: string; text: string }>[];
}>;

const pureRooms = new Set(
  roomTable()
    .filter((room) => room.pure !== "no")
    .map((room) => room.room),
);

const entryFile = "src/index.ts";

/** Files of the pure rooms. */
export const pureFiles: readonly string[] = sourceFiles.filter((file) =>
  pureRooms.has(roomOf(file)),
);

const kindOf = (symbol: ts.Symbol, declaration: ts.Declaration): PublicName["kind"] => {
  const isValue = (symbol.flags & ts.SymbolFlags.Value) !== 0;
  if (!isValue) return "type";
  const isFunction =
    ts.isFunctionDeclaration(declaration) ||
    (ts.isVariableDeclaration(declaration) &&
      declaration.initializer !== undefined &&
      (ts.isArrowFunction(declaration.initializer) ||
        ts.isFunctionExpression(declaration.initializer)));
  return isFunction ? "function" : "value";
};

/** Every name that some files export, with its docstring and the file that declares it. */
export const exportedNames = (files: readonly string[]): readonly PublicName[] => {
  const program = ts.createProgram(
    files.map((file) => join(projectRoot, file)),
    {
      target: ts.ScriptTarget.ES2022,
      module: ts.ModuleKind.NodeNext,
      moduleResolution: ts.ModuleResolutionKind.NodeNext,
      noLib: true,
      types: [],
      skipLibCheck: true,
    },
  );
  const checker = program.getTypeChecker();
  const found = new Map<string, PublicName>();
  for (const path of files) {
    const source = program.getSourceFile(join(projectRoot, path));
    const module = source === undefined ? undefined : checker.getSymbolAtLocation(source);
    if (module === undefined) continue;
    for (const exported of checker.getExportsOfModule(module)) {
      const isAlias = (exported.flags & ts.SymbolFlags.Alias) !== 0;
      const symbol = isAlias ? checker.getAliasedSymbol(exported) : exported;
      const declaration = symbol.declarations?.[0];
      if (declaration === undefined) continue;
      const file = relative(projectRoot, declaration.getSourceFile().fileName).split(sep).join("/");
      found.set(`${file}:${exported.name}`, {
        name: exported.name,
        file,
        room: roomOf(file),
        kind: kindOf(symbol, declaration),
        summary: ts.displayPartsToString(symbol.getDocumentationComment(checker)),
        tags: symbol.getJsDocTags(checker).map((tag) => ({
          tag: tag.name,
          text: ts.displayPartsToString(tag.text),
        })),
      });
    }
  }
  return [...found.values()];
};

const camelCase = (file: string): string =>
  posix.basename(file, ".ts").replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase());

/** Where the public surface is read from: `src/index.ts`; before it is written, the pure rooms. */
export const surfaceFiles = (): readonly string[] =>
  existsSync(join(projectRoot, entryFile)) ? [entryFile] : pureFiles;

/**
 * What the project offers its users: the exports of `src/index.ts`; before that file is written, the
 * function each file of a pure room is named after.
 */
export const publicSurface = (): readonly PublicName[] => {
  const files = surfaceFiles();
  const names = exportedNames(files);
  return files[0] === entryFile
    ? names
    : names.filter((each) => each.name === camelCase(each.file));
};
