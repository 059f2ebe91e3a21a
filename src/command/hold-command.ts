import { Option } from "commander";
import { canBeHeld, type CanBeHeldOptions, type HoldAssessment } from "../endurance/can-be-held.js";
import { whatWouldFit } from "../endurance/what-would-fit.js";
import { holdStripFigure } from "../figures/hold-strip-figure.js";
import { remainingCapacityFigure } from "../figures/remaining-capacity-figure.js";
import { shownDuration } from "../figures/shown-duration.js";
import { writeWhole } from "../host/write-whole.js";
import { cautionsFor } from "../projection/cautions.js";
import { sorenessNotes } from "../projection/soreness.js";
import {
  contractionsPerSession,
  contractionsPerWeek,
  dutyCycle,
  effectiveIntensityPercent,
  sessionLengthSeconds,
  tensionTimePerSessionSeconds,
  tensionTimePerSetSeconds,
  tensionTimePerWeekSeconds,
  tensionTimeProgrammeSeconds,
  torqueTimePerSession,
} from "../protocol/derived-quantities.js";
import { doseNotes } from "../protocol/dose-notes.js";
import type { Joint, Prescription } from "../protocol/prescription.js";
import { sessionTimeline, timelineNeeds } from "../protocol/session-timeline.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { fieldWords } from "../protocol/written-reader.js";
import { cautionsToMarkdown, cautionsToText } from "../tables/cautions-block.js";
import { holdStripText } from "../tables/hold-strip-text.js";
import {
  holdAnswer,
  holdCapacityTable,
  holdDoseTable,
  holdFitTable,
} from "../tables/hold-table.js";
import { wrapToWidth } from "../tables/display-width.js";
import { tableToCsv } from "../tables/table-to-csv.js";
import { tableToText } from "../tables/table-to-text.js";
import type { Table } from "../tables/table.js";
import type { CommandRegistration } from "./commands.js";
import { figureFiles } from "./figure-files.js";
import { jsonText } from "./json-text.js";
import { noteText, sorenessText } from "./note-text.js";
import { jointOption, protocolArgument, readProtocol } from "./protocol-argument.js";
import type { Terminal } from "./terminal.js";

type Options = Readonly<{
  joint?: Joint;
  rates: NonNullable<CanBeHeldOptions["parameters"]>;
  json?: true;
  output?: string;
}>;

/** Quantities that follow from the prescription; null where a field they need is not given. */
const doses = (p: Prescription): Readonly<Record<string, number | null>> => ({
  holdsPerSession: contractionsPerSession(p),
  holdsPerWeek: contractionsPerWeek(p) ?? null,
  effortPercent: effectiveIntensityPercent(p) ?? null,
  tensionTimePerSetSeconds: tensionTimePerSetSeconds(p),
  tensionTimePerSessionSeconds: tensionTimePerSessionSeconds(p),
  tensionTimePerWeekSeconds: tensionTimePerWeekSeconds(p) ?? null,
  tensionTimeProgrammeSeconds: tensionTimeProgrammeSeconds(p) ?? null,
  torqueTimePerSession: torqueTimePerSession(p) ?? null,
  sessionLengthSeconds: sessionLengthSeconds(p) ?? null,
  dutyCycle: dutyCycle(p) ?? null,
});

/** What can be said of the endurance of a session; absent parts are those a maximal effort lacks. */
const endurance = (p: Prescription, holding: CanBeHeldOptions) => {
  const assessment = canBeHeld(p, holding);
  const timeline = sessionTimeline(p);
  // A maximal effort has no load to fail at, so nothing is searched for.
  const fits = assessment.maximal
    ? undefined
    : {
        comfortable: whatWouldFit(p, { ...holding, keep: "comfortable" }),
        nearTheLimit: whatWouldFit(p, { ...holding, keep: "near the limit" }),
      };
  const tables: readonly Table[] = [
    holdCapacityTable(assessment, timeline),
    ...(fits === undefined ? [] : [holdFitTable(p, fits.comfortable, fits.nearTheLimit)]),
  ];
  return { assessment, timeline, fits, tables };
};

const figuresOf = (p: Prescription, assessment: HoldAssessment) => {
  const label = writePrescription(p);
  const timeline = sessionTimeline(p);
  const seconds = sessionLengthSeconds(p) ?? 0;
  return [
    holdStripFigure({
      title: `A session of ${label}`,
      sessions: [
        {
          label: "the session",
          timeline,
          summary: `${shownDuration(tensionTimePerSessionSeconds(p))} of tension, ${shownDuration(seconds)} long`,
        },
      ],
    }),
    remainingCapacityFigure({ label, timeline, assessment }),
  ];
};

/** `holdbook hold "…"`: one session drawn, reckoned up, and tried against endurance. */
export const holdCommand: CommandRegistration = (program, terminal: Terminal, finish) => {
  program
    .command("hold")
    .description("what a session amounts to, and whether it can be held")
    .argument("<protocol>", protocolArgument)
    .addOption(jointOption())
    .addOption(
      new Option("--rates <set>", "published set of fatigue rates")
        .choices(["default", "alternative"])
        .default("default"),
    )
    .option("--json", "print one JSON object")
    .option("-o, --output <directory>", "also write figures and tables there")
    .action(async (text: string, options: Options) => {
      const p = readProtocol(text, options.joint);
      const written = writePrescription(p);
      const needs = timelineNeeds(p);
      const held = needs.length > 0 ? undefined : endurance(p, { parameters: options.rates });
      const soreness = sorenessNotes(p);
      const cautions = cautionsFor(p);
      const doseTable = holdDoseTable(p);
      const missing = `Whether it can be held cannot be said without ${needs.map((field) => fieldWords[field]).join(" and ")}; for example 4 × 30 s at 70 %, rest 60 s.`;
      if (held === undefined) finish(2);

      if (options.output !== undefined)
        await writeWhole(options.output, [
          ...[doseTable, ...(held?.tables ?? [])].map((table) => ({
            name: `tables/${table.id}.csv`,
            content: tableToCsv(table),
          })),
          ...(held === undefined ? [] : await figureFiles(figuresOf(p, held.assessment), terminal)),
          { name: "cautions.md", content: cautionsToMarkdown(cautions) },
        ]);

      if (options.json === true) {
        const { shown: _shown, ...shownCautions } = cautions;
        terminal.out(
          jsonText({
            written,
            prescription: p,
            doses: doses(p),
            ...(held === undefined
              ? { needs, notes: doseNotes(p) }
              : {
                  answer: holdAnswer(held.assessment),
                  assessment: {
                    ...held.assessment,
                    // JSON has no infinity: the seconds of a hold that lasts for ever are null.
                    oneHoldLastsForEver: held.assessment.oneHoldModelSeconds === Infinity,
                  },
                  whatWouldFit: held.fits ?? null,
                }),
            soreness,
            cautions: shownCautions,
          }),
        );
        return;
      }

      const { width } = terminal;
      const lines = (sentence: string): string => wrapToWidth(sentence, width).join("\n");
      const shown = (table: Table): string => tableToText(table, { width }).trimEnd();
      const answer = held === undefined ? missing : holdAnswer(held.assessment);
      terminal.out(
        [
          written,
          ...(held === undefined ? [] : [holdStripText(held.timeline, { width })]),
          lines(answer),
          shown(doseTable),
          ...(held?.tables ?? []).map(shown),
          noteText(
            "What this rests on",
            held === undefined ? doseNotes(p) : held.assessment.statements,
            width,
          ),
          sorenessText(soreness, width),
          cautionsToText(cautions, { width }).trimEnd(),
          // The cautions are long and cannot be left out, so the answer stands once more where the eye ends.
          lines(`${written}. ${answer}`),
          ...(options.output === undefined ? [] : [`Figures and tables are in ${options.output}.`]),
        ].join("\n\n"),
      );
    });
};
