/** Two to six protocols side by side: differences with their ranges, chances, direct trials, what each takes. */
import * as z from "zod";
import { CallError, type Refusal } from "../errors.js";
import {
  comparedProtocols,
  compareProtocols,
  type ProtocolComparison,
} from "../projection/compare-protocols.js";
import {
  adjustableFields,
  equaliseDefaults,
  equaliseProtocols,
  equalQuantities,
} from "../projection/equalise-protocols.js";
import { goalRecord } from "../projection/goals.js";
import { placeOfPrescription } from "../projection/support.js";
import { toldParts } from "../projection/told-parts.js";
import { protocolList } from "../protocol/protocol-list.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { kebabName } from "../tables/dose-table.js";
import { equalisedTable, headToHeadTable } from "../tables/comparison-evidence-table.js";
import {
  comparisonAnswer,
  comparisonCostTable,
  comparisonTable,
  differencesTable,
  isSameProtocol,
  verdictSentences,
} from "../tables/comparison-table.js";
import { folded } from "../tables/table.js";
import { projectionModelSentence } from "../tables/projection-basis-table.js";
import {
  projectionRefusalAnswer,
  projectionTable,
  sharedAverageAnswer,
  type SharedAverage,
} from "../tables/projection-table.js";
import type { AnswerDraft } from "./answer.js";
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
import { oneOf, option, text } from "./option.js";
import { question, type Options } from "./question.js";
import { trialComparisons } from "./trial-comparisons.js";
import { linesLike, trialsOfProtocols } from "./trials-beside.js";
import { differInWeeksAlone, sharedAverages } from "./shared-averages.js";
import {
  assumedOf,
  judgedSession,
  readProtocol,
  sessionsFigures,
  sorenessOf,
  type NamedPrescription,
} from "./session.js";

const compareShape = {
  protocol: option(z.array(z.string()).readonly().default([]), {
    help: "sessions, each in quotation marks",
    operand: "many",
  }),
  protocols: option(text().optional(), {
    help: "a list of protocols, one a line: name: 4 x 20 s at 70%",
    value: "<file>",
    namesFile: true,
  }),
  ...goalShape,
  worthwhile: worthwhileOption("difference"),
  equal: option(oneOf(equalQuantities).optional(), {
    help: `make every protocol equal to the first in this: ${equalQuantities.map(kebabName).join(", ")}`,
    value: "<quantity>",
    label: "Made equal to the first in",
    labels: { "": "nothing" },
  }),
  adjust: option(
    oneOf(adjustableFields, { holdSeconds: ["hold-length"] }).default(equaliseDefaults.adjust),
    {
      help: "the one field changed to make them equal: hold-length, repetitions, sets",
      value: "<field>",
      label: "By changing",
      labels: {
        holdSeconds: "the length of holds",
        repetitions: "the number of holds",
        sets: "the number of sets",
      },
    },
  ),
};

/** How many are compared, for those who offer them. */
export { comparedProtocols };

const letters = "ABCDEF";

/** A protocol as it was written, under its name. */
type WrittenProtocol = NamedPrescription & Readonly<{ written: string }>;

/** The protocols that are named, then those of the list; two to six in all. */
const namedProtocols = (options: Options<typeof compareShape>): readonly WrittenProtocol[] => {
  const typed = options.protocol.map((written, index) => ({
    name: letters[index] ?? String(index + 1),
    written,
  }));
  const listed = options.protocols === undefined ? [] : protocolList(options.protocols);
  const all = [...typed, ...listed].map(({ name, written }) => ({
    name,
    written,
    prescription: readProtocol(written, options.joint),
  }));
  const { fewest, most } = comparedProtocols;
  if (all.length < fewest || all.length > most)
    throw new CallError({
      code: "protocol-count",
      where: "a comparison",
      needs: `${fewest} to ${most} protocols, as words or in --protocols`,
      got: String(all.length),
      ...(all.length < fewest ? { try: "project takes one protocol" } : {}),
    });
  return all;
};

export type CompareData = Readonly<{
  /** As `compareProtocols` gives it, each without its course over weeks, which `project` gives. */
  answer: ProtocolComparison | null;
  /** The average of all trials after each length of training, where the file tells nothing of a protocol. */
  shared: readonly SharedAverage[] | null;
  /** Trials that compared two of the protocols themselves, a sentence each. */
  exactTrials: readonly string[];
  /** Protocols that stand outside the comparison, and why. */
  notCompared: readonly (Refusal & Readonly<{ name: string }>)[];
  basis: GoalBasis | null;
}>;

/** Protocols compared on what a file says of a goal. */
export const compare = question({
  id: "compare",
  options: compareShape,
  choices: ["protocol", "protocols", "worthwhile", "equal", "adjust", ...goalChoices],
  data: {
    answer: z
      .looseObject({
        protocols: z.array(z.looseObject({ name: z.string(), written: z.string() })),
        differences: z.array(
          z.looseObject({
            first: z.number(),
            second: z.number(),
            average: rangeSchema,
            newTrial: rangeSchema,
            probabilityFirstBetter: z.number(),
          }),
        ),
      })
      .nullable(),
    shared: z
      .array(
        z.object({
          names: z.array(z.string()),
          projection: z.looseObject({
            weeks: z.number(),
            ranges: z.object({ average: rangeSchema }).loose(),
          }),
        }),
      )
      .nullable(),
    exactTrials: z.array(z.string()),
    notCompared: z.array(z.looseObject({ name: z.string(), code: z.string(), reason: z.string() })),
    basis: z.looseObject({}).nullable(),
  },
  prepare: (evidence, options) => ({
    fitted: goalFit(evidence, options),
    trials: (confidence: number) => trialComparisons(evidence, { ...options, confidence }),
  }),
  answer: ({ fitted, trials }, options, tell): AnswerDraft<CompareData> => {
    const named = namedProtocols(options);
    const { confidence, contrast, goal, worthwhile, equal, adjust } = options;
    const equalise = equal === undefined ? undefined : { quantity: equal, adjust };
    // A quantity that cannot be made equal is found out before the file is fitted.
    if (equalise !== undefined)
      equaliseProtocols(
        named.map(({ prescription }) => prescription),
        equalise,
      );
    const fit = fitted(tell);
    const compareOf = (protocols: readonly NamedPrescription[]) =>
      compareProtocols(
        fit.kind === "fit" ? fit.prepared : { ...fit, goal, notes: [] },
        protocols.map(({ prescription }) => prescription),
        {
          ...projectOptionsOf(options),
          course: false,
          names: protocols.map(({ name }) => name),
          ...(worthwhile === undefined ? {} : { smallestWorthwhilePercent: worthwhile }),
          ...(equalise === undefined ? {} : { equalise }),
          ...(fit.kind === "fit" ? { curveOn: fit.curveOn } : {}),
        },
      );
    tell("comparing");
    const all = compareOf(named);
    const outside =
      all.kind === "refusal" && fit.kind === "fit"
        ? named.flatMap(({ name, prescription }) => {
            const refusal = all.refusals.find((one) => one.prescription === prescription);
            return refusal === undefined ? [] : [{ ...refusal, name }];
          })
        : [];
    const inside = named.filter(({ name }) => outside.every((one) => one.name !== name));
    // Made equal to a first that is left out would be equal to something else.
    const answer =
      all.kind === "refusal" &&
      outside.length > 0 &&
      inside.length >= comparedProtocols.fewest &&
      equalise === undefined
        ? compareOf(inside)
        : all;
    const shown: readonly NamedPrescription[] =
      answer.kind === "comparison" ? answer.protocols : named;
    const sessions = shown.map((protocol) => ({
      ...protocol,
      session: judgedSession(protocol.prescription),
    }));
    const strips = sessionsFigures("The sessions, to scale", sessions);
    const sessionWords = sessions.map(
      ({ name, prescription, session }) =>
        `${name}: ${writePrescription(prescription)}. ${session.words}`,
    );
    const ofWritten = (say: (written: string) => readonly string[]): readonly string[] =>
      named.flatMap(({ name, written }) => say(written).map((words) => `${name}: ${words}`));
    sessionWords.push(...ofWritten(assumedOf));
    const outsideWords = outside.map(
      (refusal) => `${refusal.name}: ${projectionRefusalAnswer(refusal)}`,
    );
    const prescriptions = shown.map(({ prescription }) => prescription);
    const asked = shown.map(({ name, prescription }) => ({
      name,
      place: placeOfPrescription(prescription, undefined, options.joint),
    }));
    const { family } = goalRecord(goal);
    const found = trials(confidence);
    const inTrials = trialsOfProtocols(found, family, confidence, asked);
    // A trial that compared exactly these says more than any model.
    const led = (headline: string) => {
      const [first, ...more] = inTrials.exact;
      return first === undefined
        ? { headline, before: [] }
        : { headline: first, before: [...more, headline] };
    };
    const data = {
      shared: null,
      exactTrials: inTrials.exact,
      notCompared: outside,
      basis: fit.kind === "fit" ? basisOf(fit) : null,
      confidence,
      contrast,
      scale: "log-ratio-of-means",
    };
    if (answer.kind === "refusal" || fit.kind === "refusal") {
      const refusal = fit.kind === "refusal" ? fit : (answer as Refusal);
      const { headline, before } = led(
        outside.length > 0
          ? `Nothing is compared: ${outside.length} of ${named.length} protocols cannot be projected for ${goal}.`
          : `Nothing is compared: ${refusal.reason}.`,
      );
      return {
        headline,
        sentences: [...before, ...outsideWords, ...sessionWords],
        tables: [...inTrials.tables, sorenessOf(shown)],
        figures: [...strips, ...inTrials.figures],
        prescriptions,
        refusal,
        data: { ...data, answer: null },
      };
    }
    const { prepared } = fit;
    const slug = kebabName(goal);
    const id = `comparison-${slug}`;
    if (!toldParts(prepared.design).ofProtocol) {
      const shared = sharedAverages(prepared, answer, projectOptionsOf(options));
      const { headline, before } = led(
        sharedAverageAnswer(shared, prepared, {
          differ: !answer.differences.every((pair) => isSameProtocol(answer, pair)),
          why: differInWeeksAlone(answer)
            ? "its trials compare no two such lengths of training"
            : undefined,
          confidence,
        }),
      );
      return {
        headline,
        sentences: [
          ...before,
          ...outsideWords,
          ...sessionWords,
          ...fit.selection,
          projectionModelSentence(prepared),
        ],
        tables: [
          ...shared.map(({ projection }) =>
            projectionTable(projection, prepared, {
              confidence,
              id: `${id}-average${shared.length === 1 ? "" : `-${projection.weeks}-weeks`}`,
              ...(fit.untrained === undefined ? {} : { untrained: fit.untrained }),
            }),
          ),
          ...inTrials.tables,
          ...basisTables(fit, options),
          folded(sorenessOf(shown)),
        ],
        figures: [...strips, ...inTrials.figures],
        notes: [...shared[0]!.projection.assumed, ...answer.notes],
        prescriptions,
        data: { ...data, answer: null, shared, rowsUsed: linesOf(prepared.set) },
      };
    }
    const compared: ProtocolComparison = {
      ...answer,
      differences: answer.differences.map((difference) => {
        const lines = linesLike(found, family, [
          asked[difference.first]!,
          asked[difference.second]!,
        ]);
        const unweighted =
          difference.headToHead.trials.length > 0 || lines.size === 0
            ? ""
            : fit.unweighted({ of: (rows) => rows.filter(({ line }) => lines.has(line)) });
        return unweighted === "" ? difference : { ...difference, unweighted };
      }),
    };
    const direct = headToHeadTable(compared, `head-to-head-${slug}`);
    const { headline, before } = led(
      `${comparisonAnswer(compared, prepared, confidence).slice(0, -1)}${priorsAskedFor(options)}.`,
    );
    return {
      headline,
      sentences: [
        ...before,
        ...sessionWords,
        ...ofWritten((written) => gainAtBothEnds(written, prepared, options)),
        ...outsideWords,
        ...verdictSentences(compared),
        ...fit.selection,
        projectionModelSentence(prepared),
      ],
      tables: [
        ...(answer.equalised === undefined
          ? []
          : [
              equalisedTable(
                answer.equalised,
                shown.map(({ name }) => name),
              ),
            ]),
        differencesTable(compared, { confidence, id }),
        ...(direct === undefined ? [] : [direct]),
        comparisonTable(compared, prepared, { confidence, id: `${id}-ranges` }),
        folded(comparisonCostTable(compared, `${id}-cost`)),
        ...basisTables(fit, options),
        ...inTrials.tables.map(folded),
        folded(sorenessOf(shown)),
      ],
      figures: [
        ...strips,
        {
          name: "comparison",
          data: {
            id,
            comparison: compared,
            prepared: { contrast: prepared.contrast },
            timelines: sessions.map(({ session }) => session.timeline),
            confidence,
          },
        },
      ],
      notes: [
        ...answer.protocols.flatMap(({ projection }) => projection.assumed),
        ...answer.notes,
        ...sessions.flatMap(({ session }) => session.assessment?.statements ?? []),
      ],
      prescriptions,
      data: { ...data, answer: compared, rowsUsed: linesOf(prepared.set) },
    };
  },
});
