/** One cell of a notebook that is written for the first time. */
type StarterCell = Readonly<{ kind: "markdown" | "code"; lines: readonly string[] }>;

const text = (...lines: readonly string[]): StarterCell => ({ kind: "markdown", lines });
const code = (...lines: readonly string[]): StarterCell => ({ kind: "code", lines });

const cells = (file: string): readonly StarterCell[] => [
  text(
    `# ${file.replace(/[\\`*_{}[\]()#+!|<>]/g, " ")}`,
    "",
    "Run the cells from the top. The numbers come from the library; change a cell and run it again to see what turns with it.",
    "",
    "These are averages over groups of volunteers in published trials. They are not medical advice and not a clearance for anyone.",
  ),
  code(
    'import { display } from "tslab";',
    'import { readFileSync } from "fs";',
    'import { createHash } from "crypto";',
    'import { readTable, readRecords, fatesTable, issuesTable, analyse, answerSentence } from "holdbook";',
    'import { reportFigures, methodsParagraph, citationSentence, readingList } from "holdbook";',
    'import { showOn, showTable, showFigure, showSentences } from "holdbook/notebook";',
    "showOn(display);",
  ),
  text("## Can the file be used?", "", "Every row has a fate, and every problem its mend."),
  code(
    `const fileName = ${JSON.stringify(file)};`,
    "const bytes = readFileSync(`data/${fileName}`);",
    "const records = readRecords(readTable(bytes));",
    "showTable(fatesTable(records.fates));",
    "if (records.issues.length > 0) showTable(issuesTable(records.issues.slice(0, 20)));",
  ),
  text(
    "## The answers",
    "",
    "Change and comparison are kept apart, and so are the families of outcomes.",
  ),
  code(
    'const fingerprint = createHash("sha256").update(bytes).digest("hex");',
    "const source = { name: fileName, fingerprint: fingerprint, invented: false };",
    "const analysis = analyse(source, records);",
    "const sentenceOf = (answer: (typeof analysis.answers)[number]) =>",
    "  `${answer.label}: ${answerSentence(answer, analysis.confidence)}`;",
    "showSentences(analysis.answers.map(sentenceOf));",
  ),
  text("## The figures", "", "The first three; take another slice for others."),
  code(
    "const figures = reportFigures(analysis);",
    'console.log(figures.map(({ id }) => id).join("\\n"));',
    "for (const figure of figures.slice(0, 3)) await showFigure(figure);",
  ),
  text("## To hand on", "", "Add how the studies were found and chosen: no program can know that."),
  code(
    "showSentences([...methodsParagraph(analysis).sentences, citationSentence(source)]);",
    "const { references, notes } = readingList(records.rows);",
    "console.log(`${references.length} works; holdbook references writes them as a list.`);",
    "showSentences(notes.map(({ message }) => `Wanting: ${message}.`));",
  ),
  text(
    "## Where to go on",
    "",
    "The notebooks that come with Holdbook go through effect sizes, pooling, dose-response, joint angle, endurance and protocols, with exercises.",
  ),
];

const withBreaks = (lines: readonly string[]): readonly string[] =>
  lines.map((line, index) => (index < lines.length - 1 ? `${line}\n` : line));

/**
 * A first notebook on a file, as the text of its `.ipynb`: check, answers, figures, methods.
 *
 * @param file name of a table in the folder `data` beside the notebook
 * @source none: an arrangement
 */
export const starterNotebook = (file: string): string =>
  `${JSON.stringify(
    {
      cells: cells(file).map(({ kind, lines }, index) => ({
        cell_type: kind,
        ...(kind === "code" ? { execution_count: null } : {}),
        id: `cell-${index + 1}`,
        metadata: {},
        ...(kind === "code" ? { outputs: [] } : {}),
        source: withBreaks(lines),
      })),
      metadata: {
        kernelspec: { display_name: "TypeScript", language: "typescript", name: "tslab" },
        language_info: { file_extension: ".ts", mimetype: "text/typescript", name: "typescript" },
      },
      nbformat: 4,
      nbformat_minor: 5,
    },
    null,
    1,
  )}\n`;
