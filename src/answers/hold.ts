/** What a session amounts to, whether it can be held, and what would make it fit. */
import * as z from "zod";
import { whatWouldFit } from "../endurance/what-would-fit.js";
import {
  holdGrades,
  type CanBeHeldOptions,
  type HoldAssessment,
} from "../endurance/can-be-held.js";
import { CallError, refusal } from "../errors.js";
import { sorenessNotes, type SorenessNote } from "../projection/soreness.js";
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
import { protocolLines, type ProtocolLine } from "../protocol/protocol-list.js";
import { writePrescription } from "../protocol/write-prescription.js";
import {
  expectedForcePercent,
  gradeWords,
  holdAnswer,
  holdCapacityTable,
  holdDoseTable,
  holdFitTable,
  holdLinesTable,
  holdSources,
  type HoldLine,
} from "../tables/hold-table.js";
import { counted } from "../tables/number-format.js";
import { folded, type Table } from "../tables/table.js";
import { noteSchema, type AnswerDraft } from "./answer.js";
import { oneOf, option, text, wordsOf } from "./option.js";
import { profileOption } from "./profile.js";
import { question } from "./question.js";
import {
  asAsked,
  assumedOf,
  atBothEnds,
  jointOption,
  judgedSession,
  namedAs,
  nameOption,
  oneSession,
  protocolOption,
  readProtocol,
  sessionFigure,
  sorenessOf,
  withJoint,
} from "./session.js";

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

/** The edges of what fits; none where there is no grade. */
const edges = (p: Prescription, holding: CanBeHeldOptions) => ({
  toSpare: whatWouldFit(p, { ...holding, keep: "to spare" }),
  hard: whatWouldFit(p, { ...holding, keep: "hard" }),
});

/** What scripts read of an assessment. */
const verdictOf = (a: HoldAssessment) => {
  const { low, central: middle, high } = a.smallestReservePercent;
  return {
    grade: a.grade,
    /** Why there is no grade; null where there is one. */
    ungraded: a.ungraded ?? null,
    /** Where a typical person runs out, `second` counted from the start of that hold. */
    firstFailure:
      a.failsAt === undefined
        ? null
        : {
            set: a.failsAt.set,
            hold: a.failsAt.repetition,
            second: a.failsAt.secondsIntoHold,
          },
    /** Least capacity above the load at the end of a hold, points of MVC; null without a grade. */
    sparePercentPoints: a.grade === null ? null : { low, middle, high },
    /** Of a maximal session, the force of the weakest hold, percent of MVC. */
    expectedForcePercent: a.ungraded === "maximal" ? expectedForcePercent(a) : null,
    /** Joint whose curve judges, or `general`. */
    joint: a.region,
    action: a.action,
  };
};
type Verdict = ReturnType<typeof verdictOf>;
const noVerdict = {
  grade: null,
  ungraded: null,
  firstFailure: null,
  sparePercentPoints: null,
  expectedForcePercent: null,
  joint: null,
  action: null,
};

export type HoldData = (Verdict | typeof noVerdict) &
  Readonly<{
    /** Null where a file of sessions is asked about. */
    written: string | null;
    prescription: Prescription | null;
    doses: ReturnType<typeof doses> | null;
    /** The grade and where the reserve runs out for whom, in a sentence. */
    answer: string | null;
    /** As `canBeHeld` gives it. */
    assessment: HoldAssessment | null;
    whatWouldFit: ReturnType<typeof edges> | null;
    /** Fields without which nothing can be judged. */
    needs: readonly string[];
    soreness: readonly SorenessNote[];
    /** Every line of the file that `protocols` names, with what became of it; null without one. */
    sessions:
      | readonly (Readonly<{
          line: number;
          name: string;
          written: string;
          problem: string | null;
        }> &
          (Verdict | typeof noVerdict))[]
      | null;
  }>;

/** What a session is judged with, or that it lacks something to be. */
const lineOf = (
  read: ProtocolLine,
  joint: Joint | undefined,
  holding: CanBeHeldOptions,
): HoldLine & Readonly<{ prescription?: Prescription }> => {
  const { line, name, written } = read;
  if ("problem" in read) return { line, name, written, problem: `cannot be read: ${read.problem}` };
  let whole: Prescription;
  try {
    whole = withJoint(read.prescription, joint);
  } catch (error) {
    if (!(error instanceof CallError)) throw error;
    const named = read.prescription.joint ?? "";
    return { line, name, written, problem: `names the ${named}, and the ${joint} is asked about` };
  }
  const p = asAsked(whole);
  const { assessment, words } = judgedSession(p, holding);
  return {
    line,
    name,
    written: writePrescription(whole),
    prescription: p,
    ...(assessment === undefined ? { problem: words } : { assessment }),
  };
};

/** Many sessions at once, each line for itself. */
const manySessions = (
  text: string,
  joint: Joint | undefined,
  holding: CanBeHeldOptions,
): AnswerDraft<HoldData> => {
  const lines = protocolLines(text).map((line) => lineOf(line, joint, holding));
  const judged = lines.filter(({ assessment }) => assessment !== undefined);
  const counts = new Map<string, number>();
  for (const { assessment } of judged) {
    const words = gradeWords(assessment!);
    counts.set(words, (counts.get(words) ?? 0) + 1);
  }
  const unjudged = lines.length - judged.length;
  const parts = [
    ...[...counts].map(([words, count]) => `${words} ${count}`),
    ...(unjudged === 0 ? [] : [`cannot be judged ${unjudged}`]),
  ];
  const notes = judged.flatMap(({ assessment }) => assessment!.statements);
  return {
    headline:
      lines.length === 0
        ? "No session stands in the file: write one a line."
        : `${counted(lines.length, "session")}: ${parts.join(", ")}.`,
    tables: [holdLinesTable(lines)],
    notes: [...new Map(notes.map((note) => [note.message, note])).values()],
    prescriptions: lines.flatMap(({ prescription }) => prescription ?? []),
    ...(judged.length > 0
      ? {}
      : {
          refusal: refusal("missing-field", "no line of the file is a session that can be judged"),
        }),
    data: {
      ...noVerdict,
      written: null,
      prescription: null,
      doses: null,
      answer: null,
      assessment: null,
      whatWouldFit: null,
      needs: [],
      soreness: [],
      sessions: lines.map(({ line, name, written, problem = null, assessment }) => ({
        line,
        name,
        written,
        problem,
        ...(assessment === undefined ? noVerdict : verdictOf(assessment)),
      })),
    },
  };
};

const three = z.object({ low: z.number(), middle: z.number(), high: z.number() }).nullable();
const verdictShape = {
  grade: z.enum(holdGrades).nullable(),
  ungraded: z.string().nullable(),
  firstFailure: z.object({ set: z.number(), hold: z.number(), second: z.number() }).nullable(),
  sparePercentPoints: three,
  expectedForcePercent: three,
  joint: z.string().nullable(),
  action: z.string().nullable(),
};

/** One session drawn, reckoned up, and tried against endurance; or many, judged line by line. */
export const hold = question({
  id: "hold",
  options: {
    // Empty where a file of sessions is named instead.
    protocol: option(text().default(""), wordsOf(protocolOption)),
    protocols: option(text().optional(), {
      help: "a list of sessions to judge, one a line, with or without a name and a colon before it",
      value: "<file>",
      namesFile: true,
    }),
    joint: jointOption,
    name: nameOption,
    rates: option(oneOf(["default", "alternative"]).default("default"), {
      help: "published set of recovery rates: default or alternative",
      value: "<set>",
    }),
    profile: profileOption,
  },
  choices: ["protocol", "protocols", "joint", "rates", "name", "profile"],
  data: {
    ...verdictShape,
    written: z.string().nullable(),
    prescription: z.looseObject({}).nullable(),
    doses: z.record(z.string(), z.number().nullable()).nullable(),
    answer: z.string().nullable(),
    assessment: z
      .looseObject({
        smallestReservePercent: z.object({
          low: z.number(),
          central: z.number(),
          high: z.number(),
        }),
      })
      .nullable(),
    whatWouldFit: z.object({ toSpare: z.looseObject({}), hard: z.looseObject({}) }).nullable(),
    needs: z.array(z.string()),
    soreness: z.array(noteSchema),
    sessions: z
      .array(
        z.object({
          line: z.number(),
          name: z.string(),
          written: z.string(),
          problem: z.string().nullable(),
          ...verdictShape,
        }),
      )
      .nullable(),
  },
  prepare: () => undefined,
  answer: (_none, options): AnswerDraft<HoldData> => {
    const holding = { parameters: options.rates };
    if (options.protocols !== undefined && options.protocol === "")
      return manySessions(options.protocols, options.joint, holding);
    if (options.protocol === "" || options.protocols !== undefined)
      throw new CallError({
        code: "protocol-count",
        where: "hold",
        needs: "one session in quotation marks, or a file of sessions in --protocols",
        got: options.protocol === "" ? "neither" : "both",
      });
    const p = readProtocol(options.protocol, options.joint);
    const written = writePrescription(p);
    const session = judgedSession(p, holding);
    const { assessment, timeline, needs } = session;
    const fits = assessment === undefined || assessment.grade === null ? null : edges(p, holding);
    const shared = {
      written,
      prescription: p,
      doses: doses(p),
      soreness: sorenessNotes(p),
      needs,
      sessions: null,
    };
    const { suffix, lead } = namedAs(options.name);
    const titled = (table: Table): Table => ({
      ...table,
      id: `${table.id}${suffix}`,
      title: lead(table.title),
    });
    const doseTable = titled(holdDoseTable(p));
    const soreness = titled(sorenessOf([{ name: oneSession, prescription: p }]));
    const prescriptions = [p];
    if (assessment === undefined || timeline === undefined) {
      const example = "for example 4 × 20 s at 70%, rest 60 s";
      const reason = session.words.slice(0, -1);
      return {
        headline: lead(`${reason}; ${example}.`),
        sentences: [`${written}.`, ...assumedOf(options.protocol)],
        tables: [doseTable, soreness],
        notes: doseNotes(p),
        prescriptions,
        refusal: refusal("missing-field", `w${reason.slice(1)}`),
        data: { ...shared, ...noVerdict, answer: null, assessment: null, whatWouldFit: null },
      };
    }
    const answer = holdAnswer(assessment);
    return {
      headline: lead(answer),
      sentences: [
        `${written}.`,
        ...assumedOf(options.protocol),
        ...atBothEnds(options.protocol, options.joint, (end) => judgedSession(end, holding).words),
        holdSources(assessment),
      ],
      tables: [
        ...(fits === null ? [] : [titled(holdFitTable(p, fits.toSpare, fits.hard))]),
        folded(titled(holdCapacityTable(assessment, timeline))),
        folded(doseTable),
        folded(soreness),
      ],
      figures: [
        ...sessionFigure(p, session, `hold-strip${suffix}`),
        {
          name: "remaining-capacity",
          data: { id: `remaining-capacity${suffix}`, label: written, timeline, assessment },
        },
      ],
      notes: assessment.statements,
      prescriptions,
      data: {
        ...shared,
        ...verdictOf(assessment),
        answer,
        assessment,
        whatWouldFit: fits,
      },
    };
  },
});
