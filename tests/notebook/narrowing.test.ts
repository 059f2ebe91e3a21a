/**
 * Refusals narrow as notebooks compile them: tslab's own compiler, without `strict`, where only a discriminant of text
 * narrows. Every union of every answer and of every public function is looked at, and the natural idiom is compiled.
 */
import { createRequire } from "node:module";
import { join } from "node:path";
import type * as typescript from "typescript";
import { beforeAll, expect, test } from "vitest";
import { questionIds } from "../../src/answers/question-list.js";
import { freshBuild } from "../house/fresh-build.js";
import { projectRoot } from "../house/source-tree.js";

const ts = createRequire(import.meta.url)("@tslab/typescript-for-tslab") as typeof typescript;

/** What a student writes; each fails to compile without its line about the refusal. */
const idioms = [
  `const { groups } = (await ask("pool")).data;
   for (const group of groups) { REFUSED(group.kind === "refusal") say(group.refusal.reason); else say(group.estimate); }`,
  `const { levelMeans } = (await ask("pool", { moderators: ["muscle_length"] })).data;
   for (const one of levelMeans) { REFUSED(one.kind === "refusal") say(one.refusal.reason); else say(one.levels); }`,
  `const [{ answer }] = (await ask("dose", { on: "intensity-percent" })).data.groups;
   REFUSED(answer.kind !== "told") say(answer.kind); else say(answer.readOffs);`,
  `const [{ answer }] = (await ask("joint-angle")).data.answers;
   REFUSED(answer.longAgainstShort.kind === "refusal") say(answer.longAgainstShort.reason); else say(answer.longAgainstShort.level);`,
  `const [group] = (await ask("influence")).data.groups;
   REFUSED(group.kind === "refusal") say(group.refusal.reason); else say(group.movesMost);`,
  `const [group] = (await ask("small-studies")).data.groups;
   REFUSED(group.kind === "refusal") say(group.refusal.reason); else say(group.slope.estimate);`,
  `const [group] = (await ask("sweep")).data.groups;
   REFUSED(group.kind === "refusal") say(group.refusal.reason); else say(group.movesMost);`,
  `const [group] = (await ask("risk-of-bias")).data.groups;
   REFUSED(group.kind === "refusal") say(group.refusal.reason); else say(group.weightPercent);`,
  `const [group] = (await ask("certainty")).data.groups;
   REFUSED(group.kind === "refusal") say(group.refusal.reason); else say(group.concerns);`,
  `const found = smallStudyRegression([]);
   REFUSED(found.kind === "refusal") say(found.reason); else say(found.slope.estimate);`,
  `const prepared = prepareProjection(set, { goal: "size", rows: [] });
   REFUSED(prepared.kind === "refusal") throw new Error(prepared.reason); else say(prepared.people);`,
  `const projected = projectProtocol(fit, session);
   REFUSED(projected.kind === "refusal") throw new Error(projected.reason); else say(projected.support);`,
  `const compared = compareProtocols(fit, [session, session]);
   REFUSED(compared.kind === "refusal") throw new Error(compared.reason); else say(compared.differences);`,
  `const { longestHoldSeconds: longest } = whatWouldFit(session, { keep: "to spare" });
   REFUSED(longest.kind !== "limit") say(longest.kind); else say(longest.value);`,
];

const head = `import { ask } from "holdbook/notebook";
import * as library from "holdbook";
import { smallStudyRegression, prepareProjection, projectProtocol, compareProtocols, whatWouldFit } from "holdbook";
declare const say: (what: unknown) => void;
declare const set: Parameters<typeof prepareProjection>[0];
declare const fit: Parameters<typeof projectProtocol>[0];
declare const session: Parameters<typeof projectProtocol>[1];
`;
const within = (lines: string): string => `{\n${lines}\n}`;
const cells = {
  "all.ts": `${head}export const answers = {\n${questionIds.map((id) => `"${id}": (await ask("${id}")).data`).join(",\n")} };\nexport { library };`,
  "checked.ts": `${head}${idioms.map((idiom) => within(idiom.replace("REFUSED", "if "))).join("\n")}\n${questionIds
    .map((id) =>
      within(
        `const a = await ask("${id}"); if (a.data.refusal) say(a.data.refusal.reason); else say(a.headline);`,
      ),
    )
    .join("\n")}\nexport {};`,
  // A condition that says nothing of the refusal: every idiom must then be an error.
  "unchecked.ts": `${head}${idioms.map((idiom) => within(idiom.replace(/REFUSED\((?:[^()]*)\)/, "if (say)"))).join("\n")}\nexport {};`,
};

/** As tslab's converter has them. */
const options: typescript.CompilerOptions = {
  module: ts.ModuleKind.ESNext,
  moduleResolution: ts.ModuleResolutionKind.Node10,
  esModuleInterop: true,
  target: ts.ScriptTarget.ES2022,
  lib: ["lib.es2022.d.ts"],
  types: ["node"],
  skipLibCheck: true,
  noEmit: true,
  strict: false,
};

let program: typescript.Program;
const pathOf = (name: string): string => join(projectRoot, "notebooks", name);
const sourceOf = (name: string): typescript.SourceFile => program.getSourceFile(pathOf(name))!;

beforeAll(() => {
  freshBuild();
  const host = ts.createCompilerHost(options);
  const texts = new Map(Object.entries(cells).map(([name, text]) => [pathOf(name), text]));
  const { fileExists, readFile, getSourceFile } = host;
  host.fileExists = (path) => texts.has(path) || fileExists(path);
  host.readFile = (path) => texts.get(path) ?? readFile(path);
  host.getSourceFile = (path, version, ...rest) => {
    const text = texts.get(path);
    return text === undefined
      ? getSourceFile(path, version, ...rest)
      : ts.createSourceFile(path, text, version);
  };
  program = ts.createProgram([...texts.keys()], options, host);
}, 120_000);

const errorsOf = (name: string): readonly string[] =>
  program
    .getSemanticDiagnostics(sourceOf(name))
    .map(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, "\n"));

test("the natural idiom compiles for every question and every result of the lessons", () => {
  expect(errorsOf("checked.ts")).toEqual([]);
});

test("without the question about the refusal each of them is an error", () => {
  const places = program
    .getSemanticDiagnostics(sourceOf("unchecked.ts"))
    .map(({ start = 0 }) => sourceOf("unchecked.ts").text.slice(0, start).split("\n{\n").length);
  expect([...new Set(places)]).toEqual(idioms.map((_, place) => place + 2));
});

test("every union that may hold a refusal is told apart by the text of its kind", () => {
  const checker = program.getTypeChecker();
  const source = sourceOf("all.ts");
  const typeOf = (symbol: typescript.Symbol): typescript.Type =>
    checker.getTypeOfSymbolAtLocation(symbol, source);
  const literalsOf = (type: typescript.Type): readonly (string | undefined)[] => {
    const kind = type.getProperty("kind");
    if (kind === undefined) return [undefined];
    const own = typeOf(kind);
    return (own.isUnion() ? own.types : [own]).map((one) =>
      one.isStringLiteral() ? one.value : undefined,
    );
  };
  const seen = new Set<typescript.Type>();
  const wrong: string[] = [];
  let unions = 0;
  const walk = (type: typescript.Type, place: string): void => {
    if (seen.has(type)) return;
    seen.add(type);
    if (type.isUnion()) {
      const objects = type.types.filter(
        (one) => one.getProperties().length > 0 && !one.isLiteral(),
      );
      const refused = objects.filter(
        (one) =>
          literalsOf(one).includes("refusal") ||
          (one.getProperty("refusal") !== undefined &&
            !objects.every((other) => other.getProperty("refusal") !== undefined)),
      );
      if (objects.length > 1 && refused.length > 0) {
        unions += 1;
        const apart = objects.every((one) => {
          const kinds = literalsOf(one);
          return (
            !kinds.includes(undefined) &&
            (refused.includes(one) ? kinds.join() === "refusal" : !kinds.includes("refusal"))
          );
        });
        if (!apart) wrong.push(place);
      }
      for (const one of type.types) walk(one, place);
    } else if (checker.isArrayType(type) || checker.isTupleType(type))
      for (const one of checker.getTypeArguments(type as typescript.TypeReference))
        walk(one, `${place}[]`);
    else if ((type.flags & (ts.TypeFlags.Object | ts.TypeFlags.Intersection)) !== 0) {
      for (const property of type.getProperties())
        walk(typeOf(property), `${place}.${property.name}`);
      for (const { type: entry } of checker.getIndexInfosOfType(type)) walk(entry, `${place}.*`);
    }
  };
  const exported = checker.getExportsOfModule(checker.getSymbolAtLocation(source)!);
  const named = (name: string) => exported.find((one) => one.name === name)!;
  for (const answer of typeOf(named("answers")).getProperties()) walk(typeOf(answer), answer.name);
  const library = typeOf(checker.getAliasedSymbol(named("library")));
  for (const one of library.getProperties())
    for (const signature of typeOf(one).getCallSignatures())
      walk(signature.getReturnType(), `${one.name}()`);
  expect(wrong).toEqual([]);
  expect(unions).toBeGreaterThan(15);
});
