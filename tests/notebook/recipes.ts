/** shared/recipes.md: its recipes run in order, and the page with what each says and draws today. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";
import { withoutType } from "../../src/host/figure-svg.js";
import * as library from "../../src/index.js";
import * as notebook from "../../src/notebook/notebook.js";
import { notebookFigure } from "../../src/notebook/show-figure.js";
import { testFolder } from "../command/test-folder.js";
import { projectRoot, readProject } from "../house/source-tree.js";

/** One recipe with what came of it. */
export type Recipe = Readonly<{
  number: number;
  title: string;
  code: string;
  said: readonly string[];
  pictures: readonly string[];
}>;

/** Text as a browser reads it. */
export const unescaped = (html: string): string =>
  html
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&#39;", "'")
    .replaceAll("&amp;", "&");

/** Lines of what a cell shows: a sentence a line, a row of a table a line. */
const linesOf = (html: string): readonly string[] =>
  html
    .replaceAll(/<\/t[dh]>\s*<t[dh]/g, " | <td")
    .split(/<\/(?:p|tr|caption|div)>/)
    .map((part) =>
      unescaped(part.replaceAll(/<[^>]*>/g, ""))
        .replaceAll(/\s+/g, " ")
        .trim(),
    )
    .filter((line) => line !== "");

const picturesIn = (html: string): readonly string[] =>
  [...html.matchAll(/data:image\/svg\+xml;base64,([A-Za-z0-9+/=]+)/g)].map(([, base64 = ""]) =>
    Buffer.from(base64, "base64").toString("utf8"),
  );

/** A saved drawing as notebooks show one: without the letters' own file, to a hundredth of a unit. */
const asShown = (svg: string): string =>
  picturesIn(
    notebookFigure({ description: "" } as Parameters<typeof notebookFigure>[0], withoutType(svg)),
  )[0] ?? "";

const asyncFunction = Object.getPrototypeOf(async () => undefined) as {
  constructor: new (...words: string[]) => (...values: unknown[]) => Promise<unknown>;
};

/** The page as it stands, taken apart. */
const pageParts = (): Readonly<{
  before: string;
  recipes: readonly Omit<Recipe, "said" | "pictures">[];
}> => {
  const [before = "", ...parts] = readProject("shared/recipes.md").split(/^(?=## \d+ )/m);
  return {
    before,
    recipes: parts.map((part) => {
      const [, number = "", title = ""] = /^## (\d+) (.*)$/m.exec(part) ?? [];
      const code = /```ts\n([^]*?)\n```/.exec(part)?.[1] ?? "";
      return { number: Number(number), title, code };
    }),
  };
};

/** Every recipe run, each from the opening lines of the page. */
export const runRecipes = async (): Promise<readonly Recipe[]> => {
  const { before, recipes } = pageParts();
  const opening = /```ts\n([^]*?)\n```/.exec(before)?.[1] ?? "";
  const done: Recipe[] = [];
  for (const recipe of recipes) {
    const said: string[] = [];
    const pictures: string[] = [];
    const display = {
      raw: (type: string, content: unknown) => {
        if (type !== "text/html") return;
        said.push(...linesOf(String(content)));
        pictures.push(...picturesIn(String(content)));
      },
    };
    const saved = (path: string) => join(testFolder, path);
    const scope: Readonly<Record<string, unknown>> = {
      ...library,
      ...notebook,
      display,
      openFile: (path: string) => notebook.openFile(join(projectRoot, path)),
      saveFigure: async (...[path, figure, options]: Parameters<typeof notebook.saveFigure>) => {
        await notebook.saveFigure(saved(path), figure, options);
        const drawn = saved(path.replace(/\w+$/, "svg"));
        await notebook.saveFigure(drawn, figure, options);
        pictures.push(asShown(readFileSync(drawn, "utf8")));
      },
      saveCard: async (...[path, answer]: Parameters<typeof notebook.saveCard>) => {
        await notebook.saveCard(saved(path), answer);
        pictures.push(
          asShown(readFileSync(saved(path), "utf8").replace(/<metadata[^]*?<\/metadata>/, "")),
        );
      },
    };
    const script = ts.transpile(`${opening}\n${recipe.code}`.replaceAll(/^import .*$/gm, ""), {
      target: ts.ScriptTarget.ES2022,
      module: ts.ModuleKind.ESNext,
    });
    const names = Object.keys(scope);
    try {
      await new asyncFunction.constructor(...names, `"use strict";\n${script}`)(
        ...names.map((name) => scope[name]),
      );
    } catch (error) {
      throw new Error(`recipe ${recipe.number}: ${String(error)}`, { cause: error });
    }
    done.push({ ...recipe, said, pictures });
  }
  return done;
};

export const pictureName = ({ number }: Pick<Recipe, "number">): string =>
  `recipe-${String(number).padStart(2, "0")}.svg`;

/** The page with what the recipes say and draw today. */
export const recipesPage = (done: readonly Recipe[]): string =>
  [
    pageParts().before.trimEnd(),
    ...done.flatMap((recipe) => [
      `## ${recipe.number} ${recipe.title}`,
      ["```ts", recipe.code, "```"].join("\n"),
      ...(recipe.said.length === 0 ? [] : [["```text", ...recipe.said, "```"].join("\n")]),
      ...(recipe.pictures.length === 0
        ? []
        : [`![${recipe.title}](pictures/${pictureName(recipe)})`]),
    ]),
  ].join("\n\n") + "\n";
