import { Option } from "commander";
import type { EqualTensionOptions } from "../dose/equal-tension.js";
import { variableTable } from "../dose/variable-table.js";
import { effectsFromRows } from "../effects/effects-from-rows.js";
import type { EffectSet } from "../effects/effect.js";
import { logRatioFromPercent } from "../effects/percent-from-log-ratio.js";
import { CallError } from "../errors.js";
import type { Figure } from "../figures/figure.js";
import { writeWhole } from "../host/write-whole.js";
import { readRecords } from "../records/read-records.js";
import {
  jointAngleAnswers,
  shownEqualTension,
  shownJointAngle,
  shownTimeCourse,
  timeCourseAnswers,
} from "../report/special-questions.js";
import { wrapToWidth } from "../tables/display-width.js";
import { scaleDisplay } from "../tables/scale-display.js";
import { tableToCsv } from "../tables/table-to-csv.js";
import { tableToText } from "../tables/table-to-text.js";
import type { Table } from "../tables/table.js";
import {
  variablesDataTable,
  variablesRules,
  variablesSentences,
  variablesTable,
} from "../tables/variables-table.js";
import {
  chosenRows,
  effectsOptionsOf,
  numberOption,
  withAnalysisOptions,
  type AnalysisCommandOptions,
} from "./analysis-options.js";
import type { CommandRegistration } from "./commands.js";
import { figureFiles } from "./figure-files.js";
import { jsonText } from "./json-text.js";
import { readInput } from "./read-input.js";
import { refusedRowsLine, requireRows } from "./refused-rows.js";

const questions = ["all-variables", "equal-tension", "joint-angle", "time"] as const;

type Options = AnalysisCommandOptions &
  Readonly<{
    question: (typeof questions)[number];
    amount?: number;
    equal: "tension-time" | "torque-time";
    tolerance: number;
    confidence: number;
    json?: true;
    output?: string;
  }>;

/** What is printed and written for one question. */
type Shown = Readonly<{
  json: object;
  /** Paragraphs before and after the tables. */
  before: readonly string[];
  after: readonly string[];
  tables: readonly Table[];
  /** Tables that are written and not printed. */
  dataTables: readonly Table[];
  figures: readonly Figure[];
}>;

/** Lines at least this wide hold every column of the table of variables apart. */
const wideLine = 130;

const amountOn = ({ scale }: EffectSet, amount: number): number => {
  if (!(amount > 0))
    throw new CallError({
      code: "bad-amount",
      where: "--amount",
      needs: "an amount above 0",
      got: String(amount),
    });
  return scaleDisplay(scale).shownAsPercent ? logRatioFromPercent(amount) : amount;
};

const allVariables = (set: EffectSet, options: Options, width: number): Shown => {
  const { amount, confidence } = options;
  const families = [
    ...new Set(set.effects.map(({ row }) => row.outcomeFamily ?? "family not coded")),
  ];
  const table = variableTable(set, {
    confidence,
    ...(amount === undefined
      ? {}
      : { amounts: Object.fromEntries(families.map((family) => [family, amountOn(set, amount)])) }),
  });
  const told = table.families.filter((family) =>
    table.rows.some((row) => row.family === family && row.verdict.verdict !== "not studied"),
  );
  return {
    json: table,
    before: [],
    after: [
      ["Rules of the verdicts", ...variablesRules(table).map((rule) => `* ${rule}`)].join("\n"),
      variablesSentences(table).join("\n"),
      "Three more questions can be asked of the same file: --question equal-tension, --question joint-angle and --question time.",
    ],
    tables: told.map((family) =>
      variablesTable(table, family, { columns: width < wideLine ? "folded" : "apart" }),
    ),
    dataTables: [variablesDataTable(table)],
    figures: [],
  };
};

const tensionOptions = ({ equal, tolerance, confidence }: Options): EqualTensionOptions => ({
  quantity: equal === "tension-time" ? "tension time" : "torque–time",
  tolerance: tolerance / 100,
  confidence,
});

const answered = (set: EffectSet, options: Options, width: number): Shown => {
  const { confidence } = options;
  switch (options.question) {
    case "all-variables":
      return allVariables(set, options, width);
    case "equal-tension": {
      const { result, tables, figures } = shownEqualTension(set, tensionOptions(options));
      const [averages] = tables;
      return {
        json: result,
        before: [],
        after: [],
        tables: [averages!],
        dataTables: tables.slice(1),
        figures,
      };
    }
    case "joint-angle": {
      const answers = jointAngleAnswers(set, confidence);
      const { sentences, ...shown } = shownJointAngle(answers, set);
      return { json: { answers }, before: sentences, after: [], dataTables: [], ...shown };
    }
    case "time": {
      const answers = timeCourseAnswers(set, confidence);
      const { sentences, ...shown } = shownTimeCourse(answers, set);
      return { json: { answers }, before: sentences, after: [], dataTables: [], ...shown };
    }
  }
};

const wrapped = (text: string, width: number): string =>
  text
    .split("\n")
    .flatMap((line) => {
      const [first = "", ...rest] = wrapToWidth(line, width - 2);
      return [first, ...rest.map((more) => `  ${more}`)];
    })
    .join("\n");

/** `holdbook variables FILE`: which protocol variables matter, and three questions of their own. */
export const variablesCommand: CommandRegistration = (program, terminal) => {
  withAnalysisOptions(
    program
      .command("variables")
      .description(
        "which protocol variables matter, with a verdict for each; also equal tension, joint angle, time",
      )
      .argument("<file>", "a table in the codebook's columns"),
  )
    .addOption(
      new Option(
        "--question <question>",
        "all variables in one table; the same tension given in longer holds or at harder effort; carry-over to other joint angles; the course over weeks",
      )
        .choices(questions)
        .default("all-variables"),
    )
    .option(
      "--amount <number>",
      "difference for one step that counts in a verdict: percent, or the scale's unit (each outcome family has its own)",
      numberOption("--amount"),
    )
    .addOption(
      new Option("--equal <quantity>", "what has to be equal for equal-tension")
        .choices(["tension-time", "torque-time"])
        .default("tension-time"),
    )
    .option(
      "--tolerance <percent>",
      "by how much the equal totals may differ, for equal-tension",
      numberOption("--tolerance"),
      10,
    )
    .option("--confidence <share>", "coverage of the intervals", numberOption("--confidence"), 0.95)
    .option("--json", "print one JSON object")
    .option("-o, --output <directory>", "also write figures and tables there")
    .action(async (path: string, options: Options) => {
      const file = await readInput(path);
      const records = readRecords(file.table);
      requireRows(records);
      const set = effectsFromRows(
        chosenRows(records.rows, options.where),
        effectsOptionsOf(options),
      );
      terminal.progress(`asking ${set.effects.length} effects`);
      const { width } = terminal;
      const shown = answered(set, options, width);
      if (options.output !== undefined)
        await writeWhole(options.output, [
          ...[...shown.tables, ...shown.dataTables].map((table) => ({
            name: `tables/${table.id}.csv`,
            content: tableToCsv(table),
          })),
          ...(await figureFiles(shown.figures, terminal)),
        ]);
      if (options.json === true) {
        terminal.out(jsonText({ file: file.name, fingerprint: file.fingerprint, ...shown.json }));
        return;
      }
      terminal.out(
        [
          ...refusedRowsLine(records),
          ...shown.before.map((text) => wrapped(text, width)),
          ...shown.tables.map((table) => tableToText(table, { width }).trimEnd()),
          ...shown.after.map((text) => wrapped(text, width)),
          ...(options.output === undefined ? [] : [`Figures and tables are in ${options.output}.`]),
        ].join("\n\n"),
      );
    });
};
