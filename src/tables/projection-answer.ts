/** A projection, or its refusal, in one or two sentences. */
import { contrastShortLabel } from "../effects/scale-label.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import type { Projection, ProjectionRefusal } from "../projection/project-protocol.js";
import { counted } from "./counted.js";
import { formatNumber } from "./number-format.js";
import { confidenceWords, rangeLimits, rangeMiddle } from "./range-cells.js";

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * The three ranges in a sentence that never stands for one number, with the call of extrapolation where it is one.
 *
 * @param confidence share of the probability inside a range, as it was projected with
 */
export const projectionAnswer = (
  projection: Projection,
  prepared: Pick<ReadyProjection, "contrast">,
  confidence = 0.95,
): string => {
  const { average, newGroup, person } = projection.ranges;
  const { extrapolates, nearArms, nearPeople } = projection.support;
  return `${capital(projection.goal)} after ${counted(projection.weeks, "week")}, ${contrastShortLabel(prepared.contrast)}: such studies average ${rangeMiddle(average)}% (${confidenceWords(confidence)} range ${rangeLimits(average)}%), a new group is expected within ${rangeLimits(newGroup)}%, a single person within ${rangeLimits(person)}%. ${
    extrapolates ? "This is an extrapolation" : "This lies inside what was studied"
  }; ${counted(nearArms, "arm")} with ${counted(nearPeople, "person", "people")} ${nearArms === 1 ? "lies" : "lie"} near it.`;
};

/** Why nothing is projected, and which supported protocol lies nearest. */
export const projectionRefusalAnswer = (refusal: ProjectionRefusal): string => {
  const { nearest, reason } = refusal;
  const named =
    nearest === undefined || reason.includes(nearest.study)
      ? ""
      : ` The nearest is ${nearest.written === undefined ? `arm "${nearest.arm}"` : `"${nearest.written}"`} of ${nearest.study}, ${formatNumber(nearest.distance, { digits: 1 })} steps away.`;
  return `Nothing is projected for ${refusal.goal}: ${reason}.${named}`;
};
