import { Option } from "commander";
import { CallError } from "../errors.js";
import { rampFigure } from "../figures/ramp-figure.js";
import { writeWhole } from "../host/write-whole.js";
import { cautionsFor } from "../projection/cautions.js";
import { rampPlan } from "../projection/ramp-plan.js";
import { rampFroms, type RampFrom } from "../projection/ramp-start.js";
import { sorenessNotes } from "../projection/soreness.js";
import type { Joint } from "../protocol/prescription.js";
import { timelineNeeds } from "../protocol/session-timeline.js";
import { fieldWords } from "../protocol/written-reader.js";
import { rampSheet } from "../report/ramp-sheet.js";
import { cautionsToText } from "../tables/cautions-block.js";
import { wrapToWidth } from "../tables/display-width.js";
import { rampAnswer, rampRefusalTable, rampTable } from "../tables/ramp-table.js";
import { tableToCsv } from "../tables/table-to-csv.js";
import { tableToText } from "../tables/table-to-text.js";
import { numberOption } from "./analysis-options.js";
import type { CommandRegistration } from "./commands.js";
import { figureFiles } from "./figure-files.js";
import { jsonText } from "./json-text.js";
import { sorenessText } from "./note-text.js";
import { jointOption, protocolArgument, readProtocol } from "./protocol-argument.js";

type Options = Readonly<{
  from: RampFrom;
  weeks: number;
  joint?: Joint;
  json?: true;
  output?: string;
}>;

/** `holdbook ramp "…"`: the weeks up to a protocol, as a table, a figure and a sheet to print. */
export const rampCommand: CommandRegistration = (program, terminal, finish) => {
  program
    .command("ramp")
    .description("work up to a session: one change a week, each week checked against endurance")
    .argument("<protocol>", protocolArgument)
    .addOption(
      new Option("--from <state>", "where the person is now")
        .choices(rampFroms)
        .makeOptionMandatory(),
    )
    .requiredOption("--weeks <number>", "weeks until the session itself", numberOption("--weeks"))
    .addOption(jointOption())
    .option("--json", "print one JSON object")
    .option("-o, --output <directory>", "also write the sheet to print, the figure and the table")
    .action(async (text: string, options: Options) => {
      const target = readProtocol(text, options.joint);
      const needs = timelineNeeds(target).map((field) => fieldWords[field]);
      if (needs.length > 0)
        throw new CallError({
          code: "missing-field",
          where: "holdbook ramp",
          needs: "every rest and an effort in percent of MVC, so that each week can be checked",
          got: `a protocol without ${needs.join(" and ")}`,
          try: "for example 4 × 30 s at 70 %, rest 60 s, 3/week",
        });
      const answer = rampPlan(target, { from: options.from, weeks: options.weeks });
      const soreness = sorenessNotes(target);
      const cautions = cautionsFor(
        answer.kind === "plan" ? answer.weeks.map(({ prescription }) => prescription) : target,
      );
      const table = answer.kind === "plan" ? rampTable(answer) : rampRefusalTable(answer);
      if (answer.kind === "refused") finish(2);
      const isWritten = options.output !== undefined && answer.kind === "plan";
      if (isWritten)
        await writeWhole(options.output, [
          { name: "sheet.html", content: rampSheet(answer) },
          { name: "tables/ramp.csv", content: tableToCsv(table) },
          ...(await figureFiles([rampFigure(answer)], terminal)),
        ]);

      if (options.json === true) {
        const { shown: _shown, ...shownCautions } = cautions;
        terminal.out(jsonText({ ...answer, soreness, cautions: shownCautions }));
        return;
      }
      const { width } = terminal;
      terminal.out(
        [
          tableToText(table, { width }).trimEnd(),
          sorenessText(soreness, width),
          cautionsToText(cautions, { width }).trimEnd(),
          wrapToWidth(rampAnswer(answer), width).join("\n"),
          ...(isWritten
            ? [
                `The sheet to print, on both sides, is ${options.output}/sheet.html; figure and table are beside it.`,
              ]
            : options.output === undefined
              ? []
              : [`Nothing was written to ${options.output}, as there is no plan.`]),
        ].join("\n\n"),
      );
    });
};
