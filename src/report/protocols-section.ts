import { holdStripFigure } from "../figures/hold-strip-figure.js";
import { shownDuration } from "../figures/shown-duration.js";
import { cautionsFor } from "../projection/cautions.js";
import { projectionGoals } from "../projection/goals.js";
import type { NamedProtocol } from "../projection/protocol-list.js";
import { tensionTimePerSessionSeconds } from "../protocol/tension-time.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { cautionsTable } from "../tables/cautions-table.js";
import type { Analysis } from "./analysis.js";
import { goalProjections, type JudgedProtocol } from "./goal-projections.js";
import { judgedSession } from "./judged-session.js";
import type { ReportSection, SectionMaker } from "./report-section.js";

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

/**
 * The report's section on protocols named in a file: each session to scale, whether it can be held, what is projected
 * for each goal, how the protocols compare, and the cautions in full. Nothing without protocols.
 */
export const protocolsSection: SectionMaker = (analysis, wishes, progress) => {
  const named = wishes.protocols ?? [];
  if (named.length === 0) return undefined;
  const protocols = named.map(judged);
  const set = setOf(analysis);
  const goals = wishes.goals ?? projectionGoals;
  const held = protocols.map(
    ({ name, prescription, session }) =>
      `${name}: ${writePrescription(prescription)}. ${session.words}`,
  );
  const cautions = cautionsTable(cautionsFor(protocols.map(({ prescription }) => prescription)));
  const parts =
    set === undefined || set.scale !== "log-ratio-of-means"
      ? []
      : goals.map((goal) => {
          progress(`projecting ${goal}`);
          return goalProjections(goal, set, analysis, protocols);
        });
  return {
    id: "protocols",
    title: "Protocols: what to expect",
    sentences: [
      ...held,
      ...(parts.length === 0
        ? [
            "Nothing is projected: that needs changes or differences on the scale log ratio of means, which this report was not asked for.",
          ]
        : [
            "Three ranges stand for each projection: the average over such studies, a new group's mean, and what a single person of such a group would measure. They are about groups and people like those studied, and a forecast for nobody.",
          ]),
      ...parts.flatMap(({ sentences }) => sentences),
    ],
    figures: [...stripFigures(protocols), ...parts.flatMap(({ figures }) => figures)],
    tables: [...parts.flatMap(({ tables }) => tables), cautions],
  };
};
