import { createHash } from "node:crypto";
import { basename } from "node:path";
import type { Answer } from "../answers/answer.js";
import { ask as askOf } from "../answers/ask.js";
import type { Evidence } from "../answers/evidence.js";
import { openFiles, type ReadFile } from "../answers/several-files.js";
import type { AnswerTo, OptionsFor } from "../answers/question.js";
import type { QuestionId, QuestionOf } from "../answers/question-list.js";
import { demoNotice } from "../demo/demo-notice.js";
import { drawnFigures } from "../figures/figure-list.js";
import { readBytes } from "../host/read-bytes.js";
import { cautionsToHtml } from "../tables/cautions-block.js";
import { noteLines } from "../tables/note-lines.js";
import { isWorkbook, readAnyTable, tableName } from "../workbook/read-any-table.js";
import { showFigure } from "./show-figure.js";
import { show } from "./show-on.js";
import { showSentences } from "./show-sentences.js";
import { showTable } from "./show-table.js";

let open: Evidence | undefined;

/** The file opened last. */
export const openedFile = (): Evidence | undefined => open;

/**
 * A file opened for questions; those that follow are asked of it.
 *
 * @param path of a table in the codebook's columns, or of ready effects
 * @param others files that are one with it, such as rows read once
 * @param sheets of workbooks (.xlsx), in their order; the first sheet of each without
 * @throws {DataError} where the file cannot be read
 * @source none: a reading
 */
export const openFile = async (
  path: string,
  others: readonly string[] = [],
  sheets: readonly string[] = [],
): Promise<Evidence> => {
  const sha256 = (bytes: string | Uint8Array) => createHash("sha256").update(bytes).digest("hex");
  const files: ReadFile[] = [];
  const wanted = [...sheets];
  for (const each of [path, ...others]) {
    const bytes = await readBytes(each);
    const table = await readAnyTable(bytes, {
      sheet: isWorkbook(bytes) ? wanted.shift() : undefined,
    });
    files.push({ name: tableName(basename(each), table), fingerprint: sha256(bytes), table });
  }
  open = openFiles(files, sha256(files.map(({ fingerprint }) => fingerprint).join("\n")));
  return open;
};

/**
 * The answer to a question, as every other door gives it.
 *
 * @param id      e.g. "pool", "dose", "hold"
 * @param options those left out have their defaults; names and values in any spelling
 * @param file    the file asked about; the one opened last where it is left out
 * @throws {CallError} naming the option that cannot be read, or the file that is missing
 * @source none: it asks the room that answers
 */
export const ask = <Id extends QuestionId>(
  id: Id,
  options: OptionsFor<QuestionOf<Id>> | Readonly<Record<string, unknown>> = {},
  file: Evidence | undefined = open,
): Promise<AnswerTo<QuestionOf<Id>>> => askOf(id, options, file);

/**
 * Nothing; shows an answer below the cell: headline, sentences, figures, tables, doubts, cautions.
 *
 * @param answer  from `ask`
 * @param options `all`: also the tables that other doors fold away
 * @source none: a layout
 */
export const showAnswer = async (
  answer: Answer,
  options: Readonly<{ all?: boolean }> = {},
): Promise<void> => {
  const { headline, sentences, figures, tables, notes, cautions, data } = answer;
  showSentences([
    ...(data.file?.invented === true ? [demoNotice] : []),
    headline,
    ...[cautions?.profile?.outsideAges ?? []].flat(),
    ...sentences,
  ]);
  for (const figure of figures.flatMap(drawnFigures)) await showFigure(figure);
  for (const table of tables)
    if (table.place === undefined || (options.all === true && table.place === "folded"))
      showTable(table);
  showSentences(noteLines(notes).map((line) => `Note: ${line}`));
  if (cautions !== null) show("text/html", cautionsToHtml(cautions));
};
