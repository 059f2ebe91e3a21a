/** Within limits of time and intensity, the protocols that are expected to give the most for the time. */
import * as z from "zod";
import {
  exploreDefaults,
  exploreProtocols,
  lowestEffortCeiling,
  type Frontier,
} from "../projection/explore-protocols.js";
import { keptGrades } from "../endurance/what-would-fit.js";
import { muscleLengths } from "../protocol/prescription.js";
import { kebabName } from "../tables/dose-table.js";
import { capital } from "../tables/number-format.js";
import { frontierSentences, frontierStepsTable, frontierTable } from "../tables/frontier-table.js";
import { projectionModelSentence } from "../tables/projection-basis-table.js";
import { personSentences } from "../tables/projection-table.js";
import type { AnswerDraft } from "./answer.js";
import { linesOf } from "./evidence.js";
import {
  basisOf,
  basisTables,
  goalChoices,
  goalFit,
  goalShape,
  priorsAskedFor,
  projectOptionsOf,
  type GoalBasis,
} from "./goal-fit.js";
import { aNumber, oneOf, option, someOf } from "./option.js";
import { question } from "./question.js";

export type ExploreData = Readonly<{
  /** As `exploreProtocols` gives it. */
  answer: Frontier | null;
  basis: GoalBasis | null;
}>;

/** The frontier of expected gain against time. */
export const explore = question({
  id: "explore",
  options: {
    minutes: option(aNumber({ above: 0, needs: "a number of minutes above 0" }), {
      help: "longest session, minutes, rests included",
      value: "<number>",
    }),
    sessions: option(aNumber({ least: 1, needs: "at least one session a week" }), {
      help: "most sessions a week",
      value: "<number>",
    }),
    intensityUpTo: option(
      aNumber({
        least: lowestEffortCeiling,
        most: 100,
        needs: `${lowestEffortCeiling} to 100 percent of MVC`,
      }),
      { help: "highest intensity, percent of MVC", value: "<percent>", formerly: "effortUpTo" },
    ),
    weeks: option(aNumber({ above: 0, needs: "a number of weeks above 0" }).optional(), {
      help: "length of the programme; the file's usual one unless told",
      value: "<number>",
      labels: { "": "as in most rows" },
    }),
    length: option(someOf(muscleLengths).optional(), {
      help: "muscle lengths that may be trained at: short, middle, long; those of the file unless told",
      value: "<lengths>",
      label: "Muscle length",
      labels: { "": "those of the file" },
      repeats: true,
    }),
    leastRest: option(
      aNumber({ least: 0, needs: "a number of seconds, 0 or more" }).default(
        exploreDefaults.leastRestSeconds,
      ),
      {
        help: "shortest rest of a proposal, seconds",
        value: "<seconds>",
        label: "Shortest rest, s",
      },
    ),
    keep: option(oneOf(keptGrades).default(exploreDefaults.keep), {
      help: `worst grade of the endurance model that is kept: ${keptGrades.join(", ")}`,
      value: "<grade>",
      label: "Held at worst",
    }),
    ...goalShape,
  },
  choices: [
    "minutes",
    "sessions",
    "intensityUpTo",
    "weeks",
    "length",
    "leastRest",
    "keep",
    ...goalChoices,
  ],
  data: {
    answer: z
      .looseObject({
        points: z.array(z.looseObject({ written: z.string(), minutesPerWeek: z.number() })),
        tried: z.number(),
        excluded: z.object({
          tooLong: z.number(),
          cannotBeHeld: z.number(),
          notSupported: z.number(),
        }),
      })
      .nullable(),
    basis: z.looseObject({}).nullable(),
  },
  prepare: goalFit,
  answer: (fitted, options, tell): AnswerDraft<ExploreData> => {
    const { confidence, contrast, goal, keep, weeks, length } = options;
    const fit = fitted(tell);
    tell("searching; this may take some seconds");
    const { confidence: _range, ...person } = projectOptionsOf(options);
    const answer =
      fit.kind === "refusal"
        ? fit
        : exploreProtocols(
            fit.prepared,
            {
              minutesPerSession: options.minutes,
              sessionsPerWeek: options.sessions,
              effortCeilingPercent: options.intensityUpTo,
              leastRestSeconds: options.leastRest,
              ...person,
              ...(weeks === undefined ? {} : { weeks }),
              ...(length === undefined ? {} : { muscleLengths: length }),
            },
            { keep, confidence },
          );
    const data = {
      basis: fit.kind === "fit" ? basisOf(fit) : null,
      confidence,
      contrast,
      scale: "log-ratio-of-means",
    };
    if (answer.kind === "refusal" || fit.kind === "refusal")
      return {
        headline: `Nothing is found for ${goal}: ${(answer as { reason: string }).reason}.`,
        prescriptions: [],
        ...(answer.kind === "refusal" ? { refusal: answer } : {}),
        data: { ...data, answer: null },
      };
    const { prepared } = fit;
    const id = `frontier-${kebabName(goal)}`;
    const [searched = "", ends = ""] = frontierSentences(answer, { confidence });
    return {
      headline: `${capital(goal)}: ${ends.charAt(0).toLowerCase()}${ends.slice(1, -1)}${priorsAskedFor(options)}.`,
      sentences: [
        searched,
        ...personSentences(prepared),
        ...fit.selection,
        projectionModelSentence(prepared),
      ],
      tables: [
        frontierTable(answer, prepared, { confidence, id }),
        ...(answer.points.length < 2 ? [] : [frontierStepsTable(answer, { confidence, id })]),
        ...basisTables(fit, options),
      ],
      figures: [
        {
          name: "frontier",
          data: { id, frontier: answer, prepared: { contrast: prepared.contrast }, confidence },
        },
      ],
      notes: [...answer.notes, ...answer.points.flatMap(({ projection }) => projection.assumed)],
      prescriptions: answer.points.map(({ prescription }) => prescription),
      data: { ...data, answer, rowsUsed: linesOf(prepared.set) },
    };
  },
});
