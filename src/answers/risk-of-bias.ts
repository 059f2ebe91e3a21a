/** Risk of bias: the five coded domains of every study, and what each headline is without those in doubt. */
import * as z from "zod";
import {
  judgements,
  judgementOf,
  overallJudgement,
  riskDomainNames,
  riskDomains,
  weightByJudgement,
  type Judgement,
  type RiskDomain,
} from "../certainty/risk-of-bias.js";
import { effectSubset } from "../effects/effect-subset.js";
import type { Effect, EffectSet } from "../effects/effect.js";
import { refusal, toldOrRefused, type Refusal } from "../errors.js";
import { grouped } from "../records/grouped.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { columnOf } from "../records/codebook.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import { capital, counted } from "../tables/number-format.js";
import type { Table } from "../tables/table.js";
import { intervalSchema, toldOrRefusedShape } from "./answer.js";
import { orArmsApart } from "./arms-against-arms.js";
import { averageOf, type Average } from "./average.js";
import { chosenRows } from "./evidence.js";
import { effectShape } from "./effect-options.js";
import { together, type AnswerPart } from "./outcome-groups.js";
import { chosenGroups, pool, poolShape, type PoolOptions, type PreparedPool } from "./pool.js";
import { aboutGroup, rangeOf, shownOf, type PreparedGroup } from "./pool-words.js";
import { preparedFor } from "./prepared.js";
import { question } from "./question.js";
import { resolvedOptions } from "./option.js";
import { linesOf } from "./evidence.js";

const shape = { outcome: poolShape.outcome, ...effectShape };

/** An average with some studies left out. */
type Left = Readonly<{ name: string; weightPercent: number; average: Average }>;

type Told = Readonly<{
  prepared: PreparedGroup;
  set: EffectSet;
  weight: Readonly<Record<Judgement, number>>;
  left: readonly Left[];
}>;

const rowsOf = ({ row, comparatorRow }: Effect): readonly OutcomeRow[] =>
  comparatorRow === undefined ? [row] : [row, comparatorRow];

const domainLabel = (domain: RiskDomain): string => riskDomains[domain];

/** A headline whole, and without the studies that are in doubt: by domain, by any, and with those of low risk alone. */
const told = (prepared: PreparedGroup, options: PoolOptions): Told | Refusal => {
  const whole = prepared.headline();
  const { set } = prepared.group.headline;
  if (whole.kind === "refusal" || set === undefined)
    return whole.kind === "refusal"
      ? whole
      : refusal("wrong-scale", "ready effects have no coded studies");
  const studies = new Map(
    [...grouped(set.effects, ({ cohort }) => cohort)].map(([cohort, own]) => [
      cohort,
      own.flatMap(rowsOf),
    ]),
  );
  const overall = ({ cohort }: Effect): Judgement => overallJudgement(studies.get(cohort)!);
  const percent = whole.result.weightsPercent;
  const weight = weightByJudgement(
    set.effects.map((effect, place) => ({ judgement: overall(effect), percent: percent[place]! })),
  );
  if (weight["not coded"] > 99.999)
    return refusal(
      "no-values",
      `risk of bias is coded for none of its ${counted(studies.size, "study", "studies")} in all five domains (${riskDomainNames.map(columnOf).join(", ")})`,
    );
  const without = (name: string, keep: (effect: Effect) => boolean): readonly Left[] => {
    const kept = effectSubset(set, keep);
    if (kept.effects.length === set.effects.length) return [];
    return [
      {
        name,
        weightPercent: set.effects.reduce(
          (sum, effect, place) => sum + (keep(effect) ? percent[place]! : 0),
          0,
        ),
        average: averageOf({ ...effectInputs(kept), ready: false }, options),
      },
    ];
  };
  const isHigh = (domain: RiskDomain) => (effect: Effect) =>
    judgementOf(studies.get(effect.cohort)!, domain) === "high";
  return {
    prepared,
    set,
    weight,
    left: [
      { name: "all studies", weightPercent: 100, average: whole },
      ...riskDomainNames.flatMap((domain) =>
        without(
          `without high risk from ${domainLabel(domain)}`,
          (effect) => !isHigh(domain)(effect),
        ),
      ),
      ...without("without any high risk", (effect) => overall(effect) !== "high"),
      ...without("low risk in every domain", (effect) => overall(effect) === "low"),
    ],
  };
};

const share = (percent: number): string => `${Math.round(percent)}%`;

const leftWords = ({ average, weightPercent }: Left, set: EffectSet): string =>
  average.kind === "refusal"
    ? "no average is left"
    : `${shownOf(average.result, set)} (${rangeOf(average.result.interval, set, average.result.standardError)}), from ${share(weightPercent)} of the weight`;

const partOf = (one: Told, options: PoolOptions): AnswerPart => {
  const { prepared, set, weight, left } = one;
  const about = aboutGroup(prepared.group, options.contrast);
  const [whole] = left;
  const without = left.find(({ name }) => name === "without any high risk");
  const headline = `${about}: ${share(weight.high)} of the weight is from studies at high risk of bias; ${
    without === undefined
      ? "nothing has to be left out for it"
      : `without them ${leftWords(without, set)}`
  }, where all give ${leftWords(whole!, set)}.`;
  const id = `risk-of-bias-${prepared.group.id}-${options.contrast}`;
  return {
    headline,
    sentences: [
      `Of the weight, ${judgements.map((word) => `${share(weight[word])} is ${word === "low" ? "at low risk" : word === "high" ? "at high risk" : word === "not coded" ? "of studies not coded in every domain" : "of studies with some concerns"}`).join(", ")}.`,
    ],
    tables: [
      {
        id,
        title: `What is left of the answer without studies in doubt: ${about}`,
        columns: [
          { key: "left", label: "Studies", align: "left" },
          { key: "weight", label: "Weight left", align: "right" },
          { key: "average", label: "Average", align: "left" },
        ],
        rows: left.map((some) => ({
          left: capital(some.name),
          weight: share(some.weightPercent),
          average: leftWords(some, set),
        })),
        notes: [
          "Leaving out is a question to the answer, not a better answer: what is left has fewer studies.",
        ],
      },
    ],
    figures:
      left.length < 2
        ? []
        : [
            {
              name: "risk-of-bias",
              data: {
                id,
                title: headline.replace(/, where all give .*$/, ""),
                scale: set.scale,
                ...(set.unit === undefined ? {} : { unit: set.unit }),
                confidence: options.confidence,
                left: left.map(({ name, weightPercent, average }) => ({
                  name,
                  weightPercent,
                  answer:
                    average.kind === "refusal"
                      ? null
                      : { estimate: average.result.estimate, interval: average.result.interval },
                })),
              },
            },
          ],
  };
};

type Judged = Readonly<Record<RiskDomain, Judgement>> &
  Readonly<{ study: string; overall: Judgement; reason: string | null }>;

/** Every study with its five judgements. */
const judgedStudies = (rows: readonly OutcomeRow[]): readonly Judged[] =>
  [...grouped(rows, ({ study }) => study)].map(([study, own]) => ({
    study,
    ...(Object.fromEntries(
      riskDomainNames.map((domain) => [domain, judgementOf(own, domain)]),
    ) as Readonly<Record<RiskDomain, Judgement>>),
    overall: overallJudgement(own),
    reason: own.find(({ riskReason }) => riskReason !== undefined)?.riskReason ?? null,
  }));

const studiesTable = (studies: readonly Judged[]): Table => ({
  id: "risk-of-bias-studies",
  title: "Risk of bias of every study, by domain",
  columns: [
    { key: "study", label: "Study", align: "left" },
    ...riskDomainNames.map((domain) => ({
      key: domain,
      label: capital(domainLabel(domain)),
      align: "left" as const,
    })),
    { key: "overall", label: "Overall", align: "left" },
    { key: "reason", label: "Reason", align: "left" },
  ],
  rows: studies.map(({ reason, ...judged }) => ({ ...judged, reason: reason ?? "" })),
  notes: [
    "Overall is high where any domain is, not coded where a domain is not, else as bad as the worst. Judge each domain for the result that is used; people who train know that they do, so measurement hangs on who tested and how much the test depends on trying hard.",
  ],
});

/** Risk of bias by study, and every headline without the doubtful. */
export const riskOfBias = question({
  id: "risk-of-bias",
  options: shape,
  choices: ["outcome"],
  data: {
    studies: z.array(
      z.looseObject({
        study: z.string(),
        overall: z.enum(judgements),
        reason: z.string().nullable(),
      }),
    ),
    groups: z.array(
      z.looseObject({
        group: z.string(),
        id: z.string(),
        weightPercent: z.record(z.enum(judgements), z.number()).optional(),
        left: z
          .array(
            z.object({
              name: z.string(),
              weightPercent: z.number(),
              estimate: z.number().nullable(),
              interval: intervalSchema.nullable(),
            }),
          )
          .optional(),
        ...toldOrRefusedShape,
      }),
    ),
  },
  prepare: (evidence, asked, tell) => {
    const options = resolvedOptions(poolShape, asked);
    return {
      options,
      pooled: preparedFor<typeof poolShape, PreparedPool>(pool, evidence, options, tell),
      studies:
        evidence.kind === "ready effects" ? [] : judgedStudies(chosenRows(evidence, asked.where)),
    };
  },
  answer: ({ pooled, options, studies }, { outcome }) => {
    const groups = chosenGroups(pooled.groups, outcome);
    const answers = groups.map((prepared) => ({ prepared, answer: told(prepared, options) }));
    const part = together(
      answers.map(({ prepared, answer }) =>
        "kind" in answer
          ? {
              headline: `${aboutGroup(prepared.group, options.contrast)}: not told, as ${answer.reason}.`,
              refusal: answer,
            }
          : partOf(answer, options),
      ),
      pooled.rows,
    );
    return orArmsApart(
      {
        ...part,
        tables: [...part.tables, ...(studies.length === 0 ? [] : [studiesTable(studies)])],
        notes: pooled.notes,
        data: {
          scale: pooled.set?.scale ?? null,
          contrast: pooled.set?.contrast ?? null,
          confidence: options.confidence,
          rowsUsed: linesOf({
            effects: groups.flatMap(({ group }) => group.headline.set?.effects ?? []),
          }),
          studies: [...studies],
          groups: answers.map(({ prepared: { group }, answer }) => ({
            ...{ group: group.label, id: group.id },
            ...("kind" in answer
              ? toldOrRefused(answer)
              : {
                  kind: "told" as const,
                  weightPercent: answer.weight,
                  left: answer.left.map(({ name, weightPercent, average }) => ({
                    ...{ name, weightPercent },
                    estimate: average.kind === "refusal" ? null : average.result.estimate,
                    interval: average.kind === "refusal" ? null : average.result.interval,
                  })),
                }),
          })),
        },
      },
      pooled.apart?.(outcome),
    );
  },
});
