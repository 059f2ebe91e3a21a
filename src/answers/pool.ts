/** The average of every kind of outcome, how far studies differ, and what the wider selections give. */
import * as z from "zod";
import { contrastShortLabel } from "../effects/scale-label.js";
import type { Refusal } from "../errors.js";
import { permutationTest, type PermutationTest } from "../synthesis/permutation-test.js";
import { heterogeneitySentences } from "../tables/heterogeneity-sentences.js";
import { multilevelTable } from "../tables/multilevel-table.js";
import { capital, counted } from "../tables/number-format.js";
import { pooledTable } from "../tables/pooled-table.js";
import type { Table } from "../tables/table.js";
import { varianceTable } from "../tables/variance-table.js";
import { toldOrRefusedShape } from "./answer.js";
import { armsAgainstArms, orArmsApart } from "./arms-against-arms.js";
import { averageOf, averageShape, isMultilevel, modelOf, noEffects } from "./average.js";
import { effectShape } from "./effect-options.js";
import { effectsFigures, ownEffectsTable } from "./effects-figures.js";
import { linesOf } from "./evidence.js";
import { headlineLinesTable, sentencesUnder } from "./headline-lines-shown.js";
import { headlineLines } from "./headline-lines.js";
import {
  levelAnswers,
  levelData,
  levelNotes,
  levelSentence,
  levelTables,
  type LevelAnswer,
} from "./level-answers.js";
import { unweightedOf } from "./headline-selection.js";
import { notWeighted } from "./not-weighted.js";
import { namedOne, option, readAs, text } from "./option.js";
import { doubtsOf, outcomeOption, rowsOfGroup, uniqueNotes } from "./outcome-groups.js";
import { groupData, groupShape } from "./pool-data.js";
import { poolGroups, type PoolGroup, type PoolGroups } from "./pool-groups.js";
import { groupHeadline, groupSentences, ownScale, type PreparedGroup } from "./pool-words.js";
import { rulingDoubt } from "./ruling-doubt.js";
import { question, type Options } from "./question.js";

export const poolShape = {
  outcome: outcomeOption,
  ...effectShape,
  by: option(text().optional(), {
    help: "one answer for each value of this column",
    value: "<column>",
  }),
  ...averageShape,
};

export type PoolOptions = Options<typeof poolShape>;

export type PreparedPool = Omit<PoolGroups, "groups"> &
  Readonly<{
    groups: readonly PreparedGroup[];
    /** Rows without a weight, in a sentence that follows a refusal of the whole file. */
    rows: string;
    /** Means by each column that divides or explains a group. */
    levels: () => readonly LevelAnswer[];
    /** What is said instead where differences between training arms were asked for. */
    apart?: (outcome: string | undefined) => ReturnType<typeof armsAgainstArms>;
  }>;

/** A permutation p of each moderator's main effect, where it was asked for. */
const permutationTests = (
  { headline }: PoolGroup,
  options: PoolOptions,
): readonly PermutationTest[] =>
  options.permutations === 0
    ? []
    : options.moderators
        .filter((moderator) => typeof moderator === "string")
        .map((moderator) =>
          permutationTest(headline.effects, {
            moderator,
            permutations: options.permutations,
            seed: options.seed,
            model: modelOf(headline, options),
          }),
        );

const once = <Value>(make: () => Value): (() => Value) => {
  let made: Readonly<{ value: Value }> | undefined;
  return () => (made ??= { value: make() }).value;
};

/** The groups that were asked about: all, or those of one family, outcome or group name. */
export const chosenGroups = (
  groups: readonly PreparedGroup[],
  wanted: string | undefined,
): readonly PreparedGroup[] => {
  if (wanted === undefined || groups.length === 0) return groups;
  const names = [
    ...new Set(
      groups.flatMap(({ group }) => [
        group.id,
        group.label,
        ...(group.kind === undefined ? [] : [group.kind.family]),
        ...(group.kind?.outcome === undefined ? [] : [group.kind.outcome]),
      ]),
    ),
  ];
  const name = readAs("--outcome", () => namedOne(wanted, names));
  const own = groups.filter(
    ({ group }) => group.id === name || group.label === name || group.kind?.outcome === name,
  );
  return own.length > 0 ? own : groups.filter(({ group }) => group.kind?.family === name);
};

const onOwnScale = (table: Table): Table => ({
  ...table,
  title: table.title.replace(/:.*$/, ": on the file's own scale"),
  columns: table.columns.map((column) => {
    if (column.key !== "shown") return column;
    const { unit: _unit, ...rest } = column;
    return { ...rest, label: "Estimate" };
  }),
});

/** A table's file name: one document may hold those of several groups and contrasts. */
const tableId = (
  name: string,
  group: Pick<PoolGroup, "id"> | undefined,
  contrast: string | undefined,
): string => [name, group?.id, contrast].filter((part) => part !== undefined).join("-");

/** What an average is of, beside what is projected for one protocol after its own weeks. */
const overAll = "over all protocols and lengths of training";

const linesUnder = ({ group, headline, lines }: PreparedGroup): readonly string[] =>
  sentencesUnder(lines(), headline(), group.headline.set);

/** The model of a group: coefficients, variance parts, and every effect with its route. */
const modelTables = (
  { group, headline }: PreparedGroup,
  several: boolean,
  options: PoolOptions,
): readonly Table[] => {
  const average = headline();
  const { set } = group.headline;
  const scale = set?.scale ?? ownScale;
  const own = (name: string, table: Table, place?: Table["place"]): Table => ({
    ...(set === undefined ? onOwnScale(table) : table),
    id: tableId(name, group, set?.contrast),
    title: several ? `${capital(group.label)}: ${table.title}` : table.title,
    ...(place === undefined ? {} : { place }),
  });
  const place = options.moderators.length > 0 ? undefined : "folded";
  return [
    ...(average.kind === "average" && isMultilevel(average.result)
      ? [
          own("model", multilevelTable(average.result, { scale }), place),
          own("variance-by-level", varianceTable(average.result), "folded"),
        ]
      : []),
    ...(set === undefined || several
      ? []
      : [own("effects", ownEffectsTable(set, options.confidence), "folded")]),
  ];
};

/**
 * The average of every kind of outcome of a file, each with its interval, the range of a further study, and the
 * wider selections beside it; of one group, its figures and model as well.
 */
export const pool = question({
  id: "pool",
  options: poolShape,
  choices: ["outcome"],
  data: {
    // Of one group, its fields stand at the top as well.
    ...z.object(groupShape).partial().shape,
    kind: z.enum(["told", "refusal", "several groups"]),
    groups: z.array(z.looseObject(groupShape)),
    levelMeans: z
      .array(
        z.looseObject({
          group: z.string(),
          id: z.string(),
          moderator: z.string(),
          tooFewToClaim: z.boolean().optional(),
          levels: z.array(z.looseObject({ level: z.string(), studies: z.number() })).optional(),
          ...toldOrRefusedShape,
        }),
      )
      .optional(),
    warnings: z.array(z.string()),
  },
  prepare: (evidence, options, tell): PreparedPool => {
    tell("effects");
    const pooled = poolGroups(evidence, options);
    if (pooled.set?.contrast === "between-arms")
      return {
        ...pooled,
        groups: [],
        rows: "",
        levels: () => [],
        apart: (outcome) => armsAgainstArms(evidence, { ...options, outcome }),
      };
    const unweighted = pooled.set === undefined ? () => "" : notWeighted(evidence, pooled.set);
    const after = (rows: string): string => (rows === "" ? "" : ` ${rows}`);
    return {
      ...pooled,
      rows: after(unweighted()),
      levels: once(() => levelAnswers(pooled, options)),
      groups: pooled.groups.map((group) => {
        const headline = once(() => {
          tell(`pooling ${group.label} (${counted(group.headline.effects.length, "effect")})`);
          return averageOf(group.headline, options);
        });
        const { kind } = group;
        return {
          group,
          headline,
          lines: once(() => headlineLines(group, headline(), options, evidence)),
          inDoubt: once(() => rulingDoubt(evidence.records, group.headline, headline(), options)),
          rows: kind === undefined ? "" : after(unweighted({ of: rowsOfGroup(kind) })),
          wider: once(() =>
            group.wider === undefined ? undefined : averageOf(group.wider, options),
          ),
          permuted: once(() =>
            headline().kind === "refusal" ? [] : permutationTests(group, options),
          ),
        };
      }),
    };
  },
  answer: (prepared, options) => {
    const groups = chosenGroups(prepared.groups, options.outcome);
    const several = groups.length > 1;
    const [first] = groups;
    const averaged = groups.flatMap((one) => {
      const average = one.headline();
      const { set } = one.group.headline;
      return average.kind === "average"
        ? [{ group: one.group.label, result: average.result, set }]
        : [];
    });
    const scale = (several ? prepared.set : first?.group.headline.set)?.scale;
    // A group asked for by name stands beside the table of all.
    const named = (table: Table): Table =>
      options.outcome === undefined || first === undefined || several
        ? table
        : { ...table, title: `${capital(first.group.label)}: ${table.title}` };
    // What stands on unlike scales, or in unlike units, stands in tables of its own.
    const shownIn = ({ set }: (typeof averaged)[number]): string =>
      `${set?.scale ?? ""} ${set?.unit ?? ""}`;
    const averages = [...new Set(averaged.map(shownIn))].map((kind, index): Table => {
      const own = averaged.filter((one) => shownIn(one) === kind);
      const set = own[0]?.set;
      const table = pooledTable(own, { scale: set?.scale ?? ownScale, unit: set?.unit });
      const id = tableId("averages", several ? undefined : first?.group, set?.contrast);
      return named({ ...table, id: index === 0 ? id : `${id}-${index + 1}` });
    });
    const beside = groups.flatMap(({ group, lines, headline }) => {
      const own = lines();
      const average = headline();
      return own === undefined || average.kind === "refusal"
        ? []
        : [{ label: group.label, lines: own, set: group.headline.set }];
    });
    const headlines = groups.map((one) => groupHeadline(one, options));
    const wholes = new Set(groups.map(({ group: { id, part } }) => part ?? id));
    const levels = prepared.levels().filter(({ group }) => wholes.has(group.id));
    const notes = uniqueNotes([
      ...prepared.notes,
      ...doubtsOf(groups.flatMap(({ group }) => group.headline.set?.effects ?? [])),
      ...averaged.flatMap(({ result }) => result.story.notes),
      ...levels.flatMap(levelNotes),
      ...groups.flatMap(({ permuted }) => permuted().flatMap(({ notes: own }) => own)),
    ]);
    const refusal: Refusal | undefined =
      first === undefined
        ? noEffects
        : averaged.length > 0
          ? undefined
          : (first.headline() as Refusal);
    const data = groups.map((one) => groupData(one));
    const [only] = data;
    const answer = {
      headline:
        first === undefined
          ? `No average: ${refusal?.reason ?? ""}.${prepared.rows}`
          : several
            ? `${counted(averaged.length, "average")} of ${counted(groups.length, "kind")} of outcome${prepared.set === undefined ? "" : `, ${overAll}`}. ${headlines[0] ?? ""}`
            : headlines[0]!,
      sentences: [
        ...(several
          ? groups.flatMap((one, index) => {
              // One paragraph a group; the first group's average stands in the headline.
              const said = [...groupSentences(one), ...linesUnder(one)];
              if (index === 0 && said.length === 0) return [];
              const about = index === 0 ? `${capital(one.group.label)}.` : headlines[index]!;
              return [[about, ...said].join(" ")];
            })
          : first === undefined
            ? []
            : [
                ...groupSentences(first),
                ...(prepared.set === undefined || averaged.length === 0
                  ? []
                  : [`The average is ${overAll}; what one protocol gives is another number.`]),
                ...linesUnder(first),
                ...averaged.flatMap(({ result }) =>
                  heterogeneitySentences(result, { scale: scale ?? ownScale }).slice(1),
                ),
              ]),
        ...levels.map(levelSentence),
      ],
      tables: [
        ...averages.map((table) => (prepared.set === undefined ? onOwnScale(table) : table)),
        ...(beside.length === 0
          ? []
          : [
              named(
                headlineLinesTable(
                  tableId(
                    "beside-averages",
                    several ? undefined : first?.group,
                    prepared.set?.contrast,
                  ),
                  prepared.set?.contrast,
                  beside,
                ),
              ),
            ]),
        ...levels
          .flatMap(levelTables)
          .map((table) => (prepared.set === undefined ? onOwnScale(table) : table)),
        ...groups.flatMap((one) => modelTables(one, several, options)),
      ],
      figures:
        several || first?.group.headline.set === undefined
          ? []
          : effectsFigures({
              id: `${first.group.id}-${options.contrast}`,
              label: `${first.group.label}, ${contrastShortLabel(options.contrast)}`,
              set: first.group.headline.set,
              unweighted: unweightedOf(first.group.headline.set, first.group.kind),
              result: averaged[0]?.result,
              confidence: options.confidence,
            }),
      notes,
      refusal,
      untold: groups.flatMap(({ group: { kind }, headline }) =>
        kind !== undefined && headline().kind === "refusal" ? [{ family: kind.family }] : [],
      ),
      data: {
        scale: prepared.set?.scale ?? null,
        contrast: prepared.set?.contrast ?? null,
        confidence: options.confidence,
        rowsUsed: linesOf({
          effects: groups.flatMap(({ group }) => group.headline.set?.effects ?? []),
        }),
        ...(groups.length === 1 && options.by === undefined && only !== undefined
          ? only
          : { kind: "several groups" as const }),
        warnings: notes.map(({ message }) => message),
        groups: data,
        ...(levels.length === 0 ? {} : { levelMeans: levels.map(levelData) }),
      },
    };
    return orArmsApart(answer, prepared.apart?.(options.outcome));
  },
});
