import { readdirSync, statSync } from "node:fs";
import { join, posix } from "node:path";
import ts from "typescript";
import { describe, expect, test } from "vitest";
import { roomTable } from "./room-table.js";
import {
  nodesOf,
  projectRoot,
  readProject,
  roomOf,
  sourceFiles,
  syntaxTree,
} from "./source-tree.js";

type Import = Readonly<{
  file: string;
  specifier: string;
  typesOnly: boolean;
  names: readonly string[];
  /** Whether it is loaded only when the code comes by. */
  later?: true;
}>;

const bindingsOf = (
  node: ts.ImportDeclaration | ts.ExportDeclaration,
): Readonly<{ typesOnly: boolean; names: readonly string[] }> => {
  const clause = ts.isImportDeclaration(node) ? node.importClause : undefined;
  const named = ts.isImportDeclaration(node) ? clause?.namedBindings : node.exportClause;
  const whole = ts.isImportDeclaration(node)
    ? clause?.phaseModifier === ts.SyntaxKind.TypeKeyword
    : node.isTypeOnly;
  if (named === undefined || !(ts.isNamedImports(named) || ts.isNamedExports(named)))
    return { typesOnly: whole, names: ["*"] };
  const elements: readonly (ts.ImportSpecifier | ts.ExportSpecifier)[] = [...named.elements];
  const each = elements.every((element) => element.isTypeOnly) && clause?.name === undefined;
  return {
    typesOnly: whole || each,
    names: elements.map((element) => (element.propertyName ?? element.name).text),
  };
};

const importsOf = (file: string): readonly Import[] => {
  const found: Import[] = [];
  for (const node of nodesOf(syntaxTree(file))) {
    if (
      (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) &&
      node.moduleSpecifier !== undefined &&
      ts.isStringLiteral(node.moduleSpecifier)
    ) {
      found.push({ file, specifier: node.moduleSpecifier.text, ...bindingsOf(node) });
    }
    const target = ts.isCallExpression(node) ? node.arguments[0] : undefined;
    if (
      ts.isCallExpression(node) &&
      node.expression.kind === ts.SyntaxKind.ImportKeyword &&
      target !== undefined &&
      ts.isStringLiteral(target)
    ) {
      found.push({ file, specifier: target.text, typesOnly: false, names: ["*"], later: true });
    }
    if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)) {
      const { literal } = node.argument;
      if (ts.isStringLiteral(literal))
        found.push({ file, specifier: literal.text, typesOnly: true, names: ["*"] });
    }
  }
  return found;
};

const rooms = new Map(roomTable().map((room) => [room.room, room]));
const imports = sourceFiles.flatMap(importsOf);
const isOwn = (specifier: string): boolean => specifier.startsWith(".");
const targetOf = ({ file, specifier }: Import): string => {
  const stem = posix.join(posix.dirname(file), specifier).replace(/\.js$/, "");
  return sourceFiles.includes(`${stem}.tsx`) ? `${stem}.tsx` : `${stem}.ts`;
};

const packageOf = (specifier: string): string =>
  specifier.startsWith("node:")
    ? "node"
    : specifier
        .split("/")
        .slice(0, specifier.startsWith("@") ? 2 : 1)
        .join("/");

test("the room table lists every folder of src", () => {
  const folders = readdirSync(join(projectRoot, "src")).filter((name) =>
    statSync(join(projectRoot, "src", name)).isDirectory(),
  );
  expect(folders.filter((folder) => !rooms.has(folder))).toEqual([]);
});

test("a row names rooms only, and those of the surfaces none that computes", () => {
  const named = [...rooms.values()].flatMap(({ valuesFrom, typesFrom }) => [
    ...valuesFrom,
    ...typesFrom,
  ]);
  expect(named.filter((room) => !rooms.has(room))).toEqual([]);
  const computing = ["effects", "synthesis", "dose", "endurance", "projection", "certainty"];
  for (const surface of ["command", "page", "notebook"]) {
    const { valuesFrom = [], typesFrom = [] } = rooms.get(surface) ?? {};
    expect(valuesFrom).toContain("answers");
    for (const room of computing)
      expect([...valuesFrom, ...typesFrom], surface).not.toContain(room);
  }
});

test("the rooms compiled without a console are the rooms the table says", () => {
  const settings: unknown = JSON.parse(readProject("src/pure.tsconfig.json"));
  const include = (settings as { include: readonly string[] }).include;
  const expected = [...rooms.values()]
    .filter((room) => room.pure === "compiler")
    .map((room) => room.room);
  expect(include.filter((name) => name !== "errors.ts").toSorted()).toEqual(expected.toSorted());
});

describe("every import of a room is in its row of the table", () => {
  test("rooms", () => {
    const broken = imports.filter((each) => {
      const room = rooms.get(roomOf(each.file));
      if (!isOwn(each.specifier) || room === undefined) return false;
      const target = targetOf(each);
      const targetRoom = roomOf(target);
      if (target === "src/errors.ts" || targetRoom === room.room) return false;
      const allowed = each.typesOnly ? [...room.valuesFrom, ...room.typesFrom] : room.valuesFrom;
      return !allowed.includes(targetRoom);
    });
    expect(broken.map((each) => `${each.file} takes ${each.specifier}`)).toEqual([]);
  });

  test("packages", () => {
    const broken = imports.filter((each) => {
      const room = rooms.get(roomOf(each.file));
      if (isOwn(each.specifier) || room === undefined) return false;
      const allowed = each.typesOnly ? [...room.packages, ...room.typePackages] : room.packages;
      return !allowed.includes(packageOf(each.specifier));
    });
    expect(broken.map((each) => `${each.file} takes ${each.specifier}`)).toEqual([]);
  });

  test("errors.ts takes nothing", () => {
    expect(imports.filter((each) => each.file === "src/errors.ts")).toEqual([]);
  });
});

test("every package that is used when the program runs is a runtime dependency", () => {
  const manifest: unknown = JSON.parse(readProject("package.json"));
  const { dependencies } = manifest as { dependencies: Readonly<Record<string, string>> };
  const used = imports
    .filter((each) => !isOwn(each.specifier) && !each.typesOnly)
    .map((each) => packageOf(each.specifier))
    // These are bundled into the page when it is built, so nothing asks for them when the program runs.
    .filter(
      (name) =>
        !["node", "preact", "vega-interpreter", "idb-keyval", "@tanstack/virtual-core"].includes(
          name,
        ),
    );
  expect([...new Set(used)].filter((name) => !(name in dependencies))).toEqual([]);
});

test("no file takes itself through others, not even for a type", () => {
  const next = new Map<string, string[]>();
  for (const each of imports.filter(({ specifier }) => isOwn(specifier)))
    next.set(each.file, [...(next.get(each.file) ?? []), targetOf(each)]);
  const done = new Set<string>();
  const circles: string[] = [];
  const visit = (file: string, path: readonly string[]): void => {
    if (path.includes(file)) {
      circles.push([...path.slice(path.indexOf(file)), file].join(" → "));
      return;
    }
    if (done.has(file)) return;
    for (const target of next.get(file) ?? []) visit(target, [...path, file]);
    done.add(file);
  };
  for (const file of next.keys()) visit(file, []);
  expect(circles).toEqual([]);
});

/** These belong to the language itself, so no compiler setting takes them away. */
const alwaysThere = ["Date", "Intl", "globalThis"];
/** These the compiler takes away, except where a package's declarations bring them back. */
const broughtBack = [
  "console",
  "process",
  "fetch",
  "document",
  "window",
  "navigator",
  "performance",
  "setTimeout",
  "setInterval",
  "crypto",
  "require",
  "Buffer",
];
const impureNames = {
  compiler: new Set(alwaysThere),
  test: new Set([...alwaysThere, ...broughtBack]),
} as const;
/** Methods whose answer depends on the machine's language or on chance. */
const impureMethods = new Set([
  "toLocaleString",
  "toLocaleUpperCase",
  "toLocaleLowerCase",
  "localeCompare",
]);

const isReference = (node: ts.Identifier): boolean => {
  const { parent } = node;
  const namesSomethingElse =
    (ts.isPropertyAccessExpression(parent) && parent.name === node) ||
    (ts.isPropertyAssignment(parent) && parent.name === node) ||
    (ts.isPropertySignature(parent) && parent.name === node) ||
    (ts.isBindingElement(parent) && parent.propertyName === node) ||
    ts.isQualifiedName(parent);
  return !namesSomethingElse;
};

test("pure rooms name no clock, chance, screen, disk or network", () => {
  const found: string[] = [];
  for (const file of sourceFiles) {
    const pure = rooms.get(roomOf(file))?.pure;
    if (pure === undefined || pure === "no") continue;
    const tree = syntaxTree(file);
    for (const node of nodesOf(tree)) {
      const line = tree.getLineAndCharacterOfPosition(node.getStart()).line + 1;
      if (ts.isIdentifier(node) && impureNames[pure].has(node.text) && isReference(node))
        found.push(`${file}:${line} ${node.text}`);
      if (
        ts.isPropertyAccessExpression(node) &&
        (impureMethods.has(node.name.text) || node.getText() === "Math.random")
      )
        found.push(`${file}:${line} ${node.name.text}`);
    }
  }
  expect(found).toEqual([]);
});

// Its distribution functions are tables for teaching: two decimals of z, four of p. An interval built
// on them is wrong in the third digit, so only plain descriptives may come from it.
const descriptives = new Set([
  "mean",
  "median",
  "sum",
  "min",
  "max",
  "quantile",
  "quantileSorted",
  "sampleVariance",
  "sampleStandardDeviation",
  "sampleCorrelation",
  "medianAbsoluteDeviation",
  "medianSorted",
]);

test("nothing but descriptives comes from simple-statistics", () => {
  const taken = imports
    .filter((each) => packageOf(each.specifier) === "simple-statistics")
    .flatMap((each) => each.names.map((name) => ({ file: each.file, name })));
  expect(taken.filter(({ name }) => !descriptives.has(name))).toEqual([]);
});

test("a command that reads no file loads neither the rooms that read and pool them nor a package beyond two", () => {
  const loaded = new Set<string>();
  const packages = new Set<string>();
  const load = (file: string): void => {
    if (loaded.has(file)) return;
    loaded.add(file);
    for (const each of imports.filter((one) => one.file === file)) {
      if (each.typesOnly || each.later === true) continue;
      if (isOwn(each.specifier)) load(targetOf(each));
      else packages.add(packageOf(each.specifier));
    }
  };
  ["command/main", "command/question-command", "answers/hold"].forEach((name) =>
    load(`src/${name}.ts`),
  );
  expect([...packages].sort()).toEqual(["commander", "node", "zod"]);
  const rooms = new Set([...loaded].map(roomOf));
  for (const heavy of ["synthesis", "dose", "certainty", "report", "notebook", "page"])
    expect([...rooms], heavy).not.toContain(heavy);
});
