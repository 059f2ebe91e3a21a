/** A notebook run as one plain module of Node, without any kernel: its cells in order, what they show kept cell by cell. */
import { execFile } from "node:child_process";
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { promisify } from "node:util";
import { transform } from "esbuild";
import { projectRoot } from "../../house/source-tree.js";
import { linesOf, readNotebook, sourceOf, type Notebook, type Output } from "./notebook-file.js";

/** What stands in place of the kernel's display: it keeps what is shown, beside what is printed. */
const keeper = `
import { writeFileSync as $write } from "node:fs";
import { createRequire as $createRequire } from "node:module";
const $cells = [];
const $cell = () => $cells.push([]);
const display = { raw: (type, content) => $cells.at(-1).push({ type, content }) };
console.log = (...words) => $cells.at(-1).push({ text: words.join(" ") + "\\n" });
process.on("exit", () => $write(process.argv[2], JSON.stringify($cells)));
const require = $createRequire(import.meta.url);
`;

type Shown = Readonly<{ type?: string; content?: unknown; text?: string }>;

/** As the kernel's outputs are kept: printed lines joined, texts a line an entry. */
const outputsOf = (shown: readonly Shown[]): readonly Output[] => {
  const outputs: Output[] = [];
  for (const { type, content, text } of shown) {
    const before = outputs.at(-1);
    if (type !== undefined)
      outputs.push({
        output_type: "display_data",
        data: { [type]: typeof content === "string" ? linesOf(content) : content },
        metadata: {},
      });
    else if (before?.output_type === "stream")
      outputs[outputs.length - 1] = {
        ...before,
        text: [...(before["text"] as readonly string[]), ...linesOf(text ?? "")],
      };
    else outputs.push({ output_type: "stream", name: "stdout", text: linesOf(text ?? "") });
  }
  return outputs;
};

/**
 * The notebook with what its cells show when they run as a module in its folder.
 *
 * @throws {Error} where a cell fails
 */
export const runPlainly = async (path: string): Promise<Notebook> => {
  const notebook = readNotebook(readFileSync(path, "utf8"));
  const code = notebook.cells.filter(({ cell_type: type }) => type === "code").map(sourceOf);
  const cells = code.map((text) => `$cell();\n${text.replace(/^import .* from "tslab";$/m, "")}`);
  const { code: script } = await transform(cells.join("\n"), { loader: "ts", target: "node20" });
  const folder = join(projectRoot, "build/plain");
  mkdirSync(folder, { recursive: true });
  const [module, kept] = ["mjs", "json"].map((ending) =>
    join(folder, basename(path).replace(/ipynb$/, ending)),
  ) as [string, string];
  writeFileSync(module, `${keeper}${script}`);
  try {
    await promisify(execFile)(process.execPath, [module, kept], { cwd: dirname(path) });
    const shown = JSON.parse(readFileSync(kept, "utf8")) as readonly (readonly Shown[])[];
    let place = -1;
    return {
      ...notebook,
      cells: notebook.cells.map((cell) => {
        if (cell.cell_type !== "code") return cell;
        place += 1;
        return { ...cell, outputs: outputsOf(shown[place] ?? []) };
      }),
    };
  } finally {
    for (const file of [module, kept]) rmSync(file, { force: true });
  }
};
