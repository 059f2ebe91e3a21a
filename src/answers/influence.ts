/** Each study left out in turn: what becomes of every average that is shown. */
import * as z from "zod";
import { leaveEachOut, type LeaveEachOut } from "../certainty/leave-each-out.js";
import type { Refusal } from "../errors.js";
import { formatNumber, plainNumber } from "../tables/number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "../tables/scale-display.js";
import { csvNumbers, csvTexts, type Table } from "../tables/table.js";
import { intervalSchema, toldOrRefusedShape } from "./answer.js";
import { orArmsApart } from "./arms-against-arms.js";
import { preparedFor } from "./prepared.js";
import { borrowedCounts } from "./outcome-groups.js";
import { chosenGroups, pool, poolShape, type PoolOptions, type PreparedPool } from "./pool.js";
import { aboutGroup, ownScale, shownOf, type PreparedGroup } from "./pool-words.js";
import {
  influencedPart,
  influencedVerdicts,
  type InfluencedVerdict,
} from "./influenced-verdicts.js";
import { onOff, option, resolvedOptions } from "./option.js";
import { averageOf } from "./average.js";
import { variablesShape } from "./variables.js";
import { effectSubset } from "../effects/effect-subset.js";
import type { EffectSet } from "../effects/effect.js";
import { grouped } from "../records/grouped.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import { question, type Options } from "./question.js";
import { toldByGroup } from "./told-by-group.js";
import { withoutStudy } from "./without-study.js";

const { by: _one, permutations: _none, seed: _neither, ...averages } = poolShape;

const shape = {
  ...averages,
  verdicts: option(onOff(), { help: "the verdicts on variables in place of the averages" }),
};

type Told = Readonly<{
  prepared: PreparedGroup;
  answer: LeaveEachOut | Refusal;
}>;

/** Papers that share their people with another, by name, and the effects without each. */
const papersOf = (set: EffectSet | undefined): ReadonlyMap<string, EffectSet> =>
  new Map(
    [...grouped(set?.effects ?? [], ({ cohort }) => cohort)].flatMap(([cohort, own]) => {
      const names = new Set(own.map(({ study }) => study));
      return names.size < 2
        ? []
        : [...names].map(
            (name) =>
              [
                `${name} (a paper of ${cohort})`,
                effectSubset(set!, ({ study }) => study !== name),
              ] as const,
          );
    }),
  );

const told = (prepared: PreparedGroup, options: PoolOptions): Told => {
  const { headline: input } = prepared.group;
  const average = prepared.headline();
  if (average.kind === "refusal") return { prepared, answer: average };
  const studies = [...new Set(input.effects.map(({ study }) => study))];
  const papers = papersOf(input.set);
  return {
    prepared,
    answer: leaveEachOut([...studies, ...papers.keys()], average.result, (study) => {
      const rest = papers.get(study);
      if (rest === undefined) return withoutStudy(input, study, options);
      const left = averageOf({ ...effectInputs(rest), ready: false }, options);
      return left.kind === "refusal" ? left : left.result;
    }),
  };
};

const list = (names: readonly string[]): string => names.join(", ");

/** Whether no study alone changes the conclusion of an average. */
const isSteady = ({ prepared, answer }: Told): boolean =>
  !("kind" in answer) &&
  answer.restsOn.length === 0 &&
  prepared.headline().kind !== "refusal" &&
  answer.leftOut.some((one) => one.name === answer.movesMost && one.answer !== null);

/** @param saysSteady whether it says so where no study changes the conclusion; of several it is said once */
const sentenceOf = (
  { prepared, answer }: Told,
  { contrast }: PoolOptions,
  saysSteady: boolean,
): string => {
  const about = aboutGroup(prepared.group, contrast);
  const { set } = prepared.group.headline;
  if ("kind" in answer)
    return `${about}: nothing to leave out, as ${answer.reason}.${prepared.rows}`;
  const whole = prepared.headline();
  const furthest = answer.leftOut.find(({ name }) => name === answer.movesMost)?.answer;
  if (whole.kind === "refusal" || furthest === undefined || furthest === null)
    return `${about}: no average is left without any one study.`;
  const borrowed = borrowedCounts(set?.effects ?? []);
  return `${about}: the average of ${shownOf(whole.result, set)} moves most without ${answer.movesMost ?? ""}, to ${shownOf(furthest, set)}.${
    answer.restsOn.length === 0
      ? saysSteady
        ? " Its conclusion is the same without any one study."
        : ""
      : ` Its conclusion rests on ${list(answer.restsOn)}: without ${answer.restsOn.length === 1 ? "it" : "any one of them"} it is another.`
  }${borrowed === undefined ? "" : ` ${borrowed}; they count like any other.`}`;
};

const tableOf = ({ prepared, answer }: Told): readonly Table[] => {
  const scale = prepared.group.headline.set?.scale;
  if ("kind" in answer) return [];
  const { id, label } = prepared.group;
  const display = scale === undefined ? undefined : scaleDisplay(scale);
  const number = (key: string, heading: string) =>
    ({ key, label: heading, align: "right" }) as const;
  return [
    {
      id: `left-out-${id}`,
      title: `Each study left out in turn: ${label}`,
      columns: [
        { key: "name", label: "Without", align: "left" },
        {
          ...number("shown", display?.heading ?? "Estimate"),
          ...(display === undefined ? {} : { unit: display.unit }),
        },
        number("interval", "Interval"),
        number("residual", "Deleted residual"),
        number("cook", "Cook's distance"),
        { key: "conclusion", label: "Conclusion", align: "left" },
      ],
      csvColumns: [
        ...csvTexts("name"),
        ...csvNumbers(
          "estimate",
          "standardError",
          "intervalLow",
          "intervalHigh",
          "deletedResidual",
          "cooksDistance",
        ),
        ...csvTexts("conclusion"),
      ],
      rows: answer.leftOut.map((one) => {
        const conclusion = one.changesConclusion ? "another" : "the same";
        if (one.answer === null)
          return {
            name: one.name,
            shown: "no average",
            interval: one.refusal?.reason ?? "",
            conclusion,
          };
        const { estimate, standardError, interval } = one.answer;
        return {
          name: one.name,
          shown: shownEstimate(estimate, scale ?? ownScale, standardError),
          interval: shownInterval(interval, scale ?? ownScale, standardError),
          residual: one.deletedResidual === null ? "" : formatNumber(one.deletedResidual),
          cook: one.cooksDistance === null ? "" : formatNumber(one.cooksDistance),
          conclusion,
          estimate: plainNumber(estimate),
          standardError: plainNumber(standardError),
          intervalLow: plainNumber(interval.low),
          intervalHigh: plainNumber(interval.high),
          deletedResidual: one.deletedResidual === null ? "" : plainNumber(one.deletedResidual),
          cooksDistance: one.cooksDistance === null ? "" : plainNumber(one.cooksDistance),
        };
      }),
      notes: [
        "Every line is fitted anew, the spread between studies included. A deleted residual says how far the study lies from the rest in its own uncertainty; Cook's distance how far the average moves in that of the average.",
        "A study without which the answer is another is a reason to look at it, not to leave it out.",
      ],
    },
  ];
};

/** The averages of a file with each study left out in turn, and the studies on which a conclusion rests. */
export const influence = question({
  id: "influence",
  options: shape,
  choices: ["outcome"],
  data: {
    groups: z.array(
      z.looseObject({
        group: z.string(),
        id: z.string(),
        leftOut: z
          .array(
            z.looseObject({
              name: z.string(),
              answer: z
                .object({
                  estimate: z.number(),
                  standardError: z.number(),
                  interval: intervalSchema,
                })
                .nullable(),
              cooksDistance: z.number().nullable(),
              deletedResidual: z.number().nullable(),
              changesConclusion: z.boolean(),
            }),
          )
          .optional(),
        range: intervalSchema.nullable().optional(),
        movesMost: z.string().nullable().optional(),
        restsOn: z.array(z.string()).optional(),
        ...toldOrRefusedShape,
      }),
    ),
    verdicts: z
      .array(
        z.object({
          family: z.string(),
          variable: z.string(),
          verdict: z.string(),
          studies: z.number(),
          restsOn: z.array(z.object({ study: z.string(), becomes: z.string() })),
        }),
      )
      .optional(),
  },
  prepare: (evidence, asked: Options<typeof shape>, tell) => {
    const options: PoolOptions = { ...asked, permutations: 0, seed: 1 };
    return {
      options,
      verdicts: asked.verdicts
        ? influencedVerdicts(
            evidence,
            resolvedOptions(
              variablesShape,
              Object.fromEntries(
                Object.entries(asked).filter(([name]) => Object.hasOwn(variablesShape, name)),
              ),
            ),
            tell,
          )
        : undefined,
      pooled: preparedFor<typeof poolShape, PreparedPool>(pool, evidence, options, tell),
    };
  },
  answer: ({ pooled, options, verdicts }, { outcome }, tell) => {
    if (verdicts !== undefined) {
      const none = toldByGroup<LeaveEachOut>(pooled, [], undefined, options.confidence);
      return { ...none, ...influencedPart(verdicts), data: { ...none.data, verdicts } };
    }
    const answers = chosenGroups(pooled.groups, outcome).map((prepared) => {
      tell(`leaving each study out: ${prepared.group.label}`);
      return told(prepared, options);
    });
    const answered = answers.filter(({ answer }) => !("kind" in answer));
    const first = answered[0] ?? answers[0];
    const leading = first === undefined ? undefined : sentenceOf(first, options, true);
    const others = answers.filter((one) => one !== first);
    const steady = others.filter(isSteady).map(({ prepared }) => prepared.group.label);
    const saidAbove = first !== undefined && isSteady(first);
    const sentences = [
      ...(steady.length > (saidAbove ? 0 : 1)
        ? [
            saidAbove
              ? `That holds of ${steady.join("; ")} as well.`
              : `The conclusion is the same without any one study in ${steady.join("; ")}.`,
          ]
        : []),
      ...others.map((one) => sentenceOf(one, options, !saidAbove && steady.length === 1)),
    ];
    const common = toldByGroup(pooled, answers, first, options.confidence);
    const noVerdicts: readonly InfluencedVerdict[] = [];
    const answer = {
      headline: leading ?? `No row reaches this scale and contrast.${pooled.rows}`,
      sentences,
      tables: answers.flatMap(tableOf),
      notes: pooled.notes,
      ...common,
      data: { ...common.data, verdicts: noVerdicts },
    };
    return orArmsApart(answer, pooled.apart?.(outcome));
  },
});
