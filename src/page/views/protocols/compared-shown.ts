/** Everything the protocols view shows that changes with a slider, worked out at once from plain data. */
import { canBeHeld, type HoldAssessment } from "../../../endurance/can-be-held.js";
import { CallError } from "../../../errors.js";
import {
  compareProtocols,
  type CompareOptions,
  type ComparisonRefusal,
  type ProtocolComparison,
} from "../../../projection/compare-protocols.js";
import type { PreparedProjection } from "../../../projection/prepare-projection.js";
import {
  projectProtocol,
  type Projection,
  type ProjectionRefusal,
} from "../../../projection/project-protocol.js";
import type { Prescription } from "../../../protocol/prescription.js";
import {
  sessionTimeline,
  timelineNeeds,
  type TimelinePart,
} from "../../../protocol/session-timeline.js";
import { remembered } from "./remembered.js";

/** A session laid out and judged, or what the protocol lacks for that. */
export type SessionShown =
  | Readonly<{
      kind: "judged";
      timeline: readonly TimelinePart[];
      assessment: HoldAssessment;
    }>
  | Readonly<{ kind: "not judged"; needs: readonly (keyof Prescription)[] }>;

/** The call could not be answered; said in words. */
export type Unanswered = Readonly<{ kind: "unanswered"; message: string }>;

export type ComparedShown = Readonly<{
  /** One for each protocol, in order. */
  sessions: readonly SessionShown[];
  /** The same; absent until the table is ready. */
  projections: readonly (Projection | ProjectionRefusal | Unanswered)[] | undefined;
  /** Absent until the table is ready and where fewer than two protocols can be projected. */
  comparison: ProtocolComparison | ComparisonRefusal | Unanswered | undefined;
}>;

const orMessage = <Answer>(answer: () => Answer): Answer | Unanswered => {
  try {
    return answer();
  } catch (error) {
    if (!(error instanceof CallError)) throw error;
    return { kind: "unanswered", message: error.message };
  }
};

const sessions = remembered<SessionShown>(24);

/** A session laid out and judged. */
export const sessionShown = (p: Prescription): SessionShown =>
  sessions(JSON.stringify(p), () => {
    const needs = timelineNeeds(p);
    if (needs.length > 0) return { kind: "not judged", needs };
    return { kind: "judged", timeline: sessionTimeline(p), assessment: canBeHeld(p) };
  });

const projectionsOf = new WeakMap<
  PreparedProjection,
  ReturnType<typeof remembered<Projection | ProjectionRefusal | Unanswered>>
>();

/**
 * Sessions, projections and the comparison of some protocols.
 *
 * What did not change since the last time is not worked out again: a slider moves one protocol.
 *
 * @param prepared from `receivedProjection`; undefined while it is made
 */
export const comparedShown = (
  prepared: PreparedProjection | undefined,
  protocols: readonly Readonly<{ name: string; prescription: Prescription }>[],
  options: CompareOptions,
): ComparedShown => {
  const shown = protocols.map(({ prescription }) => sessionShown(prescription));
  if (prepared === undefined)
    return { sessions: shown, projections: undefined, comparison: undefined };
  const known = projectionsOf.get(prepared) ?? remembered(24);
  projectionsOf.set(prepared, known);
  const { equalise: _equal, names: _names, ...wishes } = options;
  const key = JSON.stringify(wishes);
  const projections = protocols.map(({ prescription }) =>
    known(`${key}${JSON.stringify(prescription)}`, () =>
      orMessage(() => projectProtocol(prepared, prescription, wishes)),
    ),
  );
  const projected = protocols.filter((_, place) => projections[place]?.kind === "projection");
  if (projected.length < 2) return { sessions: shown, projections, comparison: undefined };
  return {
    sessions: shown,
    projections,
    comparison: orMessage(() =>
      compareProtocols(
        prepared,
        projected.map(({ prescription }) => prescription),
        // The course over weeks is in the projections above.
        { ...options, course: false, names: projected.map(({ name }) => name) },
      ),
    ),
  };
};
