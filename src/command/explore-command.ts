import { Option } from "commander";
import { CallError } from "../errors.js";
import { frontierFigure } from "../figures/frontier-figure.js";
import { cautionsFor } from "../projection/cautions.js";
import {
  exploreDefaults,
  exploreProtocols,
  type ExploreLimits,
} from "../projection/explore-protocols.js";
import { muscleLengths, type MuscleLength } from "../protocol/prescription.js";
import { cautionsToText } from "../tables/cautions-block.js";
import { wrapToWidth } from "../tables/display-width.js";
import { frontierSentences, frontierStepsTable, frontierTable } from "../tables/frontier-table.js";
import {
  predictorsTable,
  priorsTable,
  projectionModelSentence,
  projectionNoteLines,
} from "../tables/projection-basis-table.js";
import { personSentences } from "../tables/projection-table.js";
import { tableToText } from "../tables/table-to-text.js";
import { numberOption } from "./analysis-options.js";
import type { CommandRegistration } from "./commands.js";
import { jsonText } from "./json-text.js";
import { projectionInput } from "./projection-input.js";
import { cautionsJson, projectionBasis, projectionSource } from "./projection-json.js";
import { writeProjectionFiles } from "./projection-output.js";
import {
  projectOptionsOf,
  withProjectionOptions,
  type ProjectionCommandOptions,
} from "./projection-options.js";

type Options = ProjectionCommandOptions &
  Readonly<{
    minutes: number;
    sessions: number;
    effortUpTo: number;
    weeks?: number;
    length: readonly MuscleLength[];
    keep: "comfortable" | "near the limit";
  }>;

const lengthOption = (text: string, before: readonly MuscleLength[]): readonly MuscleLength[] => {
  const found = muscleLengths.find((length) => length === text.trim().toLowerCase());
  if (found === undefined)
    throw new CallError({
      code: "unknown-choice",
      where: "--length",
      needs: `one of ${muscleLengths.join(", ")}`,
      got: `"${text}"`,
    });
  return before.includes(found) ? before : [...before, found];
};

/** `holdbook explore FILE`: which protocols give the most for the time, within limits. */
export const exploreCommand: CommandRegistration = (program, terminal, finish) => {
  withProjectionOptions(
    program
      .command("explore")
      .description(
        "within limits of time and effort, the protocols that give the most for the time",
      )
      .argument("<file>", "a table in the codebook's columns"),
  )
    .requiredOption(
      "--minutes <number>",
      "longest session, rests included",
      numberOption("--minutes"),
    )
    .requiredOption("--sessions <number>", "most sessions a week", numberOption("--sessions"))
    .requiredOption("--effort-up-to <percent>", "highest effort, percent of MVC", (text) =>
      numberOption("--effort-up-to")(text.replace(/%$/, "")),
    )
    .option(
      "--weeks <number>",
      "length of the programme; the file's usual one unless told",
      numberOption("--weeks"),
    )
    .option(
      "--length <length>",
      "muscle length that may be trained at (more than once for several); those of the file unless told",
      lengthOption,
      [] as readonly MuscleLength[],
    )
    .addOption(
      new Option("--keep <grade>", "worst grade of the endurance model that is kept")
        .choices(["comfortable", "near the limit"])
        .default(exploreDefaults.keep),
    )
    .action(async (path: string, options: Options) => {
      const input = await projectionInput(path, options, terminal);
      const { prepared } = input;
      const { joint, trainingStatus, testDistanceDegrees } = projectOptionsOf(options);
      const limits: ExploreLimits = {
        minutesPerSession: options.minutes,
        sessionsPerWeek: options.sessions,
        effortCeilingPercent: options.effortUpTo,
        ...(joint === undefined ? {} : { joint }),
        ...(trainingStatus === undefined ? {} : { trainingStatus }),
        ...(testDistanceDegrees === undefined ? {} : { testDistanceDegrees }),
        ...(options.weeks === undefined ? {} : { weeks: options.weeks }),
        ...(options.length.length === 0 ? {} : { muscleLengths: options.length }),
      };
      terminal.progress("searching; this may take some seconds");
      const answer = exploreProtocols(prepared, limits, {
        keep: options.keep,
        confidence: options.confidence,
      });
      const found =
        answer.kind === "frontier" && prepared.kind === "ready" ? { answer, prepared } : undefined;
      const cautions = cautionsFor(
        found?.answer.points.map(({ prescription }) => prescription) ?? [],
      );
      if (found === undefined) finish(2);
      const tables =
        found === undefined
          ? []
          : [
              frontierTable(found.answer, found.prepared, { confidence: options.confidence }),
              ...(found.answer.points.length < 2
                ? []
                : [frontierStepsTable(found.answer, { confidence: options.confidence })]),
              predictorsTable(found.prepared),
              priorsTable(found.prepared),
            ];

      if (options.output !== undefined && found !== undefined)
        await writeProjectionFiles(
          options.output,
          {
            tables: tables,
            figures: [
              frontierFigure({
                frontier: found.answer,
                prepared: found.prepared,
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
        found === undefined
          ? answer.kind === "refusal"
            ? [`Nothing is found: ${answer.reason}.`]
            : []
          : frontierSentences(found.answer, { confidence: options.confidence });
      terminal.out(
        [
          ...input.warnings.map(lines),
          sentences.map(lines).join("\n"),
          ...tables.map((table) => tableToText(table, { width }).trimEnd()),
          ...(found === undefined
            ? []
            : [
                [
                  ...personSentences(found.prepared),
                  projectionModelSentence(found.prepared),
                  ...projectionNoteLines(found.prepared),
                ]
                  .map(lines)
                  .join("\n"),
              ]),
          cautionsToText(cautions, { width }).trimEnd(),
          // The cautions are long and cannot be left out, so the answer stands once more where the eye ends.
          sentences.map(lines).join("\n"),
          ...(options.output === undefined
            ? []
            : [
                found === undefined
                  ? `Nothing was written to ${options.output}, as nothing is found.`
                  : `Figures and tables are in ${options.output}.`,
              ]),
        ].join("\n\n"),
      );
    });
};
