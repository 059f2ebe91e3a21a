/** Whether small studies show more than large ones, for every average that is shown. */
import * as z from "zod";
import type { SelectionModel } from "../certainty/selection-model.js";
import type { SmallStudyRegression } from "../certainty/small-study-regression.js";
import type { Note, Refusal } from "../errors.js";
import {
  formatInterval,
  formatNumber,
  plainNumber,
  pValueCell,
  pValueText,
} from "../tables/number-format.js";
import { shownEstimate, shownInterval } from "../tables/scale-display.js";
import { csvNumbers, csvTexts, type Table } from "../tables/table.js";
import { noteSchema, toldOrRefusedShape } from "./answer.js";
import { orArmsApart } from "./arms-against-arms.js";
import { preparedFor } from "./prepared.js";
import { effectShape } from "./effect-options.js";
import { oneOf, option, resolvedOptions } from "./option.js";
import { chosenGroups, pool, poolShape, type PreparedPool } from "./pool.js";
import { aboutGroup, ownScale, type PreparedGroup } from "./pool-words.js";
import { question, type Options } from "./question.js";
import {
  selectionOf,
  selectionSchema,
  selectionSentence,
  selectionTable,
} from "./selection-told.js";
import { sizeRegression } from "./size-regression.js";
import { toldByGroup } from "./told-by-group.js";

const shape = {
  outcome: poolShape.outcome,
  ...effectShape,
  smallness: option(oneOf(["size", "standard-error"]).default("size"), {
    help: "how small a study is: by its people, or by the standard errors of its effects",
    value: "<measure>",
    seldom: true,
  }),
  method: option(oneOf(["multilevel", "residual-dispersion"]).default("multilevel"), {
    help: "dependent effects with cluster-robust errors, or independent effects with a residual mean square",
    value: "<method>",
    seldom: true,
  }),
};

type Told = Readonly<{
  prepared: PreparedGroup;
  answer: SmallStudyRegression | Refusal;
  /** What would have stayed unprinted; undefined where there is no average. */
  selection: SelectionModel | Refusal | undefined;
}>;

const told = (prepared: PreparedGroup, options: Options<typeof shape>): Told => ({
  prepared,
  answer: sizeRegression(prepared.group.headline, {
    confidence: options.confidence,
    method: options.method,
    bySize: options.smallness === "size",
  }),
  selection:
    prepared.headline().kind === "refusal" ? undefined : selectionOf(prepared, options.confidence),
});

const sentenceOf = (one: Told, options: Options<typeof shape>): string =>
  `${slopeSentence(one, options)}${one.selection === undefined ? "" : ` ${selectionSentence(one.selection, one.prepared)}`}`;

const slopeSentence = ({ prepared, answer }: Told, options: Options<typeof shape>): string => {
  const about = aboutGroup(prepared.group, options.contrast);
  if (answer.kind === "refusal")
    return `${about}: not tested, as ${answer.reason}.${prepared.rows}`;
  const { slope, studies } = answer;
  const seen = slope.interval.low > 0 || slope.interval.high < 0;
  return `${about}: ${
    seen
      ? `small studies show ${slope.estimate > 0 ? "larger" : "smaller"} effects than large ones`
      : "small and large studies cannot be told apart"
  } (slope ${formatNumber(slope.estimate, { digits: 3 })} per unit of ${answer.predictor}, interval ${formatInterval(slope.interval, { digits: 3 })}, ${pValueText(slope.p)}, ${studies} studies).${
    seen ? " Unprinted small trials are one cause of that among several." : ""
  }`;
};

const tableOf = (answers: readonly Told[]): Table => {
  const number = (key: string, label: string) => ({ key, label, align: "right" }) as const;
  return {
    id: "small-studies",
    title: "Do small studies show more? Slope of the effects on the smallness of their studies",
    columns: [
      { key: "group", label: "Outcome", align: "left" },
      number("studies", "Studies"),
      number("slope", "Slope"),
      number("interval", "Interval"),
      number("p", "p"),
      number("end", "End of the line"),
      number("endInterval", "Its interval"),
    ],
    csvColumns: [
      ...csvTexts("group"),
      ...csvNumbers(
        "studies",
        "slopeExact",
        "slopeLow",
        "slopeHigh",
        "pExact",
        "endExact",
        "endLow",
        "endHigh",
      ),
    ],
    rows: answers.flatMap(({ prepared, answer }) => {
      if (answer.kind === "refusal") return [];
      const { slope, unlimitedSize: end } = answer;
      const scale = prepared.group.headline.set?.scale ?? ownScale;
      return [
        {
          group: prepared.group.label,
          studies: String(answer.studies),
          slope: formatNumber(slope.estimate, { digits: 3 }),
          interval: formatInterval(slope.interval, { digits: 3 }),
          p: pValueCell(slope.p),
          end: shownEstimate(end.estimate, scale, end.standardError),
          endInterval: shownInterval(end.interval, scale, end.standardError),
          slopeExact: plainNumber(slope.estimate),
          slopeLow: plainNumber(slope.interval.low),
          slopeHigh: plainNumber(slope.interval.high),
          pExact: plainNumber(slope.p),
          endExact: plainNumber(end.estimate),
          endLow: plainNumber(end.interval.low),
          endHigh: plainNumber(end.interval.high),
        },
      ];
    }),
    notes: [
      "The end of the line is where it leads as studies grow without end. It is no corrected average.",
      "Where small and large studies agree, 4 to 7% of invented files of 10 or 20 studies have an interval of 95% that leaves out zero.",
      "Ignore the slope where small trials trained harder, longer or other people than large ones: it then tells of the training.",
      "A slope away from zero is asymmetry. Unprinted small trials are one cause; others are that small trials differ in people, doses or tests, and chance.",
    ],
  };
};

/** The regression of effects on √(1/effective size), for every group with ten studies or more. */
export const smallStudies = question({
  id: "small-studies",
  options: shape,
  choices: ["outcome", "smallness", "method"],
  data: {
    groups: z.array(
      z.looseObject({
        group: z.string(),
        id: z.string(),
        predictor: z.string().optional(),
        slope: z.looseObject({ estimate: z.number(), p: z.number() }).optional(),
        unlimitedSize: z.looseObject({ estimate: z.number() }).optional(),
        notes: z.array(noteSchema).optional(),
        selection: selectionSchema.optional(),
        ...toldOrRefusedShape,
      }),
    ),
  },
  prepare: (evidence, options, tell) => {
    const { smallness: _size, method: _kind, ...asked } = options;
    return preparedFor<typeof poolShape, PreparedPool>(
      pool,
      evidence,
      resolvedOptions(poolShape, asked),
      tell,
    );
  },
  answer: (pooled, options, tell) => {
    const answers = chosenGroups(pooled.groups, options.outcome).map((prepared) => {
      tell(`small and large studies: ${prepared.group.label}`);
      return told(prepared, options);
    });
    const tested = answers.filter(({ answer }) => answer.kind === "told");
    const leading = tested[0] ?? answers[0];
    const notes: readonly Note[] = tested.flatMap(({ answer }) =>
      answer.kind === "refusal" ? [] : answer.notes,
    );
    const { data, ...common } = toldByGroup(pooled, answers, leading, options.confidence);
    const answer = {
      headline:
        leading === undefined
          ? `No row reaches this scale and contrast.${pooled.rows}`
          : sentenceOf(leading, options),
      sentences: answers.filter((one) => one !== leading).map((one) => sentenceOf(one, options)),
      tables: [
        ...(tested.length === 0 ? [] : [tableOf(tested)]),
        ...selectionTable(
          answers.flatMap(({ prepared, selection }) =>
            selection === undefined ? [] : [{ prepared, selection }],
          ),
          options.confidence,
        ),
      ],
      notes: [...pooled.notes, ...notes],
      ...common,
      data: {
        ...data,
        groups: data.groups.map((group, place) => ({
          ...group,
          ...(answers[place]?.selection === undefined
            ? {}
            : { selection: answers[place].selection }),
        })),
      },
    };
    return orArmsApart(answer, pooled.apart?.(options.outcome));
  },
});
