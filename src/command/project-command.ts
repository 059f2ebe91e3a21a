import { projectionFigure } from "../figures/projection-figure.js";
import { holdStripFigure } from "../figures/hold-strip-figure.js";
import { shownDuration } from "../figures/shown-duration.js";
import { cautionsFor } from "../projection/cautions.js";
import { projectProtocol, type Projection } from "../projection/project-protocol.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import { sorenessNotes } from "../projection/soreness.js";
import type { Prescription } from "../protocol/prescription.js";
import { tensionTimePerSessionSeconds } from "../protocol/derived-quantities.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { cautionsToText } from "../tables/cautions-block.js";
import { wrapToWidth } from "../tables/display-width.js";
import { holdStripText } from "../tables/hold-strip-text.js";
import { holdDoseTable } from "../tables/hold-table.js";
import {
  projectionAnswer,
  projectionCourseTable,
  projectionRefusalAnswer,
  projectionTable,
} from "../tables/projection-table.js";
import {
  predictorsTable,
  priorsTable,
  projectionModelSentence,
  projectionNoteLines,
} from "../tables/projection-basis-table.js";
import { nearestTable, supportSentences } from "../tables/projection-support-table.js";
import { tableToText } from "../tables/table-to-text.js";
import type { Table } from "../tables/table.js";
import type { CommandRegistration } from "./commands.js";
import { jsonText } from "./json-text.js";
import { noteText, sorenessText } from "./note-text.js";
import { projectionInput } from "./projection-input.js";
import { cautionsJson, projectionBasis, projectionSource } from "./projection-json.js";
import { writeProjectionFiles } from "./projection-output.js";
import {
  projectOptionsOf,
  withProjectionOptions,
  worthwhileOption,
  type ProjectionCommandOptions,
} from "./projection-options.js";
import { protocolArgument, readProtocol } from "./protocol-argument.js";
import { judgedSession, type JudgedSession } from "../report/judged-session.js";

type Options = ProjectionCommandOptions & Readonly<{ worthwhile?: number }>;

/** A projection's tables, in the order they are read. */
const tablesOf = (
  projection: Projection,
  prepared: ReadyProjection,
  { confidence, worthwhile }: Options,
): readonly Table[] => {
  const shown = {
    confidence,
    ...(worthwhile === undefined ? {} : { smallestWorthwhilePercent: worthwhile }),
  };
  return [
    projectionTable(projection, prepared, shown),
    projectionCourseTable(projection, prepared, shown),
    nearestTable(projection.support.nearest),
    predictorsTable(prepared),
    priorsTable(prepared),
  ];
};

const figuresOf = (
  p: Prescription,
  session: JudgedSession,
  projection: Projection,
  prepared: ReadyProjection,
  confidence: number,
) => [
  projectionFigure({
    projection,
    prepared,
    confidence,
    ...(session.timeline === undefined ? {} : { timeline: session.timeline }),
  }),
  ...(session.timeline === undefined
    ? []
    : [
        holdStripFigure({
          title: `A session of ${projection.written}`,
          sessions: [
            {
              label: "the session",
              timeline: session.timeline,
              summary: `${shownDuration(tensionTimePerSessionSeconds(p))} of tension, ${shownDuration(session.timeline.at(-1)?.endSeconds ?? 0)} long`,
            },
          ],
        }),
      ]),
];

/** `holdbook project FILE "…"`: what the file's evidence projects for a protocol, and how sure that is. */
export const projectCommand: CommandRegistration = (program, terminal, finish) => {
  withProjectionOptions(
    program
      .command("project")
      .description(
        "what to expect from a protocol: three ranges, their course, the evidence near it",
      )
      .argument("<file>", "a table in the codebook's columns")
      .argument("<protocol>", protocolArgument),
  )
    .option("--worthwhile <percent>", "smallest gain worth having", worthwhileOption)
    .action(async (path: string, text: string, options: Options) => {
      const p = readProtocol(text, options.joint);
      const session = judgedSession(p);
      const input = await projectionInput(path, options, terminal);
      const { prepared } = input;
      terminal.progress("projecting");
      const answer = projectProtocol(prepared, p, {
        ...projectOptionsOf(options),
        ...(options.worthwhile === undefined
          ? {}
          : { smallestWorthwhilePercent: options.worthwhile }),
      });
      const soreness = sorenessNotes(p);
      const cautions = cautionsFor(p);
      const doses = holdDoseTable(p);
      if (answer.kind === "refusal") finish(2);
      const projected =
        answer.kind === "projection" && prepared.kind === "ready"
          ? { answer, prepared }
          : undefined;
      const tables =
        projected === undefined
          ? answer.kind === "refusal" && answer.nearest !== undefined
            ? [nearestTable([answer.nearest])]
            : []
          : tablesOf(projected.answer, projected.prepared, options);

      if (options.output !== undefined && projected !== undefined)
        await writeProjectionFiles(
          options.output,
          {
            tables: [...tables, doses],
            figures: figuresOf(
              p,
              session,
              projected.answer,
              projected.prepared,
              options.confidence,
            ),
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
            canBeHeld:
              session.assessment === undefined
                ? { judged: false, words: session.words }
                : {
                    judged: true,
                    words: session.words,
                    grade: session.assessment.grade,
                    smallestReservePercent: session.assessment.smallestReservePercent,
                  },
            basis: projectionBasis(prepared),
            soreness,
            cautions: cautionsJson(cautions),
          }),
        );
        return;
      }

      const { width } = terminal;
      const lines = (sentence: string): string => wrapToWidth(sentence, width).join("\n");
      const shown = (table: Table): string => tableToText(table, { width }).trimEnd();
      const sentence =
        projected === undefined
          ? answer.kind === "refusal"
            ? projectionRefusalAnswer(answer)
            : ""
          : projectionAnswer(projected.answer, projected.prepared, options.confidence);
      const [ranges, course, nearest, ...basis] = tables;
      terminal.out(
        [
          ...input.warnings.map(lines),
          writePrescription(p),
          ...(session.timeline === undefined ? [] : [holdStripText(session.timeline, { width })]),
          lines(session.words),
          lines(sentence),
          ...(projected === undefined
            ? [...tables.map(shown), shown(doses)]
            : [
                ...(ranges === undefined ? [] : [shown(ranges)]),
                supportSentences(projected.answer.support).map(lines).join("\n"),
                ...[course, nearest, doses, ...basis].flatMap((table) =>
                  table === undefined ? [] : [shown(table)],
                ),
                [
                  projectionModelSentence(projected.prepared),
                  ...projectionNoteLines(projected.prepared),
                ]
                  .map(lines)
                  .join("\n"),
              ]),
          ...(session.assessment === undefined
            ? []
            : [
                noteText(
                  "What the judgement of the hold rests on",
                  session.assessment.statements,
                  width,
                ),
              ]),
          sorenessText(soreness, width),
          cautionsToText(cautions, { width }).trimEnd(),
          // The cautions are long and cannot be left out, so the answer stands once more where the eye ends.
          lines(`${writePrescription(p)}. ${sentence} ${session.words}`),
          ...(options.output === undefined
            ? []
            : [
                projected === undefined
                  ? `Nothing was written to ${options.output}, as nothing is projected.`
                  : `Figures and tables are in ${options.output}.`,
              ]),
        ].join("\n\n"),
      );
    });
};
