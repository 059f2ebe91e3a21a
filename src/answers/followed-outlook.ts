/** What a file projects for a followed client: over the weeks, at the last test, and with the client's tests by the end. */
import type { ClientChange, UntrainedChange } from "../projection/client-change.js";
import { clientOutlook, gainCases, type OutlookOptions } from "../projection/client-outlook.js";
import {
  placedProtocol,
  type ProjectOptions,
  type ProjectionRefusal,
} from "../projection/placed-protocol.js";
import { projectProtocol, type Projection } from "../projection/project-protocol.js";
import type { Prescription } from "../protocol/prescription.js";
import type { GoalFit } from "./goal-fit.js";

/** What people show who do not train, by the control arms of the file. */
export const untrainedOf = (
  { untrained, prepared }: GoalFit,
  testDeviation: number,
): UntrainedChange | undefined =>
  untrained === undefined
    ? undefined
    : {
        mean: untrained.mean,
        meanVariance: untrained.standardError ** 2 + untrained.groupDeviation ** 2,
        personVariance: Math.max(
          0,
          (prepared.individual.controlDeviation ?? 0) ** 2 - 2 * testDeviation ** 2,
        ),
      };

/** The protocol projected to its end, or to the last test where that is later. */
export const projectOf = (
  { prepared }: GoalFit,
  p: Prescription,
  asked: ProjectOptions,
  now: number,
): Projection | ProjectionRefusal =>
  projectProtocol(prepared, p, {
    ...asked,
    ...(now > (p.weeks ?? prepared.weeksStudied.usual) ? { weeks: Math.ceil(now) } : {}),
  });

/** Where the last test lies in what was projected, and what both together expect. */
export const outlookOf = (
  { prepared }: GoalFit,
  projection: Projection,
  change: ClientChange,
  {
    asked,
    ...options
  }: OutlookOptions & Readonly<{ asked: ProjectOptions; overUntrained: boolean }>,
) => {
  const { prescription, weeks } = projection;
  const now = change.occasions.at(-1)!.weeks;
  const at = projectProtocol(prepared, prescription, { ...asked, weeks: now, course: false });
  const placed = placedProtocol(prepared, prescription, { ...asked, weeks });
  if (at.kind === "refusal" || "kind" in placed) return undefined;
  const without = options.overUntrained ? 0 : (options.untrained?.mean ?? 0);
  const { person } = at.ranges;
  return {
    projection,
    now: person,
    endWeeks: weeks,
    expected: person.estimate - without,
    tellsFrom: projection.course.find(
      (point) => point.weeks > now && point.person.estimate - without > change.detectable,
    )?.weeks,
    outlook: clientOutlook(gainCases(prepared, placed), change, weeks, options),
  };
};
