/** The answer that is shown, asked in every way that its choices and assumptions allow. */
import * as z from "zod";
import { sweep as sweepOver, sweepDefaults, type Sweep } from "../certainty/sweep.js";
import { doseAxes, doseAxisNames } from "../dose/dose-axes.js";
import type { EffectSet } from "../effects/effect.js";
import { refusal, toldOrRefused, type Refusal } from "../errors.js";
import type { NamedFigure } from "../figures/figure-list.js";
import { capital, counted, plainNumber } from "../tables/number-format.js";
import { scaleDisplay } from "../tables/scale-display.js";
import { csvNumbers, csvTexts, type Table } from "../tables/table.js";
import { shownAmount } from "../tables/variables-table.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import { intervalSchema, toldOrRefusedShape } from "./answer.js";
import { averageShape } from "./average.js";
import { amountFor, amountOption } from "./counted-amount.js";
import { effectShape, gainContrastOption } from "./effect-options.js";
import type { HeadlineGroup } from "./headline-selection.js";
import { aNumber, oneOf, onOff, option } from "./option.js";
import {
  dataOf,
  namingRows,
  outcomeGroups,
  outcomeOption,
  rowsOfGroup,
  together,
  type AnswerPart,
} from "./outcome-groups.js";
import { rangeOf, shownOf, withInterval } from "./pool-words.js";
import { question, type Options, type Tell } from "./question.js";
import { sweepSharing, sweepWork } from "./sweep-work.js";
import { namesOf, notChances } from "./swept-choices.js";
import { verdictsPart } from "./swept-verdicts.js";
import type { OpenedGroup } from "./swept-ways.js";

const {
  moderators: _one,
  references: _two,
  permutations: _three,
  profile: _four,
  ...average
} = averageShape;

const sweepShape = {
  outcome: outcomeOption,
  ...effectShape,
  contrast: gainContrastOption,
  ...average,
  amount: amountOption,
  on: option(oneOf(doseAxisNames).optional(), {
    help: "sweep the change over the doses of this variable, inside studies, in place of the average",
    value: "<dose>",
  }),
  verdicts: option(onOff(), {
    help: "the verdicts on variables: one choice at a time, and the two extremes",
  }),
  most: option(
    aNumber({ least: 2, most: 500, whole: true, needs: "a whole number from 2 to 500" }).default(
      sweepDefaults.most,
    ),
    { help: "ways asked at most; of more, so many are drawn", value: "<number>", seldom: true },
  ),
};
type SweepAsked = Options<typeof sweepShape>;

/** An answer of one kind of outcome in every way, or why there is none. */
type Told = Readonly<{
  group: HeadlineGroup;
  /** What is swept, as a sentence begins. */
  about: string;
  amount: number | undefined;
  set: EffectSet;
  /** Levels that leave no answer by themselves. */
  without: readonly string[];
  answer: Sweep | Refusal;
}>;

const sweptGroup = (opened: OpenedGroup, options: SweepAsked, tell: Tell): Told => {
  const { group, ways, crossed } = opened;
  const { on, most, seed } = options;
  const { choices, without, whole } = crossed();
  const amount = amountFor(group.all, group.family, options.amount);
  const what = on === undefined ? "" : `, over ${doseAxes[on].label} inside studies`;
  const about = `${capital(group.label)}, ${contrastShortLabel(options.contrast)}${what}`;
  const shown = ways.at(ways.all.map(() => 0));
  // Nothing is told of what others have done already.
  const isOpen = opened.open().left.length > 0;
  const answer =
    "kind" in shown
      ? shown
      : choices.length === 0
        ? refusal("nothing-left", "nothing behind this answer could be chosen otherwise")
        : sweepOver(namesOf(choices), (way) => ways.at(whole(way)), {
            amount,
            most,
            seed,
            tell: (done, count) => {
              if (isOpen && done % 10 === 0) tell(`${group.label}: ${done} of ${count} ways`);
            },
          });
  return { group, about, amount, set: group.headline, without, answer };
};

/** "of 480 ways to analyse this, 471 agree on the sign and 212 on more than the amount that counts". */
const agreementWords = ({ all }: Sweep, amount: number | undefined, set: EffectSet): string =>
  `of ${counted(all.ways, "way")} to analyse this, ${all.sameSign} agree on the sign${
    all.counts === null || amount === undefined
      ? ""
      : ` and ${all.counts} on more than the amount that counts (${shownAmount(amount, set.scale)})`
  }`;

const partOf = (
  { group, about, amount, set, without, answer }: Told,
  options: SweepAsked,
): AnswerPart => {
  if ("kind" in answer)
    return { headline: `${about}: no sweep, as ${answer.reason}.`, refusal: answer };
  const { all, shown, choices, movesMost, crossed, sampled, bounds } = answer;
  const standardError = (shown.interval.high - shown.interval.low) / 4;
  const written = (estimate: number): string => shownOf({ estimate, standardError }, set);
  const first = choices.find(({ name }) => name === movesMost);
  const moved =
    first === undefined
      ? "No choice moves it."
      : `Which choice moves it most: ${first.name}; ${first.levels
          .flatMap(({ level, mean }) => (mean === null ? [] : [`${level} ${written(mean)}`]))
          .join(", ")} on average over the others.`;
  const title = `${about}: ${agreementWords(answer, amount, set)}`;
  const id = `sweep-${group.id}${options.on === undefined ? "" : `-${options.on.toLowerCase()}`}`;
  return {
    headline: `${title}.`,
    sentences: [
      `As shown: ${withInterval({ ...shown, standardError }, set, options.confidence, `estimates of all ways ${rangeOf({ low: all.least!, high: all.most! }, set, standardError)}, their intervals ${rangeOf(bounds, set, standardError)}`)}. In ${all.clear} of ${all.ways} the interval leaves out no change.${
        all.answered < all.ways ? ` In ${all.ways - all.answered} no answer is left.` : ""
      }`,
      moved,
      ...(without.length === 0 ? [] : [`No answer is left with: ${without.join("; ")}.`]),
      ...(sampled
        ? [`There are ${crossed} ways; ${all.ways} were drawn, seed ${options.seed}.`]
        : []),
    ],
    tables: [tableOf(id, about, answer, set)],
    figures: [
      {
        name: "sweep",
        data: {
          id,
          title,
          ...(set.unit === undefined ? {} : { unit: set.unit }),
          scale: set.scale,
          amount: amount ?? null,
          notChances,
          sweep: answer,
        },
      } satisfies NamedFigure,
    ],
  };
};

const tableOf = (id: string, about: string, { choices }: Sweep, set: EffectSet): Table => {
  const { write, heading, unit } = scaleDisplay(set.scale);
  const number = (key: string, label: string) => ({ key, label, align: "right" }) as const;
  return {
    id,
    title: `What each choice does: ${about}`,
    columns: [
      { key: "choice", label: "Choice", align: "left" },
      { key: "level", label: "Level", align: "left" },
      number("ways", "Ways"),
      { ...number("mean", `${heading}, on average`), unit: set.unit ?? unit },
      number("range", "Smallest to largest"),
      number("sameSign", "Same sign"),
      number("clear", "Interval leaves out no change"),
      number("counts", "More than counts"),
    ],
    csvColumns: [
      ...csvTexts("choice", "level"),
      ...csvNumbers(
        "ways",
        "answered",
        "meanExact",
        "least",
        "middle",
        "most",
        "sameSign",
        "clear",
        "counts",
      ),
    ],
    rows: choices.flatMap(({ name, levels }) =>
      levels.map((one, place) => {
        const exact = (value: number | null): string => (value === null ? "" : plainNumber(value));
        return {
          choice: place === 0 ? capital(name) : "",
          level: `${one.level}${place === 0 ? " (shown)" : ""}`,
          ways: String(one.ways),
          answered: String(one.answered),
          mean: one.mean === null ? "no answer" : write(one.mean),
          range: one.least === null ? "" : `${write(one.least)} to ${write(one.most!)}`,
          sameSign: String(one.sameSign),
          clear: String(one.clear),
          counts: one.counts === null ? "" : String(one.counts),
          meanExact: exact(one.mean),
          least: exact(one.least),
          middle: exact(one.middle),
          most: exact(one.most),
        };
      }),
    ),
    notes: [notChances],
  };
};

const agreementShape = {
  ways: z.number(),
  answered: z.number(),
  least: z.number().nullable(),
  middle: z.number().nullable(),
  most: z.number().nullable(),
  mean: z.number().nullable(),
  sameSign: z.number(),
  clear: z.number(),
  counts: z.number().nullable(),
};

/** Averages, and changes over doses inside studies, in every way; verdicts one choice at a time. */
export const sweep = question({
  id: "sweep",
  options: sweepShape,
  choices: ["outcome"],
  data: {
    groups: z.array(
      z.looseObject({
        id: z.string(),
        group: z.string(),
        amount: z.number().nullable(),
        crossed: z.number().optional(),
        sampled: z.boolean().optional(),
        shown: z.object({ estimate: z.number(), interval: intervalSchema }).optional(),
        all: z.object(agreementShape).optional(),
        choices: z
          .array(
            z.object({
              name: z.string(),
              levels: z.array(
                z.object({ level: z.string(), ...agreementShape, estimates: z.array(z.number()) }),
              ),
              moves: z.number().nullable(),
            }),
          )
          .optional(),
        movesMost: z.string().nullable().optional(),
        ...toldOrRefusedShape,
      }),
    ),
    verdicts: z.array(
      z.looseObject({ family: z.string(), variable: z.string(), verdict: z.string() }),
    ),
  },
  prepare: (evidence, options) => {
    const told = new Map<string, Told>();
    const work = sweepWork(evidence, options);
    return {
      ...work,
      of: (group: HeadlineGroup, tell: Tell): Told => {
        const own = told.get(group.id) ?? sweptGroup(work.opened(group), options, tell);
        told.set(group.id, own);
        return own;
      },
    };
  },
  sharing: sweepSharing,
  answer: ({ evidence, of, verdicts: waysOfVerdicts }, options, tell) => {
    const { set, groups, unweighted } = outcomeGroups(evidence, options);
    const told = options.verdicts ? [] : groups.map((group) => of(group, tell));
    const verdicts = options.verdicts ? waysOfVerdicts(options, tell).told() : [];
    const parts = options.verdicts
      ? [verdictsPart(verdicts)]
      : told.map((one) =>
          namingRows(partOf(one, options), unweighted({ of: rowsOfGroup(one.group) })),
        );
    const part = together(parts, unweighted());
    return {
      ...part,
      sentences: [...part.sentences, ...(part.refusal === undefined ? [notChances] : [])],
      notes: set.notes,
      data: {
        ...dataOf(
          set,
          options.confidence,
          groups.flatMap(({ headline }) => headline.effects),
        ),
        groups: told.map(({ group, amount, answer }) => ({
          ...{ id: group.id, group: group.label, amount: amount ?? null },
          ...("kind" in answer
            ? toldOrRefused(answer)
            : {
                kind: "told" as const,
                ...answer,
                shown: { estimate: answer.shown.estimate, interval: answer.shown.interval },
              }),
        })),
        verdicts: [...verdicts],
      },
    };
  },
});
