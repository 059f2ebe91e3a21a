/**
 * The page of every name the library offers, made from its docstrings: TypeDoc reads the names and what stands above them,
 * the words of the types are those of the source.
 */
import { join, relative, sep } from "node:path";
import { Application, type CommentDisplayPart, Converter, LogLevel, OptionDefaults } from "typedoc";
import type { Comment, DeclarationReflection } from "typedoc";
import ts from "typescript";
import { effectShape } from "../../src/answers/effect-options.js";
import { defaultOf, isNeeded, wordsOf } from "../../src/answers/option.js";
import type { Question } from "../../src/answers/question.js";
import { questionIds, questionList } from "../../src/answers/question-list.js";
import { capital } from "../../src/tables/number-format.js";
import { projectRoot, readProject, roomOf } from "./source-tree.js";

/** What a student uses first, in the order of use. */
const usedFirst = [
  ["showOn", "openFile", "ask", "showAnswer", "rowsWhere", "withColumn", "printedGains"],
  [
    "showTable",
    "showFigure",
    "saveFigure",
    "saveCard",
    "showSpecification",
    "showCautions",
    "checkAnswer",
  ],
].flat();

export const modules = {
  "holdbook/notebook": "src/notebook/notebook.ts",
  holdbook: "src/index.ts",
};

/** One public name with what the page says of it. */
type Entry = Readonly<{
  name: string;
  module: string;
  room: string;
  node: ts.Declaration;
  comment: Comment | undefined;
  parameters: readonly Readonly<{ name: string; comment?: Comment }>[];
}>;

const oneLine = (text: string): string =>
  text
    .replaceAll(/\/\*[^]*?\*\/|\/\/.*$/gm, "")
    .replaceAll(/\s+/g, " ")
    .replaceAll(/, \}/g, " }")
    .trim();

const inline = (parts: readonly CommentDisplayPart[]): string =>
  parts.map(({ text }) => text).join("");

/** Text of a docstring for a page: formulas, which are indented, keep their lines. */
const prose = (text: string): string => {
  const blocks: string[] = [];
  for (const block of text.trimEnd().split(/\n{2,}/)) {
    const lines = block.split("\n");
    const isFormula = lines.every((line) => /^ {2,}\S/.test(line));
    blocks.push(isFormula ? ["```text", ...lines.map((l) => l.slice(2)), "```"].join("\n") : block);
  }
  return blocks.join("\n\n");
};

const words = (comment: Comment | undefined): string => inline(comment?.summary ?? []).trim();

/** A block of TypeScript. */
const code = (text: string): string => ["```ts", text, "```"].join("\n");

const functionOf = (node: ts.Declaration): ts.SignatureDeclaration | undefined => {
  if (ts.isFunctionDeclaration(node)) return node;
  const made = ts.isVariableDeclaration(node) ? node.initializer : undefined;
  return made !== undefined && (ts.isArrowFunction(made) || ts.isFunctionExpression(made))
    ? made
    : undefined;
};

/** Every public name, as TypeDoc finds it; what TypeDoc doubts, such as a parameter that is none, is thrown. */
const readEntries = async (): Promise<Readonly<{ entries: Entry[]; checker: ts.TypeChecker }>> => {
  const entryPoints = Object.values(modules).map((file) => join(projectRoot, file));
  const app = await Application.bootstrap({
    entryPoints,
    tsconfig: join(projectRoot, "tsconfig.json"),
    // The type checker has its own test; the words of types are taken from the source.
    skipErrorChecking: true,
    maxTypeConversionDepth: 0,
    disableSources: true,
    excludeExternals: true,
    readme: "none",
    blockTags: [...OptionDefaults.blockTags, "@source"],
    preservedTypeAnnotationTags: ["@throws"],
    validation: false,
  });
  const doubts: string[] = [];
  app.logger.log = (message, level) => {
    if (level >= LogLevel.Warn) doubts.push(message);
  };
  app.options.setCompilerOptions(entryPoints, app.options.getCompilerOptions(app.logger), []);
  const nodes = new Map<DeclarationReflection, ts.Declaration | undefined>();
  app.converter.on(Converter.EVENT_CREATE_DECLARATION, (context, reflection) => {
    nodes.set(reflection, context.getSymbolFromReflection(reflection)?.declarations?.[0]);
  });
  const points = app.getEntryPoints() ?? [];
  const project = app.converter.convert(points);
  if (doubts.length > 0) throw new Error(doubts.join("\n"));
  const entries = Object.entries(modules).flatMap(([module, file]) => {
    const order = readProject(file);
    const place = (name: string) => order.search(new RegExp(`\\b${name}\\b[,; ]`));
    const found = project.children?.find(({ name }) => file.endsWith(`${name}.ts`));
    return (found?.children ?? [])
      .toSorted((one, other) => place(one.name) - place(other.name))
      .map((each): Entry => {
        const node = nodes.get(each);
        if (node === undefined) throw new Error(`${each.name} has no declaration`);
        const [signature] = each.signatures ?? [];
        const path = relative(projectRoot, node.getSourceFile().fileName).split(sep).join("/");
        return {
          name: each.name,
          module,
          room: roomOf(path),
          node,
          comment: signature?.comment ?? each.comment,
          parameters: signature?.parameters ?? [],
        };
      });
  });
  return { entries, checker: points[0]!.program.getTypeChecker() };
};

/** Defaults of a named set of options, from the constant beside it that satisfies it. */
const defaultsOf = (type: ts.Node, checker: ts.TypeChecker): ReadonlyMap<string, string> => {
  const name = type.getText();
  const found = new Map<string, string>();
  const symbol = ts.isTypeReferenceNode(type) && checker.getSymbolAtLocation(type.typeName);
  const target =
    symbol && symbol.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(symbol) : symbol;
  const file = target ? target.declarations?.[0]?.getSourceFile() : undefined;
  file?.forEachChild((each) => {
    if (!ts.isVariableStatement(each)) return;
    for (const { initializer } of each.declarationList.declarations) {
      if (initializer === undefined || !ts.isSatisfiesExpression(initializer)) continue;
      if (!initializer.type.getText().includes(`<${name}>`)) continue;
      for (const property of checker.getTypeAtLocation(initializer.expression).getProperties()) {
        const value = checker.typeToString(checker.getTypeOfSymbol(property));
        if (value !== "undefined" && value.length < 60) found.set(property.name, value);
      }
    }
  });
  return found;
};

/** The fields of a plain object of this project, a line each: name, words, form, default. */
const fieldLines = (type: ts.TypeNode | undefined, checker: ts.TypeChecker): readonly string[] => {
  if (type === undefined) return [];
  const held = checker.getTypeFromTypeNode(type);
  const awaited = checker.getAwaitedType(held) ?? held;
  const whole = checker.isArrayType(awaited)
    ? checker.getTypeArguments(awaited as ts.TypeReference)[0]!
    : awaited;
  if (whole.isUnion() || whole.getCallSignatures().length > 0) return [];
  const defaults = defaultsOf(type, checker);
  return checker.getPropertiesOfType(whole).flatMap((property) => {
    const [declared] = property.declarations ?? [];
    if (declared === undefined || !ts.isPropertySignature(declared)) return [];
    if (!declared.getSourceFile().fileName.startsWith(join(projectRoot, "src"))) return [];
    const told = oneLine(ts.displayPartsToString(property.getDocumentationComment(checker)));
    const standard = defaults.get(property.name);
    const form = oneLine(declared.type?.getText() ?? "");
    return [
      [
        `\`${property.name}${declared.questionToken === undefined ? "" : "?"}\``,
        form.length > 110 ? "" : `: \`${form}\``,
        told === "" ? "" : ` – ${told}`,
        standard === undefined ? "" : ` Default: \`${standard}\`.`,
      ].join(""),
    ];
  });
};

const nameOfType = (type: ts.TypeNode): string =>
  /^(?:Promise<)?(?:readonly )?(\w+)/.exec(type.getText())?.[1] ?? "";

const signatureText = (entry: Entry, made: ts.SignatureDeclaration): string => {
  const generics = made.typeParameters?.map((each) => oneLine(each.getText())).join(", ");
  const taken = made.parameters.map((each, index) => {
    const name = entry.parameters[index]?.name.replace("__namedParameters", "options") ?? "";
    const given = each.initializer === undefined ? "" : ` = ${oneLine(each.initializer.getText())}`;
    const rest = each.dotDotDotToken === undefined ? "" : "...";
    const mark = each.questionToken === undefined ? "" : "?";
    return `${rest}${name}${mark}: ${oneLine(each.type?.getText() ?? "unknown")}${given}`;
  });
  const gives = made.type === undefined ? "" : `: ${oneLine(made.type.getText())}`;
  const head = `${entry.name}${generics === undefined ? "" : `<${generics}>`}`;
  const short = `${head}(${taken.join(", ")})${gives}`;
  return short.length <= 100
    ? short
    : `${head}(\n${taken.map((t) => `  ${t},\n`).join("")})${gives}`;
};

const valueText = ({ name, node }: Entry, checker: ts.TypeChecker): string => {
  if (ts.isTypeAliasDeclaration(node)) return node.getText().replace(/^export /, "");
  if (ts.isClassDeclaration(node)) return `class ${name} extends Error`;
  if (!ts.isVariableDeclaration(node)) return name;
  const { initializer, type } = node;
  if (type !== undefined) return `${name}: ${oneLine(type.getText())}`;
  const inner =
    initializer && ts.isSatisfiesExpression(initializer) ? initializer.expression : initializer;
  if (inner && ts.isAsExpression(inner))
    return ts.isObjectLiteralExpression(inner.expression)
      ? `${name} = ${inner.expression.getText()}`
      : `${name}: ${oneLine(inner.type.getText())}`;
  return `${name}: ${checker.typeToString(checker.getTypeAtLocation(node))}`;
};

const entryText = (
  entry: Entry,
  link: (name: string) => string | undefined,
  checker: ts.TypeChecker,
): string => {
  const { name, comment, node } = entry;
  const tags = comment?.blockTags ?? [];
  const tagged = (tag: string) =>
    tags.filter((each) => each.tag === tag).map(({ content }) => oneLine(inline(content)));
  const made = functionOf(node);
  const lines: string[] = [];
  const sub = (type: ts.TypeNode | undefined) =>
    type === undefined || link(nameOfType(type)) !== undefined
      ? []
      : fieldLines(type, checker).map((line) => `  - ${line}`);
  made?.parameters.forEach((each, index) => {
    const { name: called = "", comment: said } = entry.parameters[index] ?? {};
    const told = oneLine(words(said));
    const below = sub(each.type);
    if (told === "" && below.length === 0) return;
    const shown = called.replace("__namedParameters", "options");
    lines.push(`- \`${shown}\`${told === "" ? "" : ` – ${told}`}`, ...below);
  });
  const gives = made?.type;
  const given = sub(gives);
  if (given.length > 0 || tagged("@returns").length > 0) {
    const what = tagged("@returns")[0] ?? `\`${oneLine(gives?.getText() ?? "")}\``;
    lines.push(`- Gives ${what}${given.length > 0 ? ", with" : ""}`, ...given);
  }
  for (const { tag, content, typeAnnotation = "{CallError}" } of tags) {
    const told = oneLine(inline(content));
    if (tag === "@throws") lines.push(`- Refuses (\`${typeAnnotation.slice(1, -1)}\`) ${told}`);
    if (tag === "@source") lines.push(`- Source: ${told.replace(/^none: (.*)/, "none ($1)")}`);
  }
  const seen = new Set(made === undefined ? [] : signatureText(entry, made).match(/\b[A-Z]\w+/g));
  const links = [...seen].flatMap((each) => link(each) ?? []);
  if (links.length > 0) lines.push(`- See ${links.join(", ")}`);
  const examples = tags
    .filter(({ tag }) => tag === "@example")
    .map(({ content }) => inline(content));
  return [
    `### ${name}`,
    code(made === undefined ? valueText(entry, checker) : signatureText(entry, made)),
    prose(words(comment)),
    lines.join("\n"),
    ...examples,
  ]
    .filter((part) => part !== "")
    .join("\n\n");
};

/** The options of every question, as every door reads them. */
const questionLines = async (): Promise<readonly string[]> => {
  const lineOf = ([name, schema]: readonly [string, unknown]): string => {
    const { help, value, namesFile } = wordsOf(schema as never);
    const standard = defaultOf(schema as never);
    const shown = standard === undefined ? undefined : JSON.stringify(standard);
    return [
      `- \`${name}\`${value === undefined ? "" : ` ${value.replaceAll(/[<>]/g, "*")}`} – ${help}`,
      namesFile === true ? " (here: the text itself)" : "",
      isNeeded(schema as never) ? " (needed)" : "",
      shown === undefined || shown.length > 60 || /^(?:\[\]|\{\}|false|"")$/.test(shown)
        ? ""
        : ` (default: \`${shown}\`)`,
    ].join("");
  };
  const parts = await Promise.all(
    questionIds.map(async (id) => {
      const { options } = (await questionList[id].load()) as unknown as Question;
      const own = Object.entries(options).filter(([name]) => !Object.hasOwn(effectShape, name));
      return [`**\`ask("${id}")\`** – ${questionList[id].asks}.`, own.map(lineOf).join("\n")];
    }),
  );
  return [
    ...parts.flat().filter((part) => part !== ""),
    "**What every question of a file takes**",
    Object.entries(effectShape).map(lineOf).join("\n"),
  ];
};

/** The page, in Markdown; the same bytes until a docstring, a signature or an option moves. */
export const apiPage = async (): Promise<string> => {
  const { entries, checker } = await readEntries();
  const headings = new Map<string, number>();
  const anchorOf = (heading: string): string => {
    const plain = heading
      .toLowerCase()
      .replaceAll(/[^\w\- ]/g, "")
      .replaceAll(" ", "-");
    const times = headings.get(plain) ?? 0;
    headings.set(plain, times + 1);
    return times === 0 ? plain : `${plain}-${times}`;
  };
  for (const heading of ["Names of the library", "Used first", "Every name", "Questions"])
    anchorOf(heading);
  const jobs = new Map(
    [...readProject("DEVELOPERS.md").matchAll(/^\| `(\w+)` \| ([^|]+) \|/gm)].map(
      ([, room = "", job = ""]) => [room, job.trim()],
    ),
  );
  const rooms = [...new Set(entries.map(({ room }) => room))].map((room) => ({
    room,
    title: room === "" ? "errors" : room,
    inside: entries.filter((each) => each.room === room),
  }));
  const anchors = new Map<Entry, string>();
  for (const { title, inside } of rooms) {
    anchorOf(`Room ${title}`);
    for (const entry of inside) anchors.set(entry, anchorOf(entry.name));
  }
  const link = (name: string): string | undefined => {
    const entry = entries.find((each) => each.name === name);
    return entry && `[\`${name}\`](#${anchors.get(entry)})`;
  };
  const firstWords = ({ comment }: Entry): string =>
    capital(
      oneLine(words(comment))
        .replace(/^Nothing; /, "")
        .split(/(?<=[.;:])\s/)[0]!
        .replace(/[;:]$/, "."),
    );
  return `${[
    "# Names of the library",
    "Made from the docstrings by `npm run api`; a test fails where it is older than they are. Units stand in the names: `holdSeconds`, `intensityPercent`.",
    code(
      'import { openFile, ask, showAnswer } from "holdbook/notebook"; // notebooks\nimport { poolEffects, parsePrescription } from "holdbook"; // everything below the first room',
    ),
    "## Used first",
    usedFirst
      .map((name) => entries.find((each) => each.name === name)!)
      .map((entry) => `- ${link(entry.name)} – ${firstWords(entry)}`)
      .join("\n"),
    "Twenty recipes of at most six lines, with their pictures: [recipes.md](recipes.md).",
    "## Every name",
    rooms
      .map(
        ({ title, inside }) =>
          `- **${title}**: ${inside.map((each) => `[\`${each.name}\`](#${anchors.get(each)})`).join(", ")}`,
      )
      .join("\n"),
    "## Questions",
    "The first word of `ask`, and its options. Names and values are read in any spelling: `holdSeconds`, `hold-seconds`, `hold seconds`. All but `hold` and `ramp` are asked of a file, and take what stands at the end of this list too.",
    ...(await questionLines()),
    ...rooms.flatMap(({ room, title, inside }) => [
      `## Room ${title}`,
      room === ""
        ? "The kinds of failure, and the one kind of doubt."
        : `${capital(jobs.get(room) ?? "")}.`,
      ...inside.map((entry) => entryText(entry, link, checker)),
    ]),
  ].join("\n\n")}\n`;
};
