import { Option } from "commander";
import type { CurveUse } from "../dose/curve-design.js";
import type { DoseAxisName } from "../dose/dose-axes.js";
import {
  doseResponse,
  gainAt,
  type DoseResponse,
  type DoseResponseOptions,
  type GainAt,
} from "../dose/dose-response.js";
import { severalDoses } from "../dose/several-doses.js";
import type { ShapeName } from "../dose/shapes/shape.js";
import { CallError } from "../errors.js";
import { collinearityFigure } from "../figures/collinearity-figure.js";
import { doseCurveFigure } from "../figures/dose-curve-figure.js";
import type { Figure } from "../figures/figure.js";
import { writeWhole } from "../host/write-whole.js";
import { wrapToWidth } from "../tables/display-width.js";
import {
  doseAnswer,
  doseReadOffsTable,
  doseShapesTable,
  doseSlopesTable,
} from "../tables/dose-table.js";
import { doseCurveText } from "../tables/dose-curve-text.js";
import { formatCount } from "../tables/number-format.js";
import { collinearityTable, severalDosesTable } from "../tables/several-doses-table.js";
import { tableToCsv } from "../tables/table-to-csv.js";
import { tableToText } from "../tables/table-to-text.js";
import type { Table } from "../tables/table.js";
import {
  confidenceOption,
  numberOption,
  withAnalysisOptions,
  type AnalysisCommandOptions,
} from "./analysis-options.js";
import type { CommandRegistration } from "./commands.js";
import { doseInput, type DoseInput } from "./dose-input.js";
import { axesOption, interactionsOption, numbersOption, shapesOption } from "./dose-words.js";
import { figureFiles } from "./figure-files.js";
import { jsonText } from "./json-text.js";
import { noteText } from "./note-text.js";
import type { Terminal } from "./terminal.js";

type Options = AnalysisCommandOptions &
  Readonly<{
    on: readonly DoseAxisName[];
    outcome?: string;
    shapes?: readonly ShapeName[];
    knots?: readonly number[];
    form: "one-stage" | "two-stage";
    comparisons: keyof typeof comparisonWords;
    at?: readonly number[];
    step?: number;
    interactions?: readonly (readonly [DoseAxisName, DoseAxisName])[];
    confidence: number;
    json?: true;
    output?: string;
  }>;

const comparisonWords = {
  "best-identified": "best identified",
  within: "within studies",
  between: "between studies only",
  both: "within and between together",
} as const satisfies Record<string, CurveUse | "best identified">;

const curveOptions = (options: Options): DoseResponseOptions => ({
  form: options.form,
  comparisons: comparisonWords[options.comparisons],
  confidence: options.confidence,
  ...(options.shapes === undefined ? {} : { shapes: options.shapes }),
  ...(options.knots === undefined ? {} : { knots: options.knots }),
  ...(options.step === undefined ? {} : { step: options.step }),
});

/** What is shown of an answer, whichever kind it is. */
type Shown = Readonly<{
  json: object;
  /** Paragraphs before the tables. */
  text: readonly string[];
  tables: readonly Table[];
  notes: readonly string[];
  figures: readonly Figure[];
  answered: boolean;
}>;

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

const heading = ({ family }: DoseInput, answer: DoseResponse): string =>
  `${capital(family)} against ${answer.axis.label}: ${formatCount(answer.effects)} effects, ${formatCount(answer.studies)} studies, ${formatCount(answer.people)} people`;

const oneDose = (input: DoseInput, axis: DoseAxisName, options: Options, width: number): Shown => {
  const answer = doseResponse(input.set, axis, curveOptions(options));
  const at: readonly GainAt[] =
    answer.kind === "told" ? (options.at ?? []).map((dose) => gainAt(answer, dose)) : [];
  const notes = [
    ...answer.notes.map(({ message }) => message),
    ...(answer.kind === "told"
      ? [answer.evidenceWords, ...answer.story.assumptions, answer.story.intervalMethod]
      : []),
  ];
  return {
    json: { answer: { ...answer, ...(at.length > 0 ? { at } : {}) } },
    text: [
      heading(input, answer),
      doseAnswer(answer),
      ...(answer.kind === "told" ? [doseCurveText(answer, { width })] : []),
    ],
    tables: [
      doseSlopesTable(answer),
      ...(answer.kind === "told" ? [doseReadOffsTable(answer, at), doseShapesTable(answer)] : []),
    ],
    notes: [...new Set(notes)],
    figures: answer.kind === "told" ? [doseCurveFigure({ family: input.family, answer })] : [],
    answered: answer.kind === "told",
  };
};

const manyDoses = (input: DoseInput, options: Options): Shown => {
  const answer = severalDoses(input.set, options.on, {
    confidence: options.confidence,
    ...(options.interactions === undefined ? {} : { interactions: options.interactions }),
  });
  const words = answer.axes.map(({ label }) => label);
  return {
    json: { answer },
    text: [
      `${capital(input.family)} against ${words.join(", ")} together: ${formatCount(answer.effects)} effects, ${formatCount(answer.studies)} studies`,
    ],
    tables: [severalDosesTable(answer, input.set.scale), collinearityTable(answer.pairs)],
    notes: answer.notes.map(({ message }) => message),
    figures: [collinearityFigure({ family: input.family, pairs: answer.pairs })],
    answered: answer.terms.some(({ within }) => within.kind === "told"),
  };
};

/** Options of one curve have no meaning for several doses, and the other way round. */
const checkTogether = (options: Options): void => {
  const several = options.on.length > 1;
  const misplaced = several
    ? (["at", "shapes", "knots", "step"] as const).find((name) => options[name] !== undefined)
    : options.interactions === undefined
      ? undefined
      : "interactions";
  if (misplaced === undefined) return;
  throw new CallError({
    code: "options-apart",
    where: `--${misplaced}`,
    needs: several ? "one dose in --on" : "both doses of a product in --on, separated by a comma",
    got: options.on.join(", "),
  });
};

const write = async (directory: string, shown: Shown, terminal: Terminal): Promise<void> =>
  writeWhole(directory, [
    ...shown.tables.map((table) => ({
      name: `tables/${table.id}.csv`,
      content: tableToCsv(table),
    })),
    ...(await figureFiles(shown.figures, terminal)),
  ]);

/** `holdbook dose FILE --on hold-seconds`: how the gain follows a dose, or several at once. */
export const doseCommand: CommandRegistration = (program, terminal, finish) => {
  withAnalysisOptions(
    program
      .command("dose")
      .description("how the gain follows a dose: within studies, between them, and its shape")
      .argument("<file>", "a table in the codebook's columns"),
  )
    .requiredOption(
      "--on <doses>",
      "a dose such as hold-seconds, intensity-percent or weeks; several, with commas, are looked at together",
      axesOption,
    )
    .option("--outcome <name>", "outcome family or outcome, e.g. strength, size, tendon")
    .option("--shapes <shapes>", "shapes compared, e.g. straight-line,peak, or all", shapesOption)
    .option("--knots <doses>", "knots of the spline, e.g. 5,15,40", numbersOption("--knots"))
    .addOption(
      new Option("--form <form>", "one model for all studies, or a curve in each and their average")
        .choices(["one-stage", "two-stage"])
        .default("one-stage"),
    )
    .addOption(
      new Option("--comparisons <kind>", "which comparisons the curve is made of")
        .choices(Object.keys(comparisonWords))
        .default("best-identified"),
    )
    .option("--at <doses>", "also the gain at these doses, e.g. 5,20", numbersOption("--at"))
    .option("--step <dose>", "length of the steps read off the curve", numberOption("--step"))
    .option(
      "--interactions <pairs>",
      "products of doses in --on, e.g. intensity by hold",
      interactionsOption,
    )
    .option("--confidence <share>", "coverage of the intervals", confidenceOption, 0.95)
    .option("--json", "print one JSON object")
    .option("-o, --output <directory>", "also write figures and tables there")
    .action(async (path: string, options: Options) => {
      checkTogether(options);
      const input = await doseInput(path, options);
      terminal.progress("fitting the shapes");
      const { width } = terminal;
      const [axis] = options.on;
      const shown =
        options.on.length === 1 && axis !== undefined
          ? oneDose(input, axis, options, width)
          : manyDoses(input, options);
      if (!shown.answered) finish(2);
      if (options.output !== undefined) await write(options.output, shown, terminal);
      if (options.json === true) {
        terminal.out(
          jsonText({
            file: input.file.name,
            fingerprint: input.file.fingerprint,
            outcome: input.family,
            warnings: input.warnings,
            ...shown.json,
          }),
        );
        return;
      }
      const lines = (text: string): string =>
        text.includes("\n") ? text : wrapToWidth(text, width).join("\n");
      terminal.out(
        [
          ...input.warnings.map(lines),
          ...shown.text.map(lines),
          ...shown.tables.map((table) => tableToText(table, { width }).trimEnd()),
          ...(shown.notes.length === 0
            ? []
            : [
                noteText(
                  "What this rests on",
                  shown.notes.map((message) => ({ code: "note", message })),
                  width,
                ),
              ]),
          ...(options.output === undefined ? [] : [`Figures and tables are in ${options.output}.`]),
        ].join("\n\n"),
      );
    });
};
