import { spawn } from "node:child_process";
import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { figureFonts, fontFaces } from "../host/figure-fonts.js";
import { readBytes } from "../host/read-bytes.js";
import { writeFileWhole } from "../host/write-whole.js";
import { toBase64 } from "../page/base64.js";
import type { PageData } from "../page/page-data.js";
import { pageHtml } from "../page/page-html.js";
import { isWorkbook } from "../workbook/read-any-table.js";
import { withOutput, type TypedPlace } from "./output-place.js";
import { readInputs } from "./read-input.js";
import type { CommandRegistration } from "./terminal.js";
import { withFiles, type TypedFiles } from "./typed-files.js";

const beside = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const textOf = async (path: string): Promise<string> =>
  new TextDecoder().decode(await readBytes(path));

/** The page as one HTML text, with a file inside where one is named. */
export const pageText = async (
  path: string | undefined,
  { with: others = [], sheet = [] }: TypedFiles = {},
): Promise<string> => {
  const paths = path === undefined ? [] : [path, ...others];
  // Refuses, before a page is written, what the page could not open.
  if (sheet.length > 0) await readInputs(paths, sheet);
  const wanted = [...sheet];
  const inside = [];
  for (const each of paths) {
    const bytes = await readBytes(each);
    const chosen = isWorkbook(bytes) ? wanted.shift() : undefined;
    inside.push({
      name: basename(each),
      base64: toBase64(bytes),
      ...(chosen === undefined ? {} : { sheet: chosen }),
    });
  }
  const [first, ...more] = inside;
  const [fonts, script, style, published, glossary] = await Promise.all([
    figureFonts(),
    textOf(beside("../page/program.js")),
    textOf(beside("../page/style.css")),
    textOf(beside("../../data/published-outcomes.csv")),
    textOf(beside("../../shared/glossary.json")),
  ]);
  const { terms } = JSON.parse(glossary) as { terms: PageData["glossary"] };
  return pageHtml({
    script,
    style,
    type: fontFaces(),
    data: {
      letters: fonts.letterWidths(),
      glossary: terms.map(({ term, meaning }) => ({ term, meaning })),
      shipped: [{ name: "published-outcomes.csv", label: "Published outcomes", text: published }],
      open:
        first === undefined ? null : { ...first, ...(more.length === 0 ? {} : { others: more }) },
    },
  });
};

/** Opens a file with whatever the system opens pages with; false where it has nothing. */
const openInBrowser = (path: string): Promise<boolean> => {
  const [command, ...words] =
    process.platform === "win32"
      ? ["cmd", "/c", "start", "", path]
      : process.platform === "darwin"
        ? ["open", path]
        : ["xdg-open", path];
  return new Promise((resolve) => {
    const child = spawn(command ?? "", words, { stdio: "ignore", detached: true });
    child.on("error", () => resolve(false));
    child.on("exit", (code) => resolve(code === 0));
    // A browser that starts in the foreground does not return; it is there, so that counts as opened.
    setTimeout(() => {
      child.unref();
      resolve(true);
    }, 3000).unref();
  });
};

/** Whether a text is a page that was written before. */
const isPage = (text: string): boolean =>
  text.slice(0, 2000).includes(`<meta name="generator" content="Holdbook`);

/** `holdbook page [FILE]`: the page for everyone, opened, or written where `-o` says. */
export const pageCommand: CommandRegistration = (program, terminal) => {
  const command = program
    .command("page")
    .description("open the page that works from disk, or write it with a file inside")
    .argument("[file]", "a table to open at once; it is kept inside the page");
  withOutput(withFiles(command), "write the page here and do not open it", "file").action(
    async (path: string | undefined, options: TypedPlace & TypedFiles) => {
      const html = await pageText(path, options);
      if (options.output !== undefined) {
        await writeFileWhole(options.output, html, {
          ...options,
          ours: isPage,
          reads: path === undefined ? [] : [path, ...(options.with ?? [])],
        });
        terminal.out(`The page is ${options.output}; open it in a browser.`);
        return;
      }
      const folder = await mkdtemp(join(tmpdir(), "holdbook-"));
      const file = join(folder, "holdbook.html");
      await writeFileWhole(file, html);
      const opened = await openInBrowser(file);
      terminal.out(
        opened ? `The page was opened: ${file}` : `Open this page in a browser: ${file}`,
      );
    },
  );
};
