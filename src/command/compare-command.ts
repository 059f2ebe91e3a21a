import { Option } from "commander";
import { CallError } from "../errors.js";
import { comparisonFigure } from "../figures/comparison-figure.js";
import { readBytes } from "../host/read-bytes.js";
import { cautionsFor } from "../projection/cautions.js";
import {
  comparedProtocols,
  compareProtocols,
  type ProtocolComparison,
} from "../projection/compare-protocols.js";
import {
  adjustableFields,
  equaliseDefaults,
  equalQuantities,
  equaliseProtocols,
  type AdjustableField,
  type EqualQuantity,
} from "../projection/equalise-protocols.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import { protocolList } from "../projection/protocol-list.js";
import { sorenessNotes, type SorenessNote } from "../projection/soreness.js";
import type { Prescription } from "../protocol/prescription.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { cautionsToText } from "../tables/cautions-block.js";
import { equalisedTable, headToHeadTable } from "../tables/comparison-evidence-table.js";
import {
  comparisonCostTable,
  comparisonTable,
  differencesTable,
  verdictSentences,
} from "../tables/comparison-table.js";
import { wrapToWidth } from "../tables/display-width.js";
import { holdStripText } from "../tables/hold-strip-text.js";
import { projectionRefusalAnswer } from "../tables/projection-table.js";
import {
  predictorsTable,
  priorsTable,
  projectionModelSentence,
  projectionNoteLines,
} from "../tables/projection-basis-table.js";
import { tableToText } from "../tables/table-to-text.js";
import type { Table } from "../tables/table.js";
import type { CommandRegistration } from "./commands.js";
import { jsonText } from "./json-text.js";
import { sorenessText } from "./note-text.js";
import { projectionInput } from "./projection-input.js";
import { cautionsJson, projectionBasis, projectionSource } from "./projection-json.js";
import { writeProjectionFiles } from "./projection-output.js";
import {
  projectOptionsOf,
  withProjectionOptions,
  worthwhileOption,
  type ProjectionCommandOptions,
} from "./projection-options.js";
import { readProtocol } from "./protocol-argument.js";
import { judgedSession } from "../report/judged-session.js";

type Options = ProjectionCommandOptions &
  Readonly<{
    protocols?: string;
    worthwhile?: number;
    equal?: string;
    adjust: string;
  }>;

type Named = Readonly<{ name: string; prescription: Prescription }>;

/** Words of the command line for what is made equal and by which field. */
const written = (text: string): string => text.replace(/[ –]/g, "-");
const fieldOption = {
  "hold-length": "holdSeconds",
  repetitions: "repetitions",
  sets: "sets",
} as const satisfies Record<string, AdjustableField>;

const letters = "ABCDEF";

/** The protocols of the command line, then those of the list; two to six in all. */
const namedProtocols = async (
  texts: readonly string[],
  options: Options,
): Promise<readonly Named[]> => {
  const listed =
    options.protocols === undefined
      ? []
      : protocolList(new TextDecoder().decode(await readBytes(options.protocols)));
  const all = [
    ...texts.map((text, index) => ({
      name: letters[index] ?? String(index + 1),
      prescription: readProtocol(text, options.joint),
    })),
    ...listed.map(({ name, prescription }) => ({
      name,
      prescription:
        options.joint === undefined || prescription.joint !== undefined
          ? prescription
          : { ...prescription, joint: options.joint },
    })),
  ];
  const { fewest, most } = comparedProtocols;
  if (all.length < fewest || all.length > most)
    throw new CallError({
      code: "protocol-count",
      where: "holdbook compare",
      needs: `${fewest} to ${most} protocols, on the command line or in --protocols LIST`,
      got: String(all.length),
      ...(all.length < fewest ? { try: "holdbook project takes one protocol" } : {}),
    });
  return all;
};

const tablesOf = (
  comparison: ProtocolComparison,
  prepared: ReadyProjection,
  confidence: number,
): readonly Table[] => {
  const direct = headToHeadTable(comparison);
  const { equalised } = comparison;
  return [
    ...(equalised === undefined
      ? []
      : [
          equalisedTable(
            equalised,
            comparison.protocols.map(({ name }) => name),
          ),
        ]),
    ...(direct === undefined ? [] : [direct]),
    differencesTable(comparison, { confidence }),
    comparisonTable(comparison, prepared, { confidence }),
    comparisonCostTable(comparison),
    predictorsTable(prepared),
    priorsTable(prepared),
  ];
};

/** Soreness notes of all protocols, those that several share written once with their names. */
const sharedSoreness = (protocols: readonly Named[]): readonly SorenessNote[] => {
  const found = new Map<string, Readonly<{ note: SorenessNote; names: string[] }>>();
  for (const { name, prescription } of protocols)
    for (const note of sorenessNotes(prescription)) {
      const before = found.get(note.message);
      if (before === undefined) found.set(note.message, { note, names: [name] });
      else before.names.push(name);
    }
  return [...found.values()].map(({ note, names }) => ({
    ...note,
    message:
      names.length === protocols.length ? note.message : `${names.join(", ")}: ${note.message}`,
  }));
};

/** `holdbook compare FILE "A" "B" …`: two to six protocols side by side. */
export const compareCommand: CommandRegistration = (program, terminal, finish) => {
  withProjectionOptions(
    program
      .command("compare")
      .description("two to six protocols side by side: differences, chances, what each takes")
      .argument("<file>", "a table in the codebook's columns")
      .argument("[protocols...]", "sessions, each in quotation marks"),
  )
    .option("--protocols <file>", "a list of protocols, one a line: name: 4 x 30 s at 70 %")
    .option("--worthwhile <percent>", "smallest difference worth having", worthwhileOption)
    .addOption(
      new Option("--equal <quantity>", "make every protocol equal to the first in this").choices(
        equalQuantities.map(written),
      ),
    )
    .addOption(
      new Option("--adjust <field>", "the one field changed to make them equal")
        .choices(Object.keys(fieldOption))
        .default(equaliseDefaults.adjust),
    )
    .action(async (path: string, texts: readonly string[], options: Options) => {
      const named = await namedProtocols(texts, options);
      const quantity = equalQuantities.find(
        (one): one is EqualQuantity => written(one) === options.equal,
      );
      const adjust =
        adjustableFields.find(
          (field) => field === fieldOption[options.adjust as keyof typeof fieldOption],
        ) ?? equaliseDefaults.adjust;
      const equalise = quantity === undefined ? undefined : { quantity, adjust };
      // A quantity that cannot be made equal is found out before the file is fitted.
      if (equalise !== undefined)
        equaliseProtocols(
          named.map(({ prescription }) => prescription),
          equalise,
        );
      const input = await projectionInput(path, options, terminal);
      const { prepared } = input;
      terminal.progress("comparing");
      const answer = compareProtocols(
        prepared,
        named.map(({ prescription }) => prescription),
        {
          ...projectOptionsOf(options),
          names: named.map(({ name }) => name),
          ...(options.worthwhile === undefined
            ? {}
            : { smallestWorthwhilePercent: options.worthwhile }),
          ...(equalise === undefined ? {} : { equalise }),
        },
      );
      const shownProtocols: readonly Named[] =
        answer.kind === "comparison" ? answer.protocols : named;
      const sessions = shownProtocols.map(({ prescription }) => judgedSession(prescription));
      const cautions = cautionsFor(shownProtocols.map(({ prescription }) => prescription));
      if (answer.kind === "refusal") finish(2);
      const compared =
        answer.kind === "comparison" && prepared.kind === "ready"
          ? { answer, prepared }
          : undefined;
      const tables =
        compared === undefined
          ? []
          : tablesOf(compared.answer, compared.prepared, options.confidence);

      if (options.output !== undefined && compared !== undefined)
        await writeProjectionFiles(
          options.output,
          {
            tables: tables,
            figures: [
              comparisonFigure({
                comparison: compared.answer,
                prepared: compared.prepared,
                timelines: sessions.map(({ timeline }) => timeline),
                confidence: options.confidence,
              }),
            ],
            cautions,
          },
          terminal,
        );

      if (options.json === true) {
        terminal.out(
          jsonText({
            ...projectionSource(input),
            confidence: options.confidence,
            answer,
            basis: projectionBasis(prepared),
            cautions: cautionsJson(cautions),
          }),
        );
        return;
      }

      const { width } = terminal;
      const lines = (sentence: string): string => wrapToWidth(sentence, width).join("\n");
      const sentences =
        compared === undefined
          ? answer.kind === "refusal"
            ? prepared.kind === "refusal"
              ? [`Nothing is compared: ${answer.reason}.`]
              : answer.refusals.map(
                  (refusal) => `${refusal.written}: ${projectionRefusalAnswer(refusal)}`,
                )
            : []
          : verdictSentences(compared.answer);
      terminal.out(
        [
          ...input.warnings.map(lines),
          ...shownProtocols.map(({ name, prescription }, index) => {
            const session = sessions[index];
            return [
              lines(`${name}: ${writePrescription(prescription)}`),
              ...(session?.timeline === undefined
                ? []
                : [holdStripText(session.timeline, { width, height: 2 })]),
              lines(session?.words ?? ""),
            ].join("\n");
          }),
          sentences.map(lines).join("\n"),
          ...tables.map((table) => tableToText(table, { width }).trimEnd()),
          ...(compared === undefined
            ? []
            : [
                [
                  projectionModelSentence(compared.prepared),
                  ...projectionNoteLines(compared.prepared),
                ]
                  .map(lines)
                  .join("\n"),
              ]),
          sorenessText(sharedSoreness(shownProtocols), width),
          cautionsToText(cautions, { width }).trimEnd(),
          // The cautions are long and cannot be left out, so the calls stand once more where the eye ends.
          sentences.map(lines).join("\n"),
          ...(options.output === undefined
            ? []
            : [
                compared === undefined
                  ? `Nothing was written to ${options.output}, as nothing is compared.`
                  : `Figures and tables are in ${options.output}.`,
              ]),
        ].join("\n\n"),
      );
    });
};
