import { readdir, realpath } from "node:fs/promises";
import { basename, join, relative, resolve, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { ask } from "../answers/ask.js";
import { CallError } from "../errors.js";
import { readBytes } from "../host/read-bytes.js";
import { writeFileWhole, writeWhole } from "../host/write-whole.js";
import { lessonPage, readLesson } from "../notebook/lesson-page.js";
import { starterNotebook } from "../notebook/starter-notebook.js";
import { teachersKey } from "../notebook/teachers-key.js";
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

/** How the lessons are opened, by the shell it is typed into. */
const lessonLines = [
  ["a Unix shell", "JUPYTER_PATH=.jupyter jupyter lab notebooks"],
  ["PowerShell", '$env:JUPYTER_PATH=".jupyter"; jupyter lab notebooks'],
  ["the Windows command line", "set JUPYTER_PATH=.jupyter&& jupyter lab notebooks"],
] as const;

/** The data frames of the lessons, with the two packages of it that are exchanged for kept ones. */
const frames = {
  dependencies: { danfojs: "1.2.0" },
  overrides: {
    xlsx: "npm:@e965/xlsx@0.20.3",
    "@tensorflow/tfjs": "npm:@tensorflow/tfjs-core@3.21.0",
  },
};

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

/** A key in the folder of the lessons is no key apart. */
const refuseKey = (
  directory: string,
  { lessons, key }: Readonly<{ lessons?: true; key?: string }>,
): void => {
  if (key === undefined) return;
  const inside = !relative(resolve(directory), resolve(key)).startsWith("..");
  if (lessons !== true || inside || !key.endsWith(".html"))
    throw new CallError({
      code: "options-apart",
      where: "--key",
      needs: "--lessons, and a name that ends in .html outside their folder",
      got: inside ? `${key}, where learners read` : key,
      try: `--lessons --key teachers-key.html`,
    });
};

/** The number that the name of a lesson begins with. */
const numberOf = (name: string): number => parseInt(basename(name), 10);

/** The way from a folder to this package, as a package file names it. */
const libraryFrom = async (directory: string): Promise<string> =>
  relative(resolve(directory), await realpath(packageFolder))
    .split(sep)
    .join("/");

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

const lessonsReadme = `# Lessons

Once, with Python and Node on the machine:

\`\`\`sh
${installLines.join("\n")}
\`\`\`

Then, each time, in this folder:

${lessonLines.map(([shell, line]) => `- in ${shell}: \`${line}\``).join("\n")}

To read them without running anything, open the pages in \`pages/\`: each shows what its cells print.

The lessons are numbered in reading order. Predict, run, explain: an exercise stands above the cell that answers it, and is checked there.

\`shared/recipes.md\` has twenty questions in six lines of code each, for a notebook in this folder; \`shared/api.md\` every name.
`;

/** Files that a kernel needs in the folder of a notebook. */
const kernelFiles = (library: string, more: object = {}, dependencies: object = {}) => [
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
        dependencies: { holdbook: `file:${library}`, tslab: kernelVersion, ...dependencies },
        ...more,
      },
      null,
      2,
    )}\n`,
  },
];

/** Files of a folder of the package, as they go into another. */
const shippedFiles = async (folder: string, ending: RegExp) =>
  Promise.all(
    (await readdir(join(packageFolder, folder)))
      .filter((name) => ending.test(name))
      .map(async (name) => ({
        name: `${folder}/${name}`,
        content: await readBytes(join(packageFolder, folder, name)),
      })),
  );

/** `holdbook notebook DIR [FILE]`: a folder with a first notebook on a file, ready for Jupyter. */
export const notebookCommand: CommandRegistration = (program, terminal) => {
  withSheet(
    program
      .command("notebook")
      .description(
        "a folder with a starter notebook on your file, or with lessons, recipes and every name (--lessons)",
      )
      .argument("<directory>", "a new folder")
      .argument("[file]", "your table; the starter file of published outcomes without one"),
  )
    .option(
      "--lessons",
      "the lessons that come with Holdbook, with their data, recipes and every name, instead of a notebook on a file",
    )
    .option(
      "--key <file>",
      "with --lessons: the teacher's key too, an .html of its own, outside the folder of the lessons",
    )
    .action(
      async (
        directory: string,
        path: string | undefined,
        typed: TypedFiles & Readonly<{ lessons?: true; key?: string }>,
      ) => {
        await refuseUsed(directory);
        refuseKey(directory, typed);
        if (typed.lessons === true) {
          if (path !== undefined)
            throw new CallError({
              code: "options-apart",
              where: "--lessons",
              needs: "a folder alone, as the lessons bring their own data",
              got: `the file ${path}`,
              try: `leave --lessons out for a notebook on ${path}`,
            });
          const lessons = (await shippedFiles("notebooks", /\.ipynb$/)).sort(
            (first, second) => numberOf(first.name) - numberOf(second.name),
          );
          const read = lessons.map(({ content }) => readLesson(Buffer.from(content).toString()));
          const { dependencies, overrides } = frames;
          await writeWhole(directory, [
            ...lessons,
            ...lessons.map(({ name }, place) => ({
              name: name.replace("notebooks/", "pages/").replace(/ipynb$/, "html"),
              content: lessonPage(read[place]!),
            })),
            ...(await shippedFiles("data", /\.csv$/)),
            ...(await shippedFiles("shared", /^(?:recipes|api)\.md$/)),
            ...(await shippedFiles("shared/pictures", /^recipe-/)),
            ...kernelFiles(await libraryFrom(directory), { overrides }, dependencies),
            { name: "README.md", content: lessonsReadme },
          ]);
          if (typed.key !== undefined) await writeFileWhole(typed.key, teachersKey(read));
          terminal.out(
            [
              `${directory} has ${lessons.length} lessons with their data, in reading order in ${directory}/notebooks, and as pages to read in ${directory}/pages.`,
              ...(typed.key === undefined ? [] : [`${typed.key} has the key.`]),
              `In that folder, once:`,
              ...installLines.map((line) => `  ${line}`),
              ...lessonLines.map(([shell, line]) => `and each time, in ${shell}:\n  ${line}`),
            ].join("\n"),
          );
          return;
        }
        const bytes = await readBytes(path ?? starterFile);
        const file = basename(path ?? starterFile);
        const evidence = await openInput(path ?? starterFile, typed);
        const { data } = await ask("check", {}, evidence);
        const library = await libraryFrom(directory);
        await writeWhole(directory, [
          {
            name: "notebook.ipynb",
            content: starterNotebook({ ...evidence.source, file, sheets: typed.sheet ?? [] }),
          },
          { name: `data/${file}`, content: bytes },
          ...kernelFiles(library),
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
      },
    );
};
