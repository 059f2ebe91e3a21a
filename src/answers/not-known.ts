/** A map of what is not known: protocols by goals, and for each that nobody studied what a trial there would decide. */
import * as z from "zod";
import { furtherTrials } from "../certainty/further-trials.js";
import type { DoseAxisName } from "../dose/dose-axes.js";
import { isTraining } from "../effects/match-comparator.js";
import { evidenceBandDefaults, evidenceMapCells } from "../figures/evidence-map-cells.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { sharePercent } from "../tables/number-format.js";
import { folded, type Table } from "../tables/table.js";
import type { EffectChoices } from "./effect-options.js";
import { chosenRows, type Evidence } from "./evidence.js";
import type { HeadlineGroup } from "./headline-selection.js";
import type { Tell } from "./question.js";
import { usualDesign, type SettleTarget } from "./settle-targets.js";

const axes = { intensityPercent: "intensity", holdSeconds: "hold length" } as const;
/** The trial that is thought of, and how many of them. */
const size = 20;
const several = 5;

const cellSchema = z.object({
  goal: z.string(),
  intensity: z.string(),
  hold: z.string(),
  studies: z.number(),
  /** Chance that so many trials there decide a variable, and which; null where they decide none that is open. */
  decides: z.object({ variable: z.string(), one: z.number(), several: z.number() }).nullable(),
});
export const notKnownSchema = z.object({
  goals: z.array(z.string()),
  cells: z.array(cellSchema),
  people: z.number(),
  several: z.number(),
});
export type NotKnown = z.infer<typeof notKnownSchema>;

/** No map, where one statement is asked about. */
export const noMap: NotKnown = { goals: [], cells: [], people: size, several };

const middleOf = (low: number | undefined, high: number | undefined): number | undefined =>
  low === undefined ? undefined : (low + (high ?? low)) / 2;

/** Goals on one map. */
const mostGoals = 5;

/**
 * Which combinations of intensity and hold length nobody studied for each goal, and what trials that set one of them
 * against the combination that is studied most would decide.
 *
 * @param targetOf a variable of a goal, as it stands and with trials added
 */
export const notKnown = (
  evidence: Evidence,
  groups: readonly HeadlineGroup[],
  {
    options,
    tell,
    targetOf,
  }: Readonly<{
    options: EffectChoices & Readonly<{ simulations: number; seed: number }>;
    tell: Tell;
    targetOf: (group: HeadlineGroup, name: DoseAxisName) => SettleTarget | undefined;
  }>,
): NotKnown => {
  const goals = groups
    .filter(({ testMode, outcome }) => testMode === "isometric" && outcome === undefined)
    .slice(0, mostGoals);
  const rows = chosenRows(evidence, options.where).filter(
    (row: OutcomeRow) => isTraining(row) && (row.armKind ?? "isometric") === "isometric",
  );
  const cells = goals.flatMap((group) => {
    const { family, label } = group;
    const own = rows.filter(({ outcomeFamily }) => outcomeFamily === family);
    if (own.length === 0) return [];
    const map = evidenceMapCells(
      own.map((row) => ({
        study: row.cohort ?? row.study,
        arm: row.arm,
        outcomeFamily: family,
        intensityPercent: middleOf(row.intensityPercent, row.intensityPercentHigh),
        holdSeconds: middleOf(row.holdSeconds, row.holdSecondsHigh),
        participants: row.nEnd ?? row.nStart,
      })),
    );
    const studied = (effort: string, hold: string): number =>
      map.cells.find((cell) => cell.effort === effort && cell.hold === hold)?.studies ?? 0;
    const all = evidenceBandDefaults.intensityPercent.flatMap(({ label: intensity }) =>
      evidenceBandDefaults.holdSeconds.map(({ label: hold }) => ({
        ...{ intensity, hold },
        studies: studied(intensity, hold),
      })),
    );
    const most = all.reduce((best, cell) => (cell.studies > best.studies ? cell : best));
    const chances = new Map(
      (Object.keys(axes) as (keyof typeof axes)[]).flatMap((name) => {
        tell(`what trials of ${axes[name]} would decide: ${label}`);
        const target = targetOf(group, name);
        if (target === undefined || target.decided !== undefined) return [];
        if (target.span === undefined || !(target.span.high > target.span.low)) return [];
        const [one, more] = furtherTrials(target.make(usualDesign), {
          plans: [
            { trials: 1, people: size },
            { trials: several, people: size },
          ],
          simulations: Math.max(20, Math.round(options.simulations / 2)),
          seed: options.seed,
        });
        return [[name, { variable: axes[name], one: one!.share, several: more!.share }] as const];
      }),
    );
    return all.map((cell) => {
      const differs = [
        ...(cell.intensity === most.intensity ? [] : (["intensityPercent"] as const)),
        ...(cell.hold === most.hold ? [] : (["holdSeconds"] as const)),
      ];
      // A trial that differs in both tells neither apart.
      const decides = differs.length === 1 ? chances.get(differs[0]!) : undefined;
      return { goal: label, ...cell, decides: cell.studies > 0 ? null : (decides ?? null) };
    });
  });
  // A goal whose rows code neither is no column of dashes.
  const goalsTold = [...new Set(cells.map(({ goal }) => goal))].filter((goal) =>
    cells.some((cell) => cell.goal === goal && (cell.studies > 0 || cell.decides !== null)),
  );
  return {
    goals: goalsTold,
    cells: cells.filter(({ goal }) => goalsTold.includes(goal)),
    people: size,
    several,
  };
};

/** The map as a table, one row a protocol. */
export const notKnownTable = ({ goals, cells }: NotKnown): readonly Table[] => {
  if (cells.length === 0) return [];
  const protocols = [...new Set(cells.map(({ intensity, hold }) => `${intensity}; ${hold} s`))];
  return [
    folded({
      id: "not-known",
      title: "What is not known: protocols nobody studied, and what trials there would decide",
      columns: [
        { key: "protocol", label: "Intensity; holds", align: "left" },
        ...goals.map((goal) => ({ key: goal, label: goal, align: "left" as const })),
      ],
      rows: protocols.map((protocol) => ({
        protocol,
        ...Object.fromEntries(
          cells
            .filter(({ intensity, hold }) => `${intensity}; ${hold} s` === protocol)
            .map(({ goal, studies, decides }) => [
              goal,
              studies > 0
                ? `studied: ${studies}`
                : decides === null
                  ? "nobody"
                  : `nobody; ${decides.variable}: 1 trial ${sharePercent(decides.one)}, ${several} trials ${sharePercent(decides.several)}`,
            ]),
        ),
      })),
      notes: [
        `Chances that trials of ${size} a group, which set this protocol against the one studied most for the goal, decide the variable in which the two differ; where they differ in both intensity and hold length, or the variable is decided, a trial there decides nothing that is open.`,
        "The trials of each chance set the two ends of the doses compared for that goal against each other, the whole span, so that one variable of one goal has one chance on the whole map; a trial of a part of the span tells less.",
      ],
    }),
  ];
};
