/** What a file's evidence lets expect of a protocol: three ranges, their course, the evidence near it. */
import * as z from "zod";
import type { Refusal } from "../errors.js";
import { projectProtocol, type Projection } from "../projection/project-protocol.js";
import { sorenessNotes, type SorenessNote } from "../projection/soreness.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { kebabName } from "../tables/dose-table.js";
import { holdDoseTable } from "../tables/hold-table.js";
import { projectionModelSentence } from "../tables/projection-basis-table.js";
import { nearestTable, supportSentences } from "../tables/projection-support-table.js";
import {
  projectionAnswer,
  projectionCourseTable,
  projectionRefusalAnswer,
  projectionTable,
} from "../tables/projection-table.js";
import { folded, type Table } from "../tables/table.js";
import { noteSchema, type AnswerDraft } from "./answer.js";
import { linesOf } from "./evidence.js";
import {
  basisOf,
  basisTables,
  gainAtBothEnds,
  goalChoices,
  goalFit,
  goalShape,
  priorsAskedFor,
  projectOptionsOf,
  rangeSchema,
  worthwhileOption,
  type GoalBasis,
} from "./goal-fit.js";
import { question } from "./question.js";
import {
  assumedOf,
  judgedSession,
  namedAs,
  nameOption,
  oneSession,
  protocolOption,
  readProtocol,
  sessionFigure,
  sorenessOf,
  type JudgedSession,
} from "./session.js";

export type ProjectData = Readonly<{
  /** As `projectProtocol` gives it. */
  answer: Projection | null;
  canBeHeld: ReturnType<typeof heldOf>;
  basis: GoalBasis | null;
  soreness: readonly SorenessNote[];
}>;

const heldOf = ({ assessment, words }: JudgedSession) =>
  assessment === undefined
    ? ({ judged: false, words } as const)
    : ({
        judged: true,
        words,
        grade: assessment.grade,
        ungraded: assessment.ungraded ?? null,
        smallestReservePercent: assessment.smallestReservePercent,
      } as const);

/** One protocol on what a file says of a goal. */
export const project = question({
  id: "project",
  options: {
    protocol: protocolOption,
    ...goalShape,
    worthwhile: worthwhileOption("gain"),
    name: nameOption,
  },
  choices: ["protocol", "worthwhile", "name", ...goalChoices],
  data: {
    answer: z
      .looseObject({
        written: z.string(),
        weeks: z.number(),
        ranges: z.object({ average: rangeSchema, newGroup: rangeSchema, person: rangeSchema }),
      })
      .nullable(),
    canBeHeld: z.looseObject({ judged: z.boolean(), words: z.string() }),
    basis: z.looseObject({}).nullable(),
    soreness: z.array(noteSchema),
  },
  prepare: goalFit,
  answer: (fitted, options, tell): AnswerDraft<ProjectData> => {
    const p = readProtocol(options.protocol, options.joint);
    const session = judgedSession(p);
    const fit = fitted(tell);
    const { confidence, contrast, worthwhile, goal } = options;
    const { suffix, lead } = namedAs(options.name);
    const id = `${kebabName(goal)}${suffix}`;
    const titled = (table: Table): Table => ({ ...table, title: lead(table.title) });
    const soreness = titled(
      sorenessOf([{ name: oneSession, prescription: p }], `soreness${suffix}`),
    );
    const protocolWords = `${writePrescription(p)}. ${session.words}`;
    const shared = { canBeHeld: heldOf(session), soreness: sorenessNotes(p) };
    const refused = (refusal: Refusal, headline: string, tables: readonly Table[] = []) => ({
      headline: lead(headline),
      sentences: [protocolWords, ...assumedOf(options.protocol)],
      tables: [...tables.map(titled), soreness],
      figures: sessionFigure(p, session, `hold-strip${suffix}`),
      prescriptions: [p],
      refusal,
      data: {
        ...shared,
        answer: null,
        basis: fit.kind === "fit" ? basisOf(fit) : null,
        confidence,
        contrast,
        scale: "log-ratio-of-means",
      },
    });
    if (fit.kind === "refusal")
      return refused(fit, `Nothing is projected for ${goal}: ${fit.reason}.`);
    const { prepared } = fit;
    tell("projecting");
    const answer = projectProtocol(prepared, p, {
      ...projectOptionsOf(options),
      ...(worthwhile === undefined ? {} : { smallestWorthwhilePercent: worthwhile }),
    });
    if (answer.kind === "refusal")
      return refused(
        answer,
        projectionRefusalAnswer(answer),
        answer.nearest === undefined ? [] : [nearestTable([answer.nearest], `nearest-${id}`)],
      );
    const shown = {
      confidence,
      id: `projection-${id}`,
      ...(fit.untrained === undefined ? {} : { untrained: fit.untrained }),
      ...(worthwhile === undefined ? {} : { smallestWorthwhilePercent: worthwhile }),
    };
    return {
      headline: lead(
        `${projectionAnswer(answer, prepared, confidence).slice(0, -1)}${priorsAskedFor(options)}.`,
      ),
      sentences: [
        protocolWords,
        ...assumedOf(options.protocol),
        ...gainAtBothEnds(options.protocol, prepared, options),
        ...supportSentences(answer),
        ...fit.selection,
        projectionModelSentence(prepared),
      ],
      tables: [
        titled(projectionTable(answer, prepared, shown)),
        folded(titled(projectionCourseTable(answer, prepared, shown))),
        titled(nearestTable(answer.support.nearest, `nearest-${id}`)),
        folded(titled({ ...holdDoseTable(p), id: `dose${suffix}` })),
        ...basisTables(fit, options),
        folded(soreness),
      ],
      figures: [
        ...sessionFigure(p, session, `hold-strip${suffix}`),
        {
          name: "projection",
          data: {
            id: `projection-${id}`,
            ...(options.name === undefined ? {} : { name: options.name }),
            projection: answer,
            prepared: { contrast: prepared.contrast, weeksStudied: prepared.weeksStudied },
            confidence,
            ...(session.timeline === undefined ? {} : { timeline: session.timeline }),
          },
        },
        ...(prepared.leftOut.trials.length === 0
          ? []
          : [
              {
                name: "left-out" as const,
                data: {
                  id: `left-out-${kebabName(goal)}`,
                  prepared: { goal, contrast: prepared.contrast, leftOut: prepared.leftOut },
                },
              },
            ]),
      ],
      notes: [...answer.assumed, ...answer.notes, ...(session.assessment?.statements ?? [])],
      prescriptions: [p],
      data: {
        ...shared,
        answer,
        basis: basisOf(fit),
        confidence,
        contrast,
        scale: "log-ratio-of-means",
        rowsUsed: linesOf(prepared.set),
      },
    };
  },
});
