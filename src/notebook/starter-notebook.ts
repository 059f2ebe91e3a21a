import type { EvidenceSource } from "../answers/evidence.js";
import { notebookText, type NotebookCell } from "../course/notebook-text.js";
import { demoNotice } from "../demo/demo-notice.js";

const text = (...lines: readonly string[]): NotebookCell => ({ kind: "markdown", lines });
const code = (...lines: readonly string[]): NotebookCell => ({ kind: "code", lines });

type Source = Pick<EvidenceSource, "name" | "invented"> &
  Readonly<{
    /** As it is called in the folder `data`; like its name where left out. */
    file?: string;
    /** The sheet to read, of a workbook. */
    sheets?: readonly string[];
  }>;

const cells = ({ name, invented, file = name, sheets = [] }: Source): readonly NotebookCell[] => [
  text(
    `# ${name.replace(/[\\`*_{}[\]()#+!|<>]/g, " ")}`,
    "",
    ...(invented ? [`**${demoNotice}**`, ""] : []),
    "Run the cells from the top. The numbers come from the library; change a cell and run it again to see what turns with it.",
    "",
    "These are averages over groups of volunteers in published trials. They are not medical advice and not a clearance for anyone.",
  ),
  code(
    'import { display } from "tslab";',
    'import { drawnFigures } from "holdbook";',
    'import { reportOn, methodsParagraph, citationSentence, readingList } from "holdbook";',
    'import { openFile, ask, showAnswer, showOn, showTable, showFigure, showSentences } from "holdbook/notebook";',
    "showOn(display);",
  ),
  text("## Can the file be used?", "", "Every row has a fate, and every problem its mend."),
  code(
    `const file = await openFile(${[`data/${file}`, ...(sheets.length === 0 ? [] : [[], sheets])].map((word) => JSON.stringify(word)).join(", ")});`,
    'await showAnswer(await ask("check"));',
  ),
  text(
    "## The answers",
    "",
    "Change and comparison are kept apart, and so are the families of outcomes.",
  ),
  code(
    'const pooled = await ask("pool");',
    "await showAnswer(pooled);",
    'const against = await ask("pool", { contrast: "against-control" });',
    "showSentences([against.headline, ...against.sentences]);",
  ),
  text("## The figures", "", "Of the first group; name another for its own."),
  code(
    "const [first] = pooled.data.groups;",
    'const closer = await ask("pool", { outcome: first.id });',
    "for (const figure of closer.figures.flatMap(drawnFigures)) await showFigure(figure);",
  ),
  text("## To hand on", "", "Add how the studies were found and chosen: no program can know that."),
  code(
    "const report = await reportOn(file);",
    "showSentences([...methodsParagraph(report).sentences, citationSentence(file.source)]);",
    "const { references, notes } = readingList(file.records.rows);",
    "console.log(`${references.length} works; holdbook references writes them as a list.`);",
    "showSentences(notes.map(({ message }) => `Wanting: ${message}.`));",
  ),
  text(
    "## Where to go on",
    "",
    "The notebooks that come with Holdbook go through effect sizes, pooling, dose-response, joint angle, endurance and protocols, with exercises.",
  ),
];

/**
 * A first notebook on a file, as the text of its `.ipynb`: check, answers, figures, methods.
 *
 * @param source name of a table in the folder `data` beside the notebook; invented data are called so first
 * @source none: an arrangement
 */
export const starterNotebook = (source: Source): string => notebookText(cells(source));
