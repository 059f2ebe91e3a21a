import { existsSync } from "node:fs";
import { addedTold, appended, withAdded } from "../answers/added-rows.js";
import { writeTable, type WriteTableOptions } from "../csv/write-table.js";
import { CallError } from "../errors.js";
import { writeFileWhole } from "../host/write-whole.js";
import { typedInto, type Cells } from "../records/abstract-numbers.js";
import { fieldOf, type FieldName } from "../records/codebook.js";
import { choicesOf, columnReader } from "../records/column-reader.js";
import { entryFields, entryRows, type EntryPart, type TrialEntry } from "../records/trial-entry.js";
import { counted } from "../tables/number-format.js";
import { readInput } from "./read-input.js";
import type { CommandRegistration } from "./terminal.js";

/** Asks a person; undefined where they broke off. */
export type Asker = Readonly<{
  text: (
    question: string,
    hint: string,
    problemOf: (answer: string) => string | undefined,
  ) => Promise<string | undefined>;
  choose: (question: string, choices: readonly string[]) => Promise<string | undefined>;
  /** `standard` is what Enter alone says, no by default. */
  agree: (question: string, standard?: boolean) => Promise<boolean | undefined>;
}>;

/** Somebody broke off; nothing is written. */
const brokenOff = new Error("broken off");

const given = <Answer>(answer: Answer | undefined): Answer => {
  if (answer === undefined) throw brokenOff;
  return answer;
};

/** What the reader says of an answer: nothing of a good or a blank one. */
const problemOf =
  (name: FieldName) =>
  (answer: string): string | undefined => {
    const field = fieldOf(name);
    if (answer.trim() === "")
      return field.required === true ? "No row can do without it." : undefined;
    const read = columnReader(field, { point: true, comma: false });
    const reading = read(typedInto(name, answer)[name] ?? "");
    return reading.kind === "problem"
      ? `${reading.problem.message}; ${reading.problem.mend}`
      : undefined;
  };

const askPart = async (ask: Asker, part: EntryPart, of: string): Promise<Cells> => {
  let cells: Cells = {};
  for (const name of entryFields[part].first) {
    // A spread typed behind its mean is not asked for again.
    if ((cells[name] ?? "") !== "") continue;
    const field = fieldOf(name);
    const { title, unit = "", required, example } = field;
    const isSaid = unit === "" || title.toLowerCase().includes(unit);
    const question = `${of}${title}${isSaid ? "" : `, ${unit}`}`;
    const hint = `such as ${example}${required === true ? "" : "; Enter leaves it blank"}`;
    const choices = choicesOf(field);
    const answer =
      choices.length > 0
        ? await ask.choose(question, choices)
        : await ask.text(question, hint, problemOf(name));
    cells = { ...cells, ...typedInto(name, given(answer)) };
  }
  return cells;
};

/** A trial asked for field by field: what its arms share, each arm, each outcome with the numbers of each arm. */
export const askTrial = async (ask: Asker): Promise<TrialEntry> => {
  const trial = await askPart(ask, "trial", "");
  const arms: Cells[] = [];
  do arms.push(await askPart(ask, "arms", `Arm ${arms.length + 1}: `));
  while (given(await ask.agree("One more arm?")));
  const outcomes: Cells[] = [];
  const numbers: Cells[][] = arms.map(() => []);
  do {
    outcomes.push(await askPart(ask, "outcomes", ""));
    for (const [at, { arm = "" }] of arms.entries())
      numbers[at]!.push(await askPart(ask, "numbers", `${arm}: `));
  } while (given(await ask.agree("One more outcome?")));
  return { trial, arms, outcomes, numbers };
};

const notPrinted = "(not printed)";

/** Questions at a real terminal, by a kept library. */
const terminalAsker = async (): Promise<Asker> => {
  const { confirm, isCancel, select, text } = await import("@clack/prompts");
  const kept = <Answer>(answer: Answer): Exclude<Answer, symbol> | undefined =>
    isCancel(answer) ? undefined : (answer as Exclude<Answer, symbol>);
  return {
    text: async (message, placeholder, problem) =>
      kept(
        await text({
          ...{ message, placeholder },
          validate: (answer) => problem(answer ?? ""),
        }),
      ),
    choose: async (message, choices) => {
      const options = [notPrinted, ...choices].map((value) => ({ value, label: value }));
      const answer = kept(await select({ message, options }));
      return answer === notPrinted ? "" : answer;
    },
    agree: async (message, initialValue = false) => kept(await confirm({ message, initialValue })),
  };
};

/** `holdbook add FILE`: a trial asked for field by field, checked, and put below the rows of a file. */
export const addCommand: CommandRegistration = (program, terminal, finish) => {
  program
    .command("add")
    .description("a trial, asked for field by field with the reader's checks, into a file")
    .argument("<file>", "a CSV in the codebook's columns; a new one begins where there is none")
    .action(async (path: string) => {
      if (!process.stdin.isTTY || !process.stdout.isTTY)
        throw new CallError({
          code: "no-terminal",
          where: "holdbook add",
          needs: "a terminal to ask at",
          got: "none",
          try: "open holdbook page and go to Data, Add a trial; or fill in the table of holdbook template --example and look at it with holdbook check",
        });
      const file = existsSync(path) ? await readInput(path) : undefined;
      if (file?.table.sheet !== undefined)
        throw new CallError({
          code: "no-file",
          where: "holdbook add",
          needs: "a CSV to add to",
          got: "a workbook",
          try: `save the sheet as CSV; holdbook check ${path} reads both`,
        });
      const ask = await terminalAsker();
      try {
        const { header, rows } = entryRows(await askTrial(ask));
        if (rows.length === 0)
          return terminal.out("No number was given, so there is no row to add.");
        const files = file === undefined ? [] : [file];
        const told = addedTold(withAdded(files, { header, rows }, ""));
        for (const { column, message, mend } of told.problems)
          terminal.out(`${column}: ${message}; ${mend}.`);
        for (const spread of told.spreads) if (spread?.test === true) terminal.out(spread.sentence);
        const refused = told.fates.filter(({ fate }) => fate === "refused").length;
        const note = refused === 0 ? "" : ` (${refused} would be refused as they stand)`;
        const question = `Add ${counted(rows.length, "row")} to ${path}${note}?`;
        // One Enter too many must not throw away what was typed.
        if (!given(await ask.agree(question, true))) throw brokenOff;
        const whole = appended(file?.table ?? { header: [], rows: [] }, { header, rows });
        const delimiter = ([";", "\t", "|"] as const).find((one) => one === file?.table.delimiter);
        const form: WriteTableOptions = delimiter === undefined ? {} : { delimiter };
        await writeFileWhole(path, writeTable(whole.header, whole.rows, form), { replace: true });
        return terminal.out(
          `${counted(rows.length, "row")} added; holdbook check ${path} looks at them.`,
        );
      } catch (error) {
        if (error !== brokenOff) throw error;
        terminal.err("Broken off: nothing was written.");
        return finish(1);
      }
    });
};
