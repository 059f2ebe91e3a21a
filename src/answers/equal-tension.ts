/** Does the same tension do the same when it is given in longer holds, or at higher intensity? */
import * as z from "zod";
import { doseOf } from "../dose/dose-axes.js";
import { equalTensionQuantities, equalTensionQuestions } from "../dose/equal-tension-pairs.js";
import {
  equalTension,
  equalTensionDefaults,
  type EqualTension,
  type EqualTensionAnswer,
} from "../dose/equal-tension.js";
import type { EffectSet } from "../effects/effect.js";
import { refusal } from "../errors.js";
import type { NamedFigure } from "../figures/figure-list.js";
import {
  equalTensionPairsTable,
  equalTensionSentence,
  equalTensionTable,
  sidesInWords,
} from "../tables/equal-tension-table.js";
import { capital } from "../tables/number-format.js";
import { folded } from "../tables/table.js";
import { armTimeline } from "./effects-figures.js";
import type { HeadlineGroup } from "./headline-selection.js";
import { valuesOf, type NotWeightedAbout } from "./not-weighted.js";
import { aNumber, oneOf, option } from "./option.js";
import {
  dataOf,
  doubtsOf,
  namingRows,
  outcomeGroups,
  outcomeShape,
  rowsOfGroup,
  selectionSentences,
  together,
  untoldOf,
  type AnswerPart,
} from "./outcome-groups.js";
import { question, type Options } from "./question.js";

const equalTensionShape = {
  ...outcomeShape,
  equal: option(
    oneOf(equalTensionQuantities, { "torque–time": ["torque time"] }).default(
      equalTensionDefaults.quantity,
    ),
    { help: "what has to be equal", value: "<quantity>" },
  ),
  tolerance: option(
    aNumber({ least: 0, needs: "a percentage of 0 or more" }).default(
      100 * equalTensionDefaults.tolerance,
    ),
    { help: "by how much the equal totals may differ, percent", value: "<percent>" },
  ),
  leastHoldRatio: option(
    aNumber({ above: 1, needs: "a ratio above 1" }).default(equalTensionDefaults.leastHoldRatio),
    {
      help: "the longer hold is at least so many times the shorter",
      value: "<ratio>",
      seldom: true,
    },
  ),
  leastIntensityPoints: option(
    aNumber({ above: 0, needs: "points of MVC above 0" }).default(
      equalTensionDefaults.leastIntensityPoints,
    ),
    {
      help: "the higher intensity is at least so many points of MVC above the lower",
      formerly: "leastEffortPoints",
      value: "<points>",
      seldom: true,
    },
  ),
};

type EqualTensionChoices = Options<typeof equalTensionShape>;

type PreparedGroup = Readonly<{
  group: HeadlineGroup;
  result: EqualTension;
  beside: readonly string[];
}>;

const resultOf = (set: EffectSet, label: string, options: EqualTensionChoices): EqualTension => {
  const { equal, tolerance, leastHoldRatio, leastIntensityPoints, confidence } = options;
  const result = equalTension(set, {
    quantity: equal,
    tolerance: tolerance / 100,
    leastHoldRatio,
    leastIntensityPoints,
    confidence,
  });
  return { ...result, answers: result.answers.map((answer) => ({ ...answer, family: label })) };
};

const idsOf = (answers: readonly EqualTensionAnswer[]): ReadonlySet<string> =>
  new Set(
    answers.flatMap(({ pairs }) =>
      pairs.flatMap(({ more, less }) => [more.effectId, less.effectId]),
    ),
  );

const figureOf = (
  { group: { id, headline } }: PreparedGroup,
  answer: EqualTensionAnswer,
  { quantity, tolerance, confidence }: EqualTension,
): readonly NamedFigure[] => {
  if (answer.pairs.length === 0) return [];
  const ids = idsOf([answer]);
  const timelines = headline.effects.flatMap(({ effectId, row }) => {
    const timeline = ids.has(effectId) ? armTimeline(row) : undefined;
    return timeline === undefined ? [] : [[effectId, timeline] as const];
  });
  return [
    {
      name: "equal-tension",
      data: {
        id: `equal-tension-${answer.question.replace(" ", "-")}-${id}`,
        answer,
        rules: { quantity, tolerance, confidence },
        scale: headline.scale,
        timelines: Object.fromEntries(timelines),
      },
    },
  ];
};

/** Arms without a weight are told by their holds. */
const holds: Required<NotWeightedAbout> = {
  of: (rows) => rows.filter((row) => doseOf(row, "holdSeconds") !== undefined),
  detail: (rows) => `holds of ${valuesOf(rows, (row) => doseOf(row, "holdSeconds")?.value)} s`,
};

/** What is said of one kind of outcome; the averages lead where there are any. */
const partOf = (one: PreparedGroup): AnswerPart => {
  const { group, result, beside } = one;
  const { scale } = group.headline;
  const sentences = result.answers.map((answer) => equalTensionSentence(answer, result, scale));
  const told = result.answers.map(({ headline }) => headline.answer.kind === "told");
  const order = [...sentences.filter((_, i) => told[i]), ...sentences.filter((_, i) => !told[i])];
  const [lead, ...more] = order.map(
    (sentence) => `${capital(group.label)}, at equal ${result.quantity}: ${sentence}.`,
  );
  const reason = result.answers
    .flatMap(({ headline }) => (headline.answer.kind === "told" ? [] : [headline.answer.reason]))
    .join("; ");
  return {
    headline:
      lead ?? `${capital(group.label)}: no answer; none of its rows is of the kind that leads.`,
    sentences: [...more, ...beside],
    figures: result.answers.flatMap((answer) => figureOf(one, answer, result)),
    notes: result.answers.flatMap(({ question, notes }) =>
      notes.map((note) => ({
        ...note,
        message: `${group.label}, ${sidesInWords[question]}: ${note.message}`,
      })),
    ),
    ...(told.includes(true)
      ? {}
      : { refusal: refusal("not-told", reason || "no row is of the kind that leads") }),
  };
};

/** Pairs of arms of one study with equal totals: longer against shorter holds, higher against lower intensity. */
export const equalTensionQuestion = question({
  id: "equal-tension",
  options: equalTensionShape,
  choices: [],
  data: {
    quantity: z.enum(equalTensionQuantities).optional(),
    tolerance: z.number().optional(),
    answers: z.array(
      z.looseObject({
        question: z.enum(equalTensionQuestions),
        family: z.string(),
        studies: z.number(),
        people: z.number(),
      }),
    ),
  },
  prepare: (evidence, options, tell) => {
    tell("effects");
    const { set, groups, unweighted } = outcomeGroups(evidence, options);
    return {
      set,
      unweighted,
      groups: groups.map((group): PreparedGroup => {
        tell(`pairs of equal ${options.equal}: ${group.label}`);
        const result = resultOf(group.headline, group.label, options);
        return {
          group,
          result,
          beside: selectionSentences(group, (all) => {
            const wider = resultOf(all, group.label, options);
            return `${wider.answers
              .map((answer) => equalTensionSentence(answer, wider, all.scale))
              .join("; ")}.`;
          }),
        };
      }),
    };
  },
  answer: ({ set, groups, unweighted }, { confidence }) => {
    const part = together(
      groups.map((one) =>
        namingRows(
          untoldOf(partOf(one), one.group.family, ["equal-tension"]),
          unweighted({ ...holds, of: (rows) => holds.of(rowsOfGroup(one.group)(rows)) }),
        ),
      ),
      unweighted(),
    );
    const [first] = groups;
    // Question by question, so that the table reads one after the other.
    const result: EqualTension | undefined =
      first === undefined
        ? undefined
        : {
            ...first.result,
            answers: equalTensionQuestions.flatMap((asked) =>
              groups.flatMap((one) => one.result.answers.filter((a) => a.question === asked)),
            ),
          };
    const paired = idsOf(result?.answers ?? []);
    const used = groups
      .flatMap(({ group }) => group.headline.effects)
      .filter(({ effectId }) => paired.has(effectId));
    return {
      ...part,
      // What stands on unlike scales stands in tables of its own.
      tables: [...new Set(groups.map(({ group }) => group.all.scale))].flatMap((scale, index) => {
        const labels = groups.flatMap(({ group }) =>
          group.all.scale === scale ? group.label : [],
        );
        const own = {
          ...result!,
          answers: result!.answers.filter(({ family }) => labels.includes(family)),
        };
        return [equalTensionTable(own, scale), folded(equalTensionPairsTable(own, scale))].map(
          (table) => (index === 0 ? table : { ...table, id: `${table.id}-${index + 1}` }),
        );
      }),
      notes: [...set.notes, ...doubtsOf(used), ...part.notes],
      data: {
        answers: [],
        ...result,
        ...dataOf(set, confidence, used),
      },
    };
  },
});
