import type { EffectSet } from "../effects/effect.js";
import { CallError } from "../errors.js";
import { comparisonFigure } from "../figures/comparison-figure.js";
import type { Figure } from "../figures/figure.js";
import { projectionFigure } from "../figures/projection-figure.js";
import { comparedProtocols, compareProtocols } from "../projection/compare-protocols.js";
import type { ProjectionGoal } from "../projection/goals.js";
import { prepareProjection, type ReadyProjection } from "../projection/prepare-projection.js";
import { projectProtocol, type Projection } from "../projection/project-protocol.js";
import type { Prescription } from "../protocol/prescription.js";
import { headToHeadTable } from "../tables/comparison-evidence-table.js";
import {
  comparisonCostTable,
  comparisonTable,
  differencesTable,
  verdictSentences,
} from "../tables/comparison-table.js";
import {
  projectionAnswer,
  projectionCourseTable,
  projectionRefusalAnswer,
  projectionTable,
} from "../tables/projection-table.js";
import {
  predictorsTable,
  priorsTable,
  projectionModelSentence,
  projectionNoteLines,
} from "../tables/projection-basis-table.js";
import { nearestTable, supportSentences } from "../tables/projection-support-table.js";
import type { Table } from "../tables/table.js";
import type { Analysis } from "./old-sections.js";
import type { JudgedSession } from "./judged-session.js";

/** A protocol of the report with its session laid out and judged. */
export type JudgedProtocol = Readonly<{
  name: string;
  prescription: Prescription;
  session: JudgedSession;
}>;

/** What a report says about protocols towards one goal. */
export type GoalPart = Readonly<{
  sentences: readonly string[];
  figures: readonly Figure[];
  tables: readonly Table[];
}>;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

type Projected = JudgedProtocol & Readonly<{ projection: Projection }>;
type Outcome = Projected | (JudgedProtocol & Readonly<{ refusal: string }>);

/** A projection, or in words why there is none; a protocol that lacks a field is no reason to lose the others. */
const outcomeOf = (
  prepared: ReadyProjection,
  protocol: JudgedProtocol,
  confidence: number,
): Outcome => {
  try {
    const answer = projectProtocol(prepared, protocol.prescription, { confidence });
    return answer.kind === "projection"
      ? { ...protocol, projection: answer }
      : { ...protocol, refusal: projectionRefusalAnswer(answer) };
  } catch (error) {
    if (!(error instanceof CallError)) throw error;
    return { ...protocol, refusal: `Nothing is projected for ${prepared.goal}: ${error.message}` };
  }
};

/** The reasons for calling a projection an extrapolation, where it is one. */
const extrapolation = ({ support }: Projection): string =>
  support.extrapolates ? ` ${supportSentences(support)[0] ?? ""}` : "";

const isProjected = (outcome: Outcome): outcome is Projected => "projection" in outcome;

/** Parts of the comparison of the first six that could be projected. */
const comparisonPart = (
  prepared: ReadyProjection,
  projected: readonly Projected[],
  confidence: number,
  id: string,
): GoalPart => {
  const { fewest, most } = comparedProtocols;
  const compared = projected.slice(0, most);
  if (compared.length < fewest) return { sentences: [], figures: [], tables: [] };
  const comparison = compareProtocols(
    prepared,
    compared.map(({ prescription }) => prescription),
    { confidence, names: compared.map(({ name }) => name) },
  );
  if (comparison.kind === "refusal")
    return { sentences: [`Nothing is compared: ${comparison.reason}.`], figures: [], tables: [] };
  const direct = headToHeadTable(comparison, `head-to-head-${id}`);
  return {
    sentences: [
      ...(projected.length > most
        ? [`The first ${most} of ${projected.length} protocols are compared.`]
        : []),
      ...verdictSentences(comparison),
    ],
    figures: [
      comparisonFigure({
        id: `comparison-${id}`,
        comparison,
        prepared,
        timelines: compared.map(({ session }) => session.timeline),
        confidence,
      }),
    ],
    tables: [
      ...(direct === undefined ? [] : [direct]),
      differencesTable(comparison, { confidence, id: `comparison-${id}` }),
      comparisonTable(comparison, prepared, { confidence, id: `comparison-${id}-ranges` }),
      comparisonCostTable(comparison, `comparison-${id}-cost`),
    ],
  };
};

/**
 * Projections of every protocol towards one goal, their comparison, and what both rest on.
 *
 * @param set effects on the scale log ratio of means
 */
export const goalProjections = (
  goal: ProjectionGoal,
  set: EffectSet,
  { records, confidence }: Pick<Analysis, "records" | "confidence">,
  protocols: readonly JudgedProtocol[],
): GoalPart => {
  const prepared = prepareProjection(set, { goal, rows: records.rows });
  if (prepared.kind === "refusal")
    return { sentences: [`${capital(prepared.reason)}.`], figures: [], tables: [] };
  const id = goal.replaceAll(" ", "-");
  const outcomes = protocols.map((protocol) => outcomeOf(prepared, protocol, confidence));
  const projected = outcomes.filter(isProjected);
  const comparison = comparisonPart(prepared, projected, confidence, id);
  const own = (place: number): string => `${id}-${place + 1}`;
  return {
    sentences: [
      ...outcomes.map((outcome) =>
        isProjected(outcome)
          ? `${outcome.name}: ${projectionAnswer(outcome.projection, prepared, confidence)}${extrapolation(outcome.projection)}`
          : `${outcome.name}: ${outcome.refusal}`,
      ),
      ...comparison.sentences,
      projectionModelSentence(prepared),
      ...projectionNoteLines(prepared),
    ],
    figures: [
      ...comparison.figures,
      ...projected.map(({ name, projection, session }, place) =>
        projectionFigure({
          id: `projection-${own(place)}`,
          name,
          projection,
          prepared,
          confidence,
          ...(session.timeline === undefined ? {} : { timeline: session.timeline }),
        }),
      ),
    ],
    tables: [
      ...comparison.tables,
      ...projected.flatMap(({ name, projection }, place) => {
        const nearest = nearestTable(projection.support.nearest, `nearest-${own(place)}`);
        const titled = (table: Table): Table => ({ ...table, title: `${name}: ${table.title}` });
        return [
          projectionTable(projection, prepared, {
            confidence,
            id: `projection-${own(place)}-ranges`,
          }),
          projectionCourseTable(projection, prepared, {
            confidence,
            id: `projection-${own(place)}`,
          }),
          { ...nearest, notes: [...supportSentences(projection.support), ...nearest.notes] },
        ].map(titled);
      }),
      predictorsTable(prepared, `predictors-${id}`),
      priorsTable(prepared, `priors-${id}`),
    ],
  };
};
