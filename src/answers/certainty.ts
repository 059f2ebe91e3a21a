/** How sure every headline is, in a word with its reasons; and the findings of a file in one table. */
import * as z from "zod";
import { certainties } from "../certainty/rating.js";
import { refusal } from "../errors.js";
import { grouped } from "../records/grouped.js";
import { counted } from "../tables/number-format.js";
import { intervalSchema, toldOrRefusedShape } from "./answer.js";
import { decisionColumns, isAbout, readDecisions } from "./certainty-decisions.js";
import { certaintyOf } from "./certainty-of.js";
import {
  certaintyWords,
  findingsTable,
  inDeviations,
  numbersOf,
  rulesTable,
  toConfirm,
  type RatedGroup,
} from "./certainty-told.js";
import { amountFor, amountOption } from "./counted-amount.js";
import { effectShape, gainContrastOption } from "./effect-options.js";
import { linesOf } from "./evidence.js";
import { option, resolvedOptions, text } from "./option.js";
import { together, type AnswerPart } from "./outcome-groups.js";
import { chosenGroups, pool, poolShape, type PreparedPool } from "./pool.js";
import { aboutGroup } from "./pool-words.js";
import { preparedFor } from "./prepared.js";
import { question, type Options } from "./question.js";
import { selectionOf } from "./selection-told.js";
import { sizeRegression } from "./size-regression.js";

export const decisionsOption = option(text().optional(), {
  help: `a small table of what a person decided (certainty.csv): ${decisionColumns.join(", ")}`,
  value: "<file>",
  namesFile: true,
});

const shape = {
  outcome: poolShape.outcome,
  ...effectShape,
  contrast: gainContrastOption,
  amount: amountOption,
  decisions: decisionsOption,
};
type Asked = Options<typeof shape>;

/** The word with what made it; every reason with its numbers stands in the table. */
const ratingSentence = ({ rated }: RatedGroup): string => {
  const { starts, concerns, decisions } = rated.rating;
  const lowered = concerns.flatMap(({ domain, lowered: own }) => {
    const by = decisions.find((one) => one.domain === domain)?.levels ?? own ?? 0;
    return by === 0 ? [] : [`${domain}${by === 1 ? "" : ` (by ${by} levels)`}`];
  });
  return `certainty is ${certaintyWords(rated)}; it starts ${starts}${lowered.length === 0 ? "" : `, lowered for ${lowered.join(", ")}`}.`;
};

/** The leading finding in a sentence of its own; of the others, those that are rated alike are told together. */
const partsOf = (
  [leading, ...others]: readonly RatedGroup[],
  { contrast }: Asked,
): readonly AnswerPart[] =>
  leading === undefined
    ? []
    : [[leading], ...grouped(others, ratingSentence).values()].map((alike) => {
        const groups = alike.map(({ prepared }) => prepared.group);
        const label = groups.map((group) => group.label).join("; ");
        const about = aboutGroup({ ...groups[0]!, label }, contrast);
        return { headline: `${about}: ${ratingSentence(alike[0]!)}` };
      });

/** A rating for every headline, by rule and by a person; the findings in one table. */
export const certainty = question({
  id: "certainty",
  options: shape,
  choices: ["outcome", "amount", "decisions"],
  data: {
    groups: z.array(
      z.looseObject({
        group: z.string(),
        id: z.string(),
        certainty: z.enum(certainties).nullable(),
        proposed: z.enum(certainties).optional(),
        decided: z.enum(certainties).nullable().optional(),
        starts: z.enum(certainties).optional(),
        allocation: z.string().optional(),
        concerns: z
          .array(
            z.object({
              domain: z.string(),
              lowered: z.number().nullable(),
              rule: z.string(),
              numbers: z.string(),
            }),
          )
          .optional(),
        decisions: z.array(z.looseObject({ domain: z.string(), reason: z.string() })).optional(),
        people: z.number().optional(),
        interval: intervalSchema.optional(),
        ...toldOrRefusedShape,
      }),
    ),
  },
  prepare: (evidence, { amount: _amount, decisions: _decisions, ...asked }, tell) => {
    const under = (more: object) =>
      preparedFor<typeof poolShape, PreparedPool>(
        pool,
        evidence,
        resolvedOptions(poolShape, { ...asked, ...more }),
        tell,
      );
    const pooled = under({});
    const deviations =
      evidence.kind === "ready effects" || asked.scale === inDeviations
        ? pooled
        : under({ scale: inDeviations });
    return { pooled, deviations };
  },
  answer: ({ pooled, deviations }, asked, tell) => {
    const { decisions, withoutLevels } =
      asked.decisions === undefined
        ? { decisions: [], withoutLevels: 0 }
        : readDecisions(asked.decisions);
    const groups = chosenGroups(pooled.groups, asked.outcome);
    const rated = groups.flatMap((prepared): readonly RatedGroup[] => {
      const average = prepared.headline();
      const { set } = prepared.group.headline;
      if (average.kind === "refusal" || set === undefined) return [];
      tell(`how sure: ${prepared.group.label}`);
      const { id, label, kind, headline } = prepared.group;
      const beside = deviations.groups.find(({ group }) => group.id === id);
      const inUnits = beside?.headline();
      const { result } = average;
      return [
        {
          prepared,
          deviations: beside,
          rated: certaintyOf(
            {
              effects: set.effects,
              weightsPercent: result.weightsPercent,
              estimate: result.estimate,
              interval: result.interval,
              range: result.predictionInterval,
              iSquaredPercent: result.heterogeneity.iSquaredPercent,
              amount: amountFor(set, kind?.family ?? "", asked.amount),
              deviations: inUnits?.kind === "average" ? inUnits.result.estimate : undefined,
              smallStudies: sizeRegression(headline, { confidence: asked.confidence }),
              selection: selectionOf(prepared, asked.confidence),
            },
            decisions.filter(isAbout([id, label], asked.contrast)),
          ),
        },
      ];
    });
    const nothing = refusal("no-effects", "there is no average to be sure of");
    const part = together(partsOf(rated, asked), pooled.rows, nothing);
    const unused = decisions.filter(
      (one) =>
        !groups.some(({ group: { id, label } }) => isAbout([id, label], asked.contrast)(one)),
    ).length;
    return {
      ...part,
      sentences: [
        ...part.sentences,
        ...(unused === 0 || asked.outcome !== undefined
          ? []
          : [
              `${counted(unused, "decision")} ${unused === 1 ? "is" : "are"} about no finding of this contrast.`,
            ]),
        ...(withoutLevels === 0
          ? []
          : [
              `${counted(withoutLevels, "row")} of the decisions ${withoutLevels === 1 ? "gives" : "give"} a reason and no levels, and ${withoutLevels === 1 ? "decides" : "decide"} nothing yet.`,
            ]),
      ],
      tables:
        rated.length === 0
          ? []
          : [findingsTable(rated, asked), rulesTable, toConfirm(rated, asked)],
      notes: pooled.notes,
      data: {
        scale: pooled.set?.scale ?? null,
        contrast: asked.contrast,
        confidence: asked.confidence,
        rowsUsed: linesOf({
          effects: rated.flatMap(({ prepared }) => prepared.group.headline.set?.effects ?? []),
        }),
        groups: groups.map((prepared) => {
          const { id, label: group } = prepared.group;
          const one = rated.find((found) => found.prepared === prepared);
          if (one === undefined)
            return { kind: "refusal" as const, group, id, certainty: null, refusal: nothing };
          const { rating, facts } = one.rated;
          return {
            kind: "told" as const,
            ...{ group, id, certainty: rating.certainty, proposed: rating.proposed },
            ...{ decided: rating.decided, starts: rating.starts, allocation: facts.allocation },
            concerns: rating.concerns.map((concern) => ({
              ...concern,
              numbers: numbersOf(concern, one.rated, prepared),
            })),
            decisions: [...rating.decisions],
            ...{ people: facts.people, interval: facts.interval },
          };
        }),
      },
    };
  },
});
