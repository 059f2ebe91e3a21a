import { readdir, realpath } from "node:fs/promises";
import { basename, relative, resolve, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { ask } from "../answers/ask.js";
import { CallError } from "../errors.js";
import { readBytes } from "../host/read-bytes.js";
import { writeWhole } from "../host/write-whole.js";
import { starterNotebook } from "../notebook/starter-notebook.js";
import { openInput } from "./read-input.js";
import { withSheet, type TypedFiles } from "./typed-files.js";
import type { CommandRegistration } from "./terminal.js";

const packageFolder = fileURLToPath(new URL("../..", import.meta.url));
const starterFile = fileURLToPath(new URL("../../data/published-outcomes.csv", import.meta.url));

/** The kernel that the project's own notebooks are run on. */
const kernelVersion = "1.0.22";

/** Jupyter fills in where the file lies, so the folder can be moved. */
const kernelFile = {
  argv: [
    "node",
    "{resource_dir}/../../../node_modules/tslab/bin/tslab",
    "kernel",
    "--config-path",
    "{connection_file}",
  ],
  display_name: "TypeScript",
  language: "typescript",
};

const installLines = ["pip install jupyterlab", "npm install"] as const;
const openLine = "JUPYTER_PATH=.jupyter jupyter lab notebook.ipynb";

/** A folder with something in it may hold a day's work: it is never written into. */
const refuseUsed = async (directory: string): Promise<void> => {
  const inside = await readdir(directory).catch(() => [] as string[]);
  if (inside.length > 0)
    throw new CallError({
      code: "folder-in-use",
      where: "holdbook notebook",
      needs: "a new folder, or an empty one",
      got: `${directory} with ${inside.slice(0, 3).join(", ")}${inside.length > 3 ? " and more" : ""}`,
      try: "name another folder",
    });
};

const readme = (file: string): string => `# A notebook on ${file}

Once, with Python and Node on the machine:

\`\`\`sh
${installLines.join("\n")}
\`\`\`

The first line installs Jupyter, the second the library and the TypeScript kernel into this folder. Then, each time:

\`\`\`sh
${openLine}
\`\`\`

Your data are in \`data/\`. To use a newer file, put it there and change its name in the notebook's second cell.
`;

/** `holdbook notebook DIR [FILE]`: a folder with a first notebook on a file, ready for Jupyter. */
export const notebookCommand: CommandRegistration = (program, terminal) => {
  withSheet(
    program
      .command("notebook")
      .description(
        "a folder with a starter notebook on your file, and how to install Jupyter for it",
      )
      .argument("<directory>", "a new folder")
      .argument("[file]", "your table; the starter file of published outcomes without one"),
  ).action(async (directory: string, path: string | undefined, typed: TypedFiles) => {
    await refuseUsed(directory);
    const bytes = await readBytes(path ?? starterFile);
    const file = basename(path ?? starterFile);
    const evidence = await openInput(path ?? starterFile, typed);
    const { data } = await ask("check", {}, evidence);
    const target = resolve(directory);
    const library = relative(target, await realpath(packageFolder))
      .split(sep)
      .join("/");
    await writeWhole(directory, [
      {
        name: "notebook.ipynb",
        content: starterNotebook({ ...evidence.source, file, sheets: typed.sheet ?? [] }),
      },
      { name: `data/${file}`, content: bytes },
      {
        name: ".jupyter/kernels/tslab/kernel.json",
        content: `${JSON.stringify(kernelFile, null, 2)}\n`,
      },
      {
        name: "package.json",
        content: `${JSON.stringify(
          {
            name: "holdbook-notebook",
            private: true,
            dependencies: { holdbook: `file:${library}`, tslab: kernelVersion },
          },
          null,
          2,
        )}\n`,
      },
      { name: "README.md", content: readme(file) },
    ]);
    terminal.out(
      [
        `${directory} has a notebook on ${file} (${data.counts}).`,
        `In that folder, once:`,
        ...installLines.map((line) => `  ${line}`),
        `and each time:`,
        `  ${openLine}`,
      ].join("\n"),
    );
    if (data.fates.every(({ fate }) => fate === "set aside"))
      terminal.err(
        `No row of ${file} can be used yet; holdbook check ${file} says how to mend it.`,
      );
  });
};
