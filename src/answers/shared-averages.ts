/** Protocols of which a file tells nothing: the average of all trials after as many weeks as each lasts. */
import type { ProtocolComparison } from "../projection/compare-protocols.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import type { ProjectOptions } from "../projection/placed-protocol.js";
import { projectProtocol, type Projection } from "../projection/project-protocol.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { grouped } from "../records/grouped.js";
import type { SharedAverage } from "../tables/projection-table.js";

/** The average of all trials after each length of training that is compared, with the names that last as long. */
export const sharedAverages = (
  prepared: ReadyProjection,
  { protocols }: ProtocolComparison,
  options: ProjectOptions,
): readonly SharedAverage[] =>
  [...grouped(protocols, ({ projection }) => String(projection.weeks)).values()].map((own) => ({
    projection: projectProtocol(prepared, own[0]!.prescription, {
      ...options,
      course: false,
    }) as Projection,
    names: own.map(({ name }) => name),
  }));

/** Whether protocols are the same but for how many weeks they last. */
export const differInWeeksAlone = ({ protocols }: ProtocolComparison): boolean => {
  const lengths = new Set(protocols.map(({ projection }) => projection.weeks));
  const others = new Set(
    protocols.map(({ prescription: { weeks: _weeks, ...rest } }) => writePrescription(rest)),
  );
  return lengths.size > 1 && others.size === 1;
};
