import { readFileSync } from "node:fs";
import { readTable } from "../../src/csv/read-table.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import {
  prepareProjection,
  type PreparedProjection,
  type ReadyProjection,
} from "../../src/projection/prepare-projection.js";
import { type ProjectOptions } from "../../src/projection/placed-protocol.js";
import { projectProtocol, type Projection } from "../../src/projection/project-protocol.js";
import type { ProjectionGoal } from "../../src/projection/goals.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { readRecords } from "../../src/records/read-records.js";

/** Five trials of the invented register that compare long with short holds; so few that the fit takes a moment only. */
const studies = ["Invented 03", "Invented 12", "Invented 16", "Invented 23", "Invented 26"];

/** The whole invented register. */
export const register = readRecords(
  readTable(readFileSync(new URL("../../data/demo-register.csv", import.meta.url))),
);

/** Rows of the five trials. */
export const fewRows = register.rows.filter(({ study }) => studies.includes(study));

const prepared = (goal: ProjectionGoal): PreparedProjection =>
  prepareProjection(effectsFromRows(fewRows, { scale: "log-ratio-of-means" }), {
    goal,
    rows: fewRows,
  });

/** The five trials made ready for projections of size. */
export const readySize = (): ReadyProjection => {
  const ready = prepared("size");
  if (ready.kind === "refusal") throw new Error(ready.reason);
  return ready;
};

/** The five trials asked for a goal that no row speaks to. */
export const noRapidForce = (): PreparedProjection => prepared("rapid force");

export const longHolds = "4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee";
export const shortHolds =
  "4 x (5 x 3 s) at 95%, rest 15 s, 120 s between sets, 3/week, 12 weeks, middle, knee";

/** A projection that has to come about. */
export const projected = (
  ready: ReadyProjection,
  text: string,
  options: ProjectOptions = {},
): Projection => {
  const answer = projectProtocol(ready, parsePrescription(text), options);
  if (answer.kind === "refusal") throw new Error(answer.reason);
  return answer;
};
