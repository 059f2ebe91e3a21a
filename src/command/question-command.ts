/** Every question as a command: words to options, the answer to text, JSON or a folder. */
import { basename } from "node:path";
import { Option, type Command } from "commander";
import type { Answer } from "../answers/answer.js";
import { answeredWith } from "../answers/ask.js";
import { effectShape } from "../answers/effect-options.js";
import { defaultOf, isNeeded, kebab, resolvedOptions, wordsOf } from "../answers/option.js";
import type { Question } from "../answers/question.js";
import { questionList, type QuestionId } from "../answers/question-list.js";
import type { Evidence } from "../answers/evidence.js";
import { demoNotice } from "../demo/demo-notice.js";
import { readBytes } from "../host/read-bytes.js";
import { checkFolder, writeFolder, type Draft } from "../host/write-whole.js";
import { cautionsToMarkdown, cautionsToText } from "../tables/cautions-block.js";
import { wrapToWidth } from "../tables/display-width.js";
import { noteLines, tellsTheMethod } from "../tables/note-lines.js";
import { counted } from "../tables/number-format.js";
import { tableToCsv } from "../tables/table-to-csv.js";
import { tableToText } from "../tables/table-to-text.js";
import { helpingThreads } from "./helping-threads.js";
import { jsonText } from "./json-text.js";
import { listText } from "./note-text.js";
import { placeOptions, withOutput, withSize, type TypedPlace } from "./output-place.js";
import type { Terminal } from "./terminal.js";
import { withFiles, type TypedFiles } from "./typed-files.js";
import { textDrawing } from "./text-drawing.js";

type Typed = TypedPlace &
  TypedFiles &
  Readonly<{ all?: true; cautions?: true; json?: true; card?: string }> &
  Readonly<Record<string, unknown>>;

const helpOf = (help: string, standard: unknown): string =>
  standard === undefined ||
  standard === false ||
  (Array.isArray(standard) && standard.length === 0) ||
  (typeof standard === "object" && !Array.isArray(standard))
    ? help
    : `${help} (default: ${String(standard)})`;

/** Adds a question's options to its command. */
export const withOptions = (command: Command, options: Question["options"]): Command => {
  for (const [name, schema] of Object.entries(options)) {
    const { help, value, operand, repeats, seldom, formerly } = wordsOf(schema as never);
    if (operand === "before") continue;
    if (operand !== undefined) {
      const optional = defaultOf(schema as never) !== undefined;
      const word = operand === "many" ? `${name}...` : name;
      command.argument(optional || operand === "many" ? `[${word}]` : `<${word}>`, help);
      continue;
    }
    const long = `--${kebab(name)}`;
    const one = new Option(
      value === undefined ? long : `${long} ${value}`,
      helpOf(isNeeded(schema as never) ? `${help} (needed)` : help, defaultOf(schema as never)),
    );
    if (repeats === true)
      one.argParser((text: string, before: readonly string[] | undefined) => [
        ...(before ?? []),
        text,
      ]);
    if (seldom === true) one.helpGroup("Seldom wanted:");
    command.addOption(one);
    if (formerly !== undefined)
      command.addOption(new Option(one.flags.replace(long, `--${kebab(formerly)}`)).hideHelp());
  }
  return command;
};

/** What was typed of the options that every question of a file takes, read. */
export const sharedOptions = (
  typed: Readonly<Record<string, unknown>>,
): Readonly<Record<string, unknown>> => {
  const given = Object.fromEntries(
    Object.entries(typed).filter(([name]) => Object.hasOwn(effectShape, name)),
  );
  const read: Readonly<Record<string, unknown>> = resolvedOptions(effectShape, given);
  return Object.fromEntries(Object.keys(given).map((name) => [name, read[name]]));
};

/** What was typed, as a question takes it; small files that an option names are read. */
const givenOptions = async (
  { options }: Question,
  operands: readonly unknown[],
  typed: Typed,
): Promise<Readonly<Record<string, unknown>>> => {
  const given: Record<string, unknown> = {};
  const rest = [...operands];
  for (const [name, schema] of Object.entries(options)) {
    const { operand, namesFile, opensFile, formerly = name } = wordsOf(schema as never);
    const value = operand === undefined ? (typed[name] ?? typed[formerly]) : rest.shift();
    if (value === undefined) continue;
    given[name] =
      namesFile === true && typeof value === "string"
        ? new TextDecoder().decode(await readBytes(value))
        : opensFile === true
          ? await (await import("./read-input.js")).openOlder(String(value))
          : value;
  }
  return given;
};

/** Questions whose tables run over many screens: what fits on one is shown, the rest is asked for. */
const onOneScreen: readonly string[] = ["compare", "effects"];
const screenLines = 45;

/** Blocks as long as they fit on the screen that is left, those that matter most first; how many of each kind do not. */
const fitting = (
  blocks: readonly Readonly<{ kind: string; text: string; count: number }>[],
  room: number,
) => {
  let left = room;
  const leftOut = new Map<string, number>();
  const shown = blocks.flatMap(({ kind, text, count }) => {
    const lines = text.split("\n").length + 1;
    if (lines <= left) {
      left -= lines;
      return [text];
    }
    leftOut.set(kind, (leftOut.get(kind) ?? 0) + count);
    return [];
  });
  return { shown, leftOut };
};

/**
 * An answer as it stands in a terminal: the headline first, then stop signs and what this protocol triggers, the drawing,
 * the tables read at first sight, and every doubt once. What tells of the method, and folded tables, come with `all`.
 */
export const answerText = (
  answer: Answer,
  {
    width,
    all = false,
    cautions = all,
  }: Readonly<{ width: number; all?: boolean | undefined; cautions?: boolean | undefined }>,
): string => {
  const lines = (sentence: string): string => wrapToWidth(sentence, width).join("\n");
  const isLong = !all && onOneScreen.includes(answer.data.question.id);
  const shown = answer.tables
    .filter(({ place }) => place === undefined || (all && place === "folded"))
    .map((table) => (all ? table : { ...table, notes: isLong ? [] : table.notes.filter(isDoubt) }));
  const folded = answer.tables.filter(({ place }) => place === "folded").length;
  const method = answer.tables.some(
    ({ place, notes }) =>
      place === undefined && (isLong ? notes.length > 0 : !notes.every(isDoubt)),
  );
  const said = new Set(shown.flatMap(({ notes }) => notes));
  const doubts = noteLines(answer.notes).filter((line) => !said.has(line));
  const block = answer.cautions;
  const heed =
    block === null || (cautions && block.profile === undefined)
      ? []
      : [cautionsToText(block, { width, only: "triggered" }).trimEnd()];
  const sentences = answer.sentences.length === 0 ? [] : [answer.sentences.map(lines).join("\n")];
  const before = [
    ...(answer.data.file?.invented === true ? [lines(demoNotice)] : []),
    lines(answer.headline),
    // What applies to one person comes before how the number was come by.
    ...(block?.profile === undefined ? [...sentences, ...heed] : [...heed, ...sentences]),
  ].join("\n\n");
  const drawings = answer.figures
    .flatMap((figure) => textDrawing(figure, width))
    .map((text) => ({ kind: "drawing", text, count: 1 }));
  const tables = shown.map((table) => ({
    kind: "more table",
    text: tableToText(table, { width }).trimEnd(),
    count: 1,
  }));
  const doubtful =
    doubts.length === 0
      ? []
      : [
          {
            kind: "doubt",
            text: listText("Doubts and notes", doubts, width),
            count: doubts.length,
          },
        ];
  const { shown: fit, leftOut } = isLong
    ? fitting([...tables, ...doubtful, ...drawings], screenLines - before.split("\n").length)
    : {
        shown: [...drawings, ...tables, ...doubtful].map(({ text }) => text),
        leftOut: new Map<string, number>(),
      };
  leftOut.set("more table", (leftOut.get("more table") ?? 0) + folded);
  const more = [
    ...[...leftOut].flatMap(([kind, count]) => (count === 0 ? [] : [counted(count, kind)])),
    ...(method ? ["the method"] : []),
  ];
  return [
    before,
    ...fit,
    ...(all || more.length === 0
      ? []
      : [
          `--all shows ${more.length > 1 ? `${more.slice(0, -1).join(", ")} and ${more.at(-1)!}` : more[0]!}.`,
        ]),
    ...(block === null || !cautions ? [] : [cautionsToText(block, { width }).trimEnd()]),
  ].join("\n\n");
};

const isDoubt = (line: string): boolean => !tellsTheMethod(line);

/** Puts an answer into a directory in the making: tables, figures with their recipes, cautions. */
const putAnswer = async (
  draft: Draft,
  answer: Answer,
  terminal: Terminal,
  wanted: Pick<Typed, "size" | "all">,
): Promise<void> => {
  for (const table of answer.tables) await draft.put(`tables/${table.id}.csv`, tableToCsv(table));
  if (answer.figures.length > 0)
    await (await import("./figure-files.js")).putAnswerFigures(draft, answer, terminal, wanted);
  if (answer.cautions !== null) await draft.put("cautions.md", cautionsToMarkdown(answer.cautions));
  for (const { name, html } of answer.sheets) await draft.put(name, html);
};

/** What a folder holds of an answer, in a sentence. */
const writtenWords = ({ figures, sheets }: Answer, directory: string): string => {
  const what = [
    ...sheets.map(({ title }) => title),
    ...(figures.length === 0 ? [] : ["figures"]),
    "tables",
  ].join(", ");
  return `${what.charAt(0).toUpperCase()}${what.slice(1).replace(/, (?=[a-z]+$)/, " and ")} are in ${directory}.`;
};

/** Exit code of an answer: 0 answered, 1 the file needs mending, 2 it cannot be answered. */
const exitCodeOf = ({ data: { refusal } }: Answer): number =>
  refusal === null ? 0 : refusal.code === "file-needs-mending" ? 1 : 2;

/** Adds one question to the program as a command. */
export const questionCommand = (
  program: Command,
  id: QuestionId,
  asked: Question,
  terminal: Terminal,
  finish: (exitCode: number) => void,
): void => {
  const { asks, needs } = questionList[id];
  const command = program.command(id).description(asks);
  const before = Object.entries(asked.options).filter(
    ([, schema]) => wordsOf(schema as never).operand === "before",
  );
  for (const [name, schema] of before) command.argument(`<${name}>`, wordsOf(schema as never).help);
  if (needs === "file") withFiles(command.argument("<file>", "a table in the codebook's columns"));
  withOptions(command, asked.options)
    .option(
      "--all",
      "also the tables that are folded away, the method, every caution in full, and with -o a row for every effect",
    )
    .option("--cautions", "also every caution in full, where a protocol is named")
    .option("--card <file>", "also write the answer as a picture to share, for holdbook verify")
    .option("--json", "print one JSON object");
  withSize(withOutput(command, "also write figures and tables there")).action(
    async (...words: readonly unknown[]) => {
      const operands = words.slice(0, -2);
      const typed = words.at(-2) as Typed;
      const path = needs === "file" ? String(operands.splice(before.length, 1)[0]) : undefined;
      const { output } = typed;
      const place = output === undefined ? {} : placeOptions(id, path, output, typed);
      if (output !== undefined) await checkFolder(output, place);
      let evidence: Evidence | undefined;
      if (path !== undefined) {
        terminal.progress(`reading ${basename(path)}`);
        const { openTyped } = await import("./read-input.js");
        evidence = await openTyped(path, typed, terminal);
      }
      const given = await givenOptions(asked, operands, typed);
      const { progress } = terminal;
      const answer = await answeredWith(asked, evidence, given, progress, helpingThreads());
      finish(exitCodeOf(answer));
      if (output !== undefined)
        await writeFolder(output, (draft) => putAnswer(draft, answer, terminal, typed), place);
      if (typed.card !== undefined)
        await (await import("./figure-files.js")).writeCard(typed.card, answer, typed);
      terminal.out(
        typed.json === true
          ? jsonText(answer.data)
          : [
              answerText(answer, { ...typed, width: terminal.width }),
              ...(typed.card === undefined ? [] : [`The card is in ${typed.card}.`]),
              ...(output === undefined ? [] : [writtenWords(answer, output)]),
            ].join("\n\n"),
      );
    },
  );
};
