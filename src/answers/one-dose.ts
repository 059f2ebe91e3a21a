/** What a file says of the gain along one dose: slopes, shapes, the curve and what is read off it. */
import { collinearity, type CollinearPair } from "../dose/collinearity.js";
import { doseAxes, doseOf, mappedAxes, type DoseAxisName } from "../dose/dose-axes.js";
import { doseResponse, gainAt, type DoseResponse } from "../dose/dose-response.js";
import type { SeveralDoses } from "../dose/several-doses.js";
import type { AxisPromise } from "../dose/telling-axes.js";
import { judged, variableEvidence } from "../dose/variable-table.js";
import { withinBetweenSlope } from "../dose/within-between-slope.js";
import type { EffectSet } from "../effects/effect.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import { refusal, type Refusal } from "../errors.js";
import type { NamedFigure } from "../figures/figure-list.js";
import {
  doseReadOffsTable,
  doseSentences,
  doseShapesTable,
  doseShown,
  doseSlopesTable,
  doseVerdictWords,
  kebabName,
  scaledCoefficient,
  withStep,
} from "../tables/dose-table.js";
import { capital, confidenceWords, counted, formatCount } from "../tables/number-format.js";
import { collinearityTable } from "../tables/several-doses-table.js";
import { folded, type Table } from "../tables/table.js";
import { shownAmount, verdictWords } from "../tables/variables-table.js";
import { amountFor } from "./counted-amount.js";
import type { DoseOptions } from "./dose-options.js";
import { unweightedOf, type HeadlineGroup } from "./headline-selection.js";
import { borrowedIds, selectionSentences, type AnswerPart } from "./outcome-groups.js";
import { unsettled } from "./unsettled.js";

/** What one dose has to tell, before anything is fitted. */
export type DoseTold = Readonly<{ axis: DoseAxisName; label: string }> &
  Pick<AxisPromise, "evidence" | "missing" | "support">;

/** What scripts lean on: the answer of one dose or several, or what each has to tell. */
export type DoseAnswer = Readonly<{
  answer?: DoseResponse | SeveralDoses | Refusal;
  told?: readonly DoseTold[];
}>;

/** A question about doses asked of one kind of outcome. */
export type AskedDoses = Readonly<{
  /** @param at doses at which the gain is read besides */
  part: (at: readonly number[]) => AnswerPart;
  data: (at: readonly number[]) => DoseAnswer;
}>;

/** Questions that use the tests a headline leaves out. */
const askedElsewhere: Readonly<Partial<Record<DoseAxisName, string>>> = {
  angleDistanceDegrees: "the question joint-angle uses the tests at every angle",
  weeks: "the question time uses every week measured",
};

const curveOf = (
  set: EffectSet,
  on: DoseAxisName,
  options: DoseOptions,
): DoseResponse | Refusal => {
  const { shapes, comparisons, form, confidence, seed, draws, knots, step, stepsFrom } = options;
  try {
    const answer = doseResponse(set, on, {
      ...{ shapes, comparisons, form, confidence, seed, draws },
      ...(knots === undefined ? {} : { knots }),
      ...(step === undefined ? {} : { step }),
      ...(stepsFrom === undefined ? {} : { stepsFrom }),
    });
    return { ...answer, axis: withStep(answer.axis, step) };
  } catch (error) {
    return unsettled(error);
  }
};

const lower = (words: string): string => words.charAt(0).toLowerCase() + words.slice(1);

/** A table of one kind of outcome among those of others. */
export const inGroup = (table: Table, group: HeadlineGroup, about: string): Table => ({
  ...table,
  id: `${group.id}-${table.id}`,
  title: `${about}: ${lower(table.title)}`,
});

/** The map of the doses that move together; nothing where none vary. */
export const togetherFigure = (
  group: HeadlineGroup,
  pairs: readonly CollinearPair[],
  axis?: DoseAxisName,
): readonly NamedFigure[] =>
  pairs.every(({ toldApart }) => toldApart === "not studied")
    ? []
    : [
        {
          name: "doses-together",
          data: {
            id: `doses-together-${group.id}${axis === undefined ? "" : `-${kebabName(axis)}`}`,
            family: group.label,
            pairs,
          },
        },
      ];

/** What a straight line says of all angles and weeks: a whole curve is not fitted for one sentence. */
const lineOf = (
  all: EffectSet,
  on: DoseAxisName,
  { confidence, step }: Pick<DoseOptions, "confidence" | "step">,
): string => {
  const { axis: own, within } = withinBetweenSlope(all, on, { confidence });
  const axis = withStep(own, step);
  return within.kind === "refusal"
    ? `no straight line inside studies, as ${within.reason}.`
    : `by a straight line inside studies, ${axis.stepWords} adds ${doseShown(scaledCoefficient(within.robust, axis.step), all.scale, `${confidenceWords(confidence)} interval `)}.`;
};

/** The verdict on a dose by an amount that was asked for: that of the table of variables, of this dose alone. */
const verdictSentence = (
  { headline, label, family }: HeadlineGroup,
  on: DoseAxisName,
  { amount: asked, confidence }: DoseOptions,
): readonly string[] => {
  const amount = asked === undefined ? undefined : amountFor(headline, family, asked);
  if (amount === undefined) return [];
  const rows = judged(
    variableEvidence(headline, label, amount, { axes: [on], confidence }),
    confidence,
  );
  return rows.map((row) => {
    const words = verdictWords(row);
    const { reason } = row.verdict;
    return `Where ${shownAmount(amount, headline.scale)} is the amount that counts: ${words}${words === reason ? "" : `, as ${reason}`}.`;
  });
};

/** One dose asked of one kind of outcome. */
export const oneDose = (
  group: HeadlineGroup,
  on: DoseAxisName,
  options: DoseOptions,
): AskedDoses => {
  const axis = doseAxes[on];
  const answer = curveOf(group.headline, on, options);
  const beside = [
    ...verdictSentence(group, on, options),
    ...selectionSentences(group, (all) => lineOf(all, on, options)),
  ];
  const about = `${capital(group.label)} against ${axis.label}`;
  if (!("axis" in answer))
    return {
      part: () => ({
        headline: `${about}: no answer, as ${answer.reason}.`,
        sentences: beside,
        refusal: answer,
      }),
      data: () => ({ answer }),
    };
  const { effects, studies, people, support } = answer;
  const counts = `${counted(effects, "effect")} of ${counted(studies, "study", "studies")} with ${formatCount(people)} people; ${support.studiesWithin === 0 ? "none of them compares" : counted(support.studiesWithin, "study compares", "studies compare")} arms at different doses.`;
  const elsewhere = askedElsewhere[on];
  const own = (table: Table): Table =>
    inGroup(table, group, `${capital(group.label)} and ${axis.label}`);
  if (answer.kind === "refusal")
    return {
      part: () => ({
        headline: `${about}: no answer, as ${answer.reason}.`,
        sentences: [...(effects === 0 ? [] : [counts]), ...beside],
        tables: [own(doseSlopesTable(answer))],
        notes: answer.notes,
        refusal: {
          ...refusal(answer.code, answer.reason),
          ...(elsewhere === undefined ? {} : { try: elsewhere }),
        },
      }),
      data: () => ({ answer }),
    };
  const pairs = collinearity(
    group.headline,
    mappedAxes.includes(on) ? mappedAxes : [on, ...mappedAxes],
  );
  const near = pairs
    .filter(({ first, second }) => first.name === on || second.name === on)
    .filter(({ toldApart }) => toldApart === "no" || toldApart === "hardly")
    .map(({ words }) => `${capital(words)}.`);
  const [first = "", ...more] = doseSentences(answer);
  const { model, intervalMethod, assumptions } = answer.story;
  const isUntold = doseVerdictWords(answer) === "cannot be told";
  const readAt = (at: readonly number[]) => at.map((dose) => gainAt(answer, dose));
  return {
    part: (at) => ({
      headline: `${about}, ${contrastShortLabel(answer.contrast)}: ${lower(first)}`,
      sentences: [
        ...more,
        counts,
        `${capital(answer.evidenceWords)}.`,
        ...near,
        ...beside,
        ...(elsewhere === undefined ? [] : [`${capital(elsewhere)}.`]),
      ],
      tables: [
        own(doseSlopesTable(answer)),
        own(doseReadOffsTable(answer, readAt(at))),
        folded(own(doseShapesTable(answer))),
        {
          ...own(collinearityTable(pairs)),
          id: `${group.id}-doses-together-${kebabName(on)}`,
          place: "folded",
        },
      ],
      figures: [
        {
          name: "dose-curve",
          data: {
            id: `dose-${group.id}-${kebabName(on)}`,
            family: group.label,
            answer,
            borrowed: borrowedIds(group.headline),
            unweighted: unweightedOf(group.headline, group).flatMap(
              ({ study, arm, estimate, row }) => {
                const dose = doseOf(row, on)?.value;
                return dose === undefined ? [] : [{ study, arm, dose, estimate }];
              },
            ),
          },
        },
        ...togetherFigure(group, pairs, on),
      ],
      untold: isUntold ? [{ family: group.family, topics: [on] }] : [],
      notes: [
        ...answer.notes,
        ...[model, intervalMethod, ...assumptions].map((message) => ({
          code: "assumption" as const,
          message,
        })),
      ],
    }),
    data: (at) => ({ answer: at.length === 0 ? answer : { ...answer, at: readAt(at) } }),
  };
};
