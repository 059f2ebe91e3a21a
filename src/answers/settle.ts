/** What trial would settle it: the chance that further trials decide an average or a verdict, and what nobody knows yet. */
import * as z from "zod";
import { furtherTrials, type ChanceOfTrials } from "../certainty/further-trials.js";
import type { DoseAxis, DoseAxisName } from "../dose/dose-axes.js";
import { fewestStudiesWithin } from "../dose/identifiability.js";
import type { VariableRow } from "../dose/variable-table.js";
import type { Contrast } from "../effects/effect.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import { refusal } from "../errors.js";
import { doseShown, doseSpan } from "../tables/dose-table.js";
import {
  capital,
  confidenceWords,
  counted,
  formatNumber,
  sharePercent,
} from "../tables/number-format.js";
import { shownAmount } from "../tables/variables-table.js";
import { noEffects } from "./average.js";
import { amountFor, amountOption } from "./counted-amount.js";
import type { Evidence } from "./evidence.js";
import type { HeadlineGroup } from "./headline-selection.js";
import { aNumber, namedOne, option, readAs, text } from "./option.js";
import { dataOf, outcomeGroups, outcomeShape } from "./outcome-groups.js";
import { askedOf } from "./prepared.js";
import { question, type Options, type Tell } from "./question.js";
import { averageTarget, usualDesign, verdictTarget, type SettleTarget } from "./settle-targets.js";
import {
  boundless,
  chancesTable,
  decidedVerdicts,
  designsOf,
  designsTable,
  eachWords,
  groupSizes,
  hardlyEver,
  sameSizes,
  trialCounts,
  usualWeeks,
} from "./trial-designs.js";
import { statementOption, statementToSettle } from "./settle-statement.js";
import { statementsOption } from "./statements.js";
import { noMap, notKnown, notKnownSchema, notKnownTable, type NotKnown } from "./not-known.js";
import { variables } from "./variables.js";

const settleShape = {
  ...outcomeShape,
  on: option(text().optional(), {
    help: "the variable whose verdict is to be settled, such as hold-seconds, or average (the one compared most that is undecided unless told)",
    value: "<variable>",
  }),
  amount: amountOption,
  statement: statementOption,
  statements: statementsOption,
  simulations: option(
    aNumber({
      least: 20,
      most: 20000,
      whole: true,
      needs: "a whole number from 20 to 20000",
    }).default(200),
    { help: "simulated futures", value: "<number>", seldom: true },
  ),
  seed: option(aNumber({ whole: true, needs: "a whole number" }).default(1), {
    help: "seed of what is drawn at random",
    value: "<number>",
    seldom: true,
  }),
};
type SettleOptions = Options<typeof settleShape>;

type Asked = Readonly<{
  group: HeadlineGroup;
  axis: DoseAxis | undefined;
  target: SettleTarget;
  amount: number;
  /** What the amount is, where it is not the one that counts. */
  amountIs?: string;
  /** What is to be settled, in words. */
  about: string;
  untold: string;
  /** The same where nothing stands before it. */
  unknown?: string;
}>;

/** The variable asked about; the one that most studies compare and that is undecided where none is named. */
const rowAsked = (
  rows: readonly VariableRow[],
  on: string | undefined,
): VariableRow | undefined => {
  if (on === "average") return undefined;
  if (on !== undefined) {
    const name = readAs("--on", () =>
      namedOne(
        on,
        rows.map(({ axis }) => axis.name),
        Object.fromEntries(rows.map(({ axis }) => [axis.name, [axis.label]])),
      ),
    );
    return rows.find(({ axis }) => axis.name === name);
  }
  return [...rows]
    .filter(
      ({ verdict, studiesWithin }) =>
        studiesWithin > 0 &&
        !decidedVerdicts.includes(verdict.verdict) &&
        verdict.verdict !== "cannot be separated",
    )
    .sort((a, b) => b.studiesWithin - a.studiesWithin)[0];
};

const targetOf = (
  group: HeadlineGroup,
  rows: readonly VariableRow[],
  row: VariableRow | undefined,
  { amount: given, confidence, limbsCorrelation, contrast }: SettleOptions,
): Asked | undefined => {
  const amount = amountFor(group.all, group.family, given);
  if (amount === undefined) return undefined;
  const others = rows.flatMap((one) => (one === row || !one.within ? [] : one.within.p));
  const target =
    row === undefined
      ? averageTarget(group.headline, { amount, confidence })
      : verdictTarget(group.headline, row.axis.name, {
          ...{ amount, confidence, others, limbs: limbsCorrelation },
        });
  const { span } = target;
  return {
    ...{ group, axis: row?.axis, target, amount },
    about:
      row === undefined || span === undefined
        ? `${capital(group.label)}, ${contrastShortLabel(contrast)}`
        : `${capital(group.label)}, ${row.axis.label} (${doseSpan(row.axis, span)})`,
    untold:
      row === undefined
        ? `whether the gain is more than ${shownAmount(amount, group.headline.scale)}`
        : `whether ${row.axis.label} makes a difference of ${shownAmount(amount, group.headline.scale)} or more`,
  };
};

const settled = (
  { group, axis, target, about, untold, amount }: Asked,
  options: SettleOptions,
  tell: Tell,
) => {
  const { simulations, seed } = options;
  const grid = trialCounts.flatMap((trials) =>
    groupSizes.map((size) => ({ trials, people: size })),
  );
  const all = furtherTrials(target.make(usualDesign), {
    plans: [...grid, { trials: 1, people: boundless }, { trials: 10, people: boundless }],
    ...{ simulations, seed, tell },
  });
  const [chances, [oneLarge, tenLarge]] = [all.slice(0, -2), all.slice(-2)];
  const weeks = usualWeeks(group);
  const designs = designsOf(target, axis, weeks)
    .map(({ name, design, trials, people: size }) => {
      tell(`design: ${name}`);
      const [chance] = furtherTrials(target.make(design), {
        plans: [{ trials, people: size }],
        ...{ simulations, seed },
      });
      const groups = axis === undefined || design.limbs ? 1 : 2;
      return { name, people: trials * size * groups, chance: chance! };
    })
    .sort((a, b) => b.chance.share / b.people - a.chance.share / a.people);
  return {
    about,
    untold,
    amount,
    chances,
    oneLarge: oneLarge!,
    tenLarge: tenLarge!,
    designs,
    weeks,
  };
};
type Settled = ReturnType<typeof settled>;

const at = ({ chances }: Settled, trials: number, size: number): ChanceOfTrials =>
  chances.find((one) => one.trials === trials && one.people === size)!;

const errorWords = ({ chances }: Settled): string =>
  formatNumber(100 * Math.max(...chances.map(({ error }) => error)), { digits: 1 });

/** A paragraph for a proposal, with every number that it rests on. */
const proposal = (
  asked: Asked,
  told: Settled,
  options: SettleOptions,
  { source }: Evidence,
  contrast: Contrast,
): string => {
  const { group, axis, target } = asked;
  const today =
    target.today === undefined
      ? "no answer"
      : `${doseShown(target.today, group.headline.scale, `${confidenceWords(options.confidence)} interval `)}`;
  const [best] = told.designs;
  return [
    `It is not known ${asked.unknown ?? told.untold} in ${group.label} (${contrastShortLabel(contrast)}).`,
    `${counted(target.studies, "study tells", "studies tell")} of it today (${today}).`,
    `We simulated ${options.simulations} futures: the true ${axis === undefined ? "average" : "difference"} and its spread between trials were drawn from what these studies leave open, trials were made from them, and the same pooled analysis was asked again.`,
    `One trial of 20 a group would decide it with a chance of ${sharePercent(at(told, 1, 20).share)}, five with ${sharePercent(at(told, 5, 20).share)}, ten with ${sharePercent(at(told, 10, 20).share)} (Monte Carlo error up to ${errorWords(told)} points).`,
    ...(best === undefined
      ? []
      : [
          `Of ten designs the one that decides most per person is: ${best.name} (${sharePercent(best.chance.share)} with ${best.people} people).`,
        ]),
    `File ${source.name}, fingerprint ${source.fingerprint.slice(0, 8)}, seed ${options.seed}.`,
  ].join(" ");
};

const spreadSentence = (told: Settled): string =>
  told.oneLarge.share < hardlyEver
    ? `No single trial can be expected to, however large: with people without end one trial decides it with a chance of ${sharePercent(told.oneLarge.share)}, ten with ${sharePercent(told.tenLarge.share)}. What is missing is not people but trials: how far they differ is hardly told by one more.`
    : `With people without end one trial would decide it with a chance of ${sharePercent(told.oneLarge.share)}, ten with ${sharePercent(told.tenLarge.share)}; the rest is how trials differ.`;

/** What the futures are made from beyond the file's own intervals. */
const assumedSentence = ({ group, target, amount, amountIs }: Asked): string => {
  const { scale } = group.headline;
  const { studies, perPerson } = target;
  const counts = shownAmount(amount, scale);
  return `The futures assume ${[
    ...(Number.isFinite(perPerson)
      ? [
          `an error of one person's change of ${shownAmount(Math.sqrt(perPerson), scale)} (the middle of the file's effects, variance times people)`,
        ]
      : []),
    studies < 2
      ? `a spread between trials drawn around none with a deviation of ${counts}, ${amountIs ?? "the amount that counts"}, as fewer than two studies tell it`
      : "a spread between trials drawn from what these studies leave open, normal around the true value",
    ...(studies === 0
      ? [`a true value drawn around none with a deviation of ${shownAmount(2 * amount, scale)}`]
      : []),
    "groups of equal size and nobody who leaves",
  ].join("; ")}.`;
};

const chanceSchema = z.looseObject({
  trials: z.number(),
  people: z.number(),
  share: z.number(),
  error: z.number(),
});

/** The chance that further trials decide an average or a verdict, ten designs, and a map of what is not known. */
export const settle = question({
  id: "settle",
  options: settleShape,
  choices: [],
  data: {
    about: z.string().nullable(),
    /** Today's decision; null where it is open. */
    decided: z.string().nullable(),
    studies: z.number(),
    simulations: z.number(),
    chances: z.array(chanceSchema),
    boundless: z.array(chanceSchema),
    designs: z.array(z.object({ name: z.string(), people: z.number(), chance: chanceSchema })),
    proposal: z.string().nullable(),
    notKnown: notKnownSchema,
  },
  prepare: (evidence, options, tell) => {
    const { outcome: _all, on: _one, statement, statements, ...rest } = options;
    if (statement !== undefined) {
      const own = statementToSettle(evidence, statement, statements, options);
      const lead = own.kind === "told" ? own : undefined;
      const told =
        lead === undefined || lead.target.decided !== undefined
          ? undefined
          : settled(lead, options, tell);
      return { evidence, set: own, lead, own, map: noMap, told };
    }
    const { set, groups } = outcomeGroups(evidence, options);
    const { rows } = askedOf(variables, evidence, rest, tell).answer().data;
    const rowsOf = ({ label }: HeadlineGroup) => rows.filter(({ family }) => family === label);
    const asked = groups
      .map((group) => {
        const row = rowAsked(rowsOf(group), options.on);
        return targetOf(group, rows, row, options);
      })
      .filter((one) => one !== undefined);
    // Where nothing is named, the first kind of outcome with a variable that is compared and open.
    const lead =
      options.on === undefined
        ? (asked.find(({ axis }) => axis !== undefined) ?? asked[0])
        : asked[0];
    const isOpen = lead !== undefined && lead.target.decided === undefined;
    const map: NotKnown = notKnown(evidence, groups, {
      ...{ options, tell },
      targetOf: (group: HeadlineGroup, name: DoseAxisName) =>
        targetOf(
          group,
          rows,
          rowsOf(group).find(({ axis }) => axis.name === name),
          options,
        )?.target,
    });
    const told = isOpen ? settled(lead, options, tell) : undefined;
    return { evidence, set, lead, own: undefined, map, told };
  },
  answer: ({ evidence, set, lead, own, map, told }, options) => {
    const { confidence, simulations } = options;
    const used = lead?.group.headline.effects ?? [];
    const paragraph =
      lead === undefined || told === undefined
        ? null
        : proposal(lead, told, options, evidence, set.contrast);
    const best = told?.designs[0];
    const askedOwn = own?.kind === "told" ? [own.asked] : [];
    return {
      headline:
        own?.kind === "cannot"
          ? `${own.about}: what trials would settle it cannot be simulated, as ${own.reason}.`
          : lead === undefined
            ? "Nothing to settle: no row reaches this scale and contrast."
            : told === undefined
              ? `${lead.about}: decided already (${lead.target.decided!}), so no further trial is needed for it.`
              : `${lead.about}: ${counted(lead.target.studies, "study leaves", "studies leave")} it open ${told.untold}; five more trials of 20 a group would decide it with a chance of ${sharePercent(at(told, 5, 20).share)}, ten of 60 with ${sharePercent(at(told, 10, 60).share)}.`,
      sentences:
        told === undefined || lead === undefined
          ? askedOwn
          : [
              spreadSentence(told),
              `Ten trials of 60 a group: ${eachWords(at(told, 10, 60).each) || "none decides"}; else it stays open.`,
              ...(best === undefined
                ? []
                : [
                    `Of ten designs the one that decides most per person: ${best.name}, ${sharePercent(best.chance.share)} with ${best.people} people.`,
                  ]),
              ...askedOwn,
              assumedSentence(lead),
              ...(lead.axis !== undefined && lead.target.studies < fewestStudiesWithin
                ? [
                    `Fewer than ${fewestStudiesWithin} studies compare it, so ${fewestStudiesWithin - lead.target.studies} more are needed before there is any answer; what studies leave open is drawn from starting assumptions, a difference around none with a deviation of twice what counts.`,
                  ]
                : []),
              `For a proposal: ${paragraph!}`,
            ],
      tables: [
        ...(told === undefined ? [] : [chancesTable(told.chances), designsTable(told.designs)]),
        ...notKnownTable(map),
      ],
      figures: [
        ...(told === undefined
          ? []
          : [
              {
                name: "settle" as const,
                data: {
                  id: "settle",
                  about: told.about,
                  simulations,
                  chances: told.chances.map(({ trials, people: size, share, error }) => ({
                    trials,
                    people: size,
                    share,
                    error,
                  })),
                  boundless: [told.oneLarge, told.tenLarge].map(({ trials, share, error }) => ({
                    trials,
                    share,
                    error,
                  })),
                  same: sameSizes(told.chances),
                },
              },
            ]),
        ...(map.cells.length === 0
          ? []
          : [{ name: "not-known" as const, data: { id: "not-known", ...map } }]),
      ],
      refusal:
        own?.kind === "cannot"
          ? refusal("not-told", own.reason)
          : lead === undefined
            ? noEffects
            : told === undefined
              ? refusal("decided-already", "it is decided already")
              : undefined,
      data: {
        ...dataOf(set, confidence, used),
        about: lead?.about ?? (own?.kind === "cannot" ? own.about : null),
        decided: lead?.target.decided ?? null,
        studies: lead?.target.studies ?? 0,
        simulations,
        chances: [...(told?.chances ?? [])],
        boundless: told === undefined ? [] : [told.oneLarge, told.tenLarge],
        designs: [...(told?.designs ?? [])],
        proposal: paragraph,
        notKnown: map,
      },
    };
  },
});
