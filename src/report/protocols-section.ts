import { holdStripFigure } from "../figures/hold-strip-figure.js";
import { shownDuration } from "../figures/shown-duration.js";
import { cautionsFor } from "../projection/cautions.js";
import type { ProjectionGoal } from "../projection/goals.js";
import type { NamedProtocol } from "../projection/protocol-list.js";
import { tensionTimePerSessionSeconds } from "../protocol/derived-quantities.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { cautionsTable } from "../tables/cautions-table.js";
import type { Analysis } from "./old-sections.js";
import { goalProjections, type JudgedProtocol } from "./goal-projections.js";
import { judgedSession } from "./judged-session.js";
import type { ReportSection, SectionMaker } from "./old-sections.js";

/** Most sessions that one figure holds. */
const mostInFigure = 6;

const chunks = <Item>(items: readonly Item[], size: number): readonly (readonly Item[])[] =>
  Array.from({ length: Math.ceil(items.length / size) }, (_, index) =>
    items.slice(index * size, (index + 1) * size),
  );

const judged = ({ name, prescription }: NamedProtocol): JudgedProtocol => ({
  name,
  prescription,
  session: judgedSession(prescription),
});

/** Every session to scale, six a figure. */
const stripFigures = (protocols: readonly JudgedProtocol[]): ReportSection["figures"] => {
  const laid = protocols.flatMap(({ name, prescription, session: { timeline } }) =>
    timeline === undefined ? [] : [{ name, prescription, timeline }],
  );
  const parts = chunks(laid, mostInFigure);
  return parts.map((part, index) =>
    holdStripFigure({
      id: parts.length === 1 ? "protocol-sessions" : `protocol-sessions-${index + 1}`,
      title: "The sessions, to scale",
      sessions: part.map(({ name, prescription, timeline }) => ({
        label: name,
        timeline,
        summary: `${shownDuration(tensionTimePerSessionSeconds(prescription))} of tension, ${shownDuration(timeline.at(-1)?.endSeconds ?? 0)} long`,
      })),
    }),
  );
};

/** The set that gains are projected from: changes before to after where the report has them. */
const setOf = ({ sets }: Analysis) =>
  sets.find(({ contrast }) => contrast === "change-within-arm") ??
  sets.find(({ contrast }) => contrast === "against-control");

/** Whether gains can be projected from the report's effects. */
const projectable = (analysis: Analysis) => {
  const set = setOf(analysis);
  return set === undefined || set.scale !== "log-ratio-of-means" ? undefined : set;
};

/**
 * The report's section on protocols named in a file: each session to scale, whether it can be held, and the cautions
 * in full. Nothing without protocols.
 */
export const protocolsSection: SectionMaker = (analysis, wishes) => {
  const named = wishes.protocols ?? [];
  if (named.length === 0) return undefined;
  const protocols = named.map(judged);
  return {
    id: "protocols",
    title: "Protocols",
    sentences: [
      ...protocols.map(
        ({ name, prescription, session }) =>
          `${name}: ${writePrescription(prescription)}. ${session.words}`,
      ),
      projectable(analysis) === undefined
        ? "Nothing is projected: that needs changes or differences on the scale log ratio of means, which this report was not asked for."
        : "What to expect of them stands below, goal by goal. Three ranges stand for each projection: the average over such studies, a new group's mean, and what a single person of such a group would measure. They are about groups and people like those studied, and a forecast for nobody.",
    ],
    figures: stripFigures(protocols),
    tables: [cautionsTable(cautionsFor(protocols.map(({ prescription }) => prescription)))],
  };
};

/** The report's section on what to expect of the named protocols towards one goal, and how they compare. */
export const protocolGoalSection =
  (goal: ProjectionGoal): SectionMaker =>
  (analysis, wishes, progress) => {
    const named = wishes.protocols ?? [];
    const set = projectable(analysis);
    const isWished = wishes.goals === undefined || wishes.goals.includes(goal);
    if (named.length === 0 || set === undefined || !isWished) return undefined;
    progress(`projecting ${goal}`);
    return {
      id: `protocols-${goal.replaceAll(" ", "-")}`,
      title: `What to expect: ${goal}`,
      ...goalProjections(goal, set, analysis, named.map(judged)),
    };
  };
