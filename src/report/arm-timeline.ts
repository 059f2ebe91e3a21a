import { sessionTimeline, timelineNeeds } from "../protocol/session-timeline.js";
import type { TimelinePart } from "../protocol/session-timeline.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { prescriptionOf } from "../records/prescription-of.js";

/**
 * The session of a row's arm, stretch by stretch; undefined where a rest or an effort is not coded.
 *
 * A strip is drawn to scale or not at all: nothing is made up.
 *
 * @source none: sessionTimeline of prescriptionOf
 */
export const armTimeline = (row: OutcomeRow): readonly TimelinePart[] | undefined => {
  const prescription = prescriptionOf(row);
  return prescription === undefined || timelineNeeds(prescription).length > 0
    ? undefined
    : sessionTimeline(prescription);
};
