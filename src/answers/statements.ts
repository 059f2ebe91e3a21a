/** Statements as people teach them, each with a formal reading, put to the test of a file. */
import * as z from "zod";
import {
  judgedTogether,
  statementVerdict,
  statementVerdicts,
} from "../certainty/statement-verdict.js";
import { CallError, refusal } from "../errors.js";
import { listed } from "../protocol/listed.js";
import { counted } from "../tables/number-format.js";
import { folded } from "../tables/table.js";
import { intervalSchema } from "./answer.js";
import { assumptionShape, confidenceOption, rowShape } from "./effect-options.js";
import { usableRows, type Evidence } from "./evidence.js";
import { exampleStatements } from "./example-statements.js";
import { onOff, option } from "./option.js";
import { question, type Options, type Sharing, type Tell } from "./question.js";
import { readStatements, statementsGiven } from "./statement-file.js";
import { statementsSheet } from "./statements-sheet.js";
import { askingOf, testedStatement } from "./statement-tested.js";
import { untested, type Tested } from "./statement-ground.js";
import { sweptStatement, sweptTable, toSweep, type StatementToSweep } from "./swept-statements.js";
import type { TurnedVerdict } from "./swept-verdicts.js";
import {
  judgedInterval,
  ratingOf,
  statementFigures,
  statementFormsTable,
  statementLine,
  statementProblemsTable,
  statementsTable,
  statementTrialsTable,
  trialsOn,
  verdictCounts,
  type JudgedStatement,
} from "./statements-shown.js";

export const statementsOption = option(statementsGiven.optional(), {
  help: "statements: a table with the column statement, JSON, or one sentence a line (twenty of common practice unless told)",
  value: "<file>",
  namesFile: true,
});

const shape = {
  statements: statementsOption,
  sweep: option(onOff(), {
    help: "how each verdict moves with one choice at a time, and at the two extremes",
  }),
  ...rowShape,
  confidence: confidenceOption,
  ...assumptionShape,
};

const openInterval = z.object({ low: z.number().nullable(), high: z.number().nullable() });
const besideSchema = z.object({
  study: z.string(),
  value: z.number().nullable(),
  interval: intervalSchema.nullable(),
});

/** The question that says what trial would settle an open statement, by its own rows and claim. */
const settlesOf = ({ tested, verdict }: JudgedStatement, place: number) =>
  tested?.settle === undefined ||
  tested.settle.cannot !== undefined ||
  verdict === "supported" ||
  verdict === "against"
    ? undefined
    : { question: "settle", options: { statement: String(place + 1) } };

const settledBy = (all: readonly JudgedStatement[]): readonly string[] => {
  const open = all.flatMap((one, place) =>
    settlesOf(one, place) === undefined ? [] : [`${place + 1}`],
  );
  return open.length === 0
    ? []
    : [
        `What trials would settle those that are open can be asked of each, by its own rows and claim, in the question what trial would settle it: ${listed(open)}.`,
      ];
};

/** Every statement of a file with its verdict, the intervals adjusted for how many are asked together. */
const judgedStatements = (evidence: Evidence, options: Options<typeof shape>, tell: Tell) => {
  const { statements: read, problems } = readStatements(options.statements ?? exampleStatements);
  const asked = read.map((one) => {
    if (one.reading === undefined) return { read: one };
    tell(one.statement);
    try {
      return { read: one, tested: testedStatement(askingOf(evidence, one.reading, options)) };
    } catch (error) {
      // What one statement asks wrongly costs no other.
      if (!(error instanceof CallError)) throw error;
      return { read: one, tested: untested(one.reading.outcome, 1, error.message) };
    }
  });
  const isTestable = (tested: Tested | undefined): tested is Tested =>
    tested?.side !== undefined && tested.studies >= tested.needed;
  const shares = ({ tested }: (typeof asked)[number]): boolean =>
    isTestable(tested) && tested.isFixed === undefined;
  const judged = judgedTogether(
    asked.map((one) => (shares(one) ? { side: one.tested!.side! } : {})),
    options.confidence,
  );
  const all = asked.map((one, place): JudgedStatement => {
    const { tested } = one;
    if (tested === undefined) return one;
    const own =
      judged[place] ??
      (isTestable(tested)
        ? { confidence: options.confidence, side: tested.side!(options.confidence) }
        : undefined);
    const on = (side: "inside" | "outside"): number => trialsOn(one, side).length;
    return {
      ...one,
      ...(own === undefined ? {} : { judged: own }),
      verdict: statementVerdict({
        ...tested,
        side: own?.side,
        forIt: on("inside"),
        againstIt: on("outside"),
      }),
    };
  });
  return {
    all,
    askedTogether: asked.filter(shares).length,
    problems: [...problems, ...read.flatMap((one) => one.problems)],
  };
};

/** A file made ready for its statements. */
type StatementsWork = Readonly<{
  evidence: Evidence;
  /** Made when it is first wanted: who only helps with the sweep does without. */
  judged: () => ReturnType<typeof judgedStatements>;
  /** By their places; null where nothing could be chosen otherwise. */
  swept: Map<number, TurnedVerdict | null>;
}>;

/** Statements whose sweep is still to be asked. */
const sweptLeft = ({ judged, swept }: StatementsWork): readonly StatementToSweep[] =>
  judged().all.flatMap((one, place) => (swept.has(place) ? [] : (toSweep(one, place) ?? [])));

/** Of a sweep, each statement is a piece. */
const statementsSharing: Sharing<Options<typeof shape>, StatementsWork> = {
  pieces: (work, { sweep }) => (sweep ? sweptLeft(work) : []),
  done: ({ evidence }, options, piece: StatementToSweep) =>
    sweptStatement(evidence, piece, options) ?? null,
  keep: ({ swept }, _, { place }: StatementToSweep, turned: TurnedVerdict | null) =>
    void swept.set(place, turned),
  told: (work) => {
    const { size } = work.swept;
    return `other choices: ${size} of ${counted(size + sweptLeft(work).length, "statement")}`;
  },
};

/** What a file says to each statement: verdicts by stated rules, intervals adjusted for how many are asked together. */
export const statements = question({
  id: "statements",
  options: shape,
  choices: [],
  data: {
    /** How many statements have an interval and share the level. */
    askedTogether: z.number(),
    statements: z.array(
      z.looseObject({
        line: z.number(),
        statement: z.string(),
        form: z.record(z.string(), z.string()),
        proposed: z.array(z.string()),
        asked: z.array(z.object({ field: z.string(), question: z.string() })),
        verdict: z.enum(statementVerdicts).nullable(),
        about: z.string().optional(),
        unit: z.string().optional(),
        claimed: openInterval.optional(),
        estimate: z.number().optional(),
        interval: openInterval.optional(),
        adjusted: openInterval.optional(),
        coverage: z.number().optional(),
        predictionInterval: intervalSchema.nullable().optional(),
        studies: z.number().optional(),
        why: z.string().optional(),
        for: z.array(besideSchema).optional(),
        against: z.array(besideSchema).optional(),
        silent: z.array(besideSchema).optional(),
        /** As the rules propose it, from what the file holds; null where nothing was estimated. */
        certainty: z.looseObject({ certainty: z.string() }).nullable(),
        /** Under other choices; null where that is not asked for or nothing of this file bears on it. */
        swept: z
          .looseObject({ verdict: z.string(), stays: z.number(), ways: z.number() })
          .nullable(),
        /** The question that says what trial would settle it, and its options; null for what is decided. */
        settles: z
          .object({ question: z.string(), options: z.record(z.string(), z.string()) })
          .nullable(),
      }),
    ),
    problems: z.array(
      z.looseObject({
        line: z.number(),
        column: z.string(),
        value: z.string(),
        message: z.string(),
        mend: z.string(),
      }),
    ),
  },
  prepare: (evidence, options, tell) => {
    usableRows(evidence);
    let made: ReturnType<typeof judgedStatements> | undefined;
    return {
      evidence,
      judged: () => (made ??= judgedStatements(evidence, options, tell)),
      swept: new Map<number, TurnedVerdict | null>(),
    };
  },
  sharing: statementsSharing,
  answer: (prepared, options, tell) => {
    const { confidence, statements: given } = options;
    const { evidence, judged, swept } = prepared;
    const { askedTogether, problems } = judged();
    if (options.sweep)
      for (const one of sweptLeft(prepared)) {
        tell(`other choices: ${judged().all[one.place]!.read.statement}`);
        swept.set(one.place, sweptStatement(evidence, one, options) ?? null);
      }
    const all = judged().all.map((one, place): JudgedStatement => {
      const turned = options.sweep ? swept.get(place) : undefined;
      return turned === undefined || turned === null ? one : { ...one, swept: turned };
    });
    const { source } = evidence;
    const nothing = refusal("no-values", "the file of statements holds none");
    const counts = `Of ${counted(all.length, "statement")}${given === undefined ? " of common practice" : ""}: ${verdictCounts(all)}.`;
    return {
      headline: all.length === 0 ? `No verdict: ${nothing.reason}.` : counts,
      sentences: [...all.map(statementLine), ...settledBy(all)],
      tables: [
        folded(statementsTable(all, askedTogether)),
        ...statementProblemsTable(problems),
        ...sweptTable(all),
        ...statementTrialsTable(all, confidence),
        statementFormsTable(all),
      ],
      sheets:
        all.length === 0
          ? []
          : [
              {
                name: "statements.html",
                title: "the lecturer's page, a line each",
                html: statementsSheet(all, counts, source, askedTogether),
              },
            ],
      figures: statementFigures(all, counts, askedTogether),
      refusal: all.length === 0 ? nothing : undefined,
      data: {
        confidence,
        rowsUsed: [...new Set(all.flatMap(({ tested }) => tested?.lines ?? []))].sort(
          (a, b) => a - b,
        ),
        askedTogether,
        statements: all.map((one, place) => {
          const { read, tested, judged, verdict } = one;
          return {
            line: read.line,
            statement: read.statement,
            form: read.cells,
            proposed: read.proposed,
            asked: read.asked,
            verdict: verdict ?? null,
            certainty: ratingOf(one) ?? null,
            swept: one.swept ?? null,
            settles: settlesOf(one, place) ?? null,
            ...(tested === undefined
              ? {}
              : {
                  about: tested.about,
                  unit: tested.unit,
                  claimed: tested.claimed,
                  estimate: tested.estimate,
                  interval: tested.interval?.(confidence),
                  adjusted: judgedInterval(one),
                  coverage: judged?.confidence,
                  predictionInterval: tested.further,
                  studies: tested.studies,
                  why: tested.why,
                  for: trialsOn(one, "inside"),
                  against: trialsOn(one, "outside"),
                  silent: trialsOn(one, "neither"),
                }),
          };
        }),
        problems,
      },
    };
  },
});
