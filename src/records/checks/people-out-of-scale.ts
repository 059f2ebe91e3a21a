import { median } from "simple-statistics";
import type { Issue } from "../../errors.js";
import { medianOfOthers } from "./peers.js";
import { grouped } from "../grouped.js";
import { armKey, noDoubts, rowIssue } from "./row-check.js";
import type { TableCheck } from "./row-check.js";

/** Arms of a trial are of a size, and so are the rows of an arm. */
const farInTrial = 5;
/** Trials differ more. */
const farFromOthers = 7;

/** Numbers of people far above those of the same trial, or of the other studies: a digit too many. */
export const peopleOutOfScale: TableCheck = (rows) => {
  const counted = rows.flatMap((row) => {
    const value = row.nEnd ?? row.nStart;
    return value === undefined ? [] : [{ row, study: row.study, value }];
  });
  const others = medianOfOthers(counted);
  return [...grouped(counted, ({ study }) => study).values()].flatMap((study) => {
    const arms = [...grouped(study, ({ row }) => armKey(row)).values()];
    const sizes = arms.map((own) => median(own.map(({ value }) => value)));
    // The largest arm is held against the second largest, every other one against the largest.
    const place = [...sizes.keys()].sort((a, b) => (sizes[b] ?? 0) - (sizes[a] ?? 0));
    return arms.flatMap((own, i) => {
      const size = sizes[i] ?? 0;
      const sister =
        sizes.length < 2 ? size : i === place[0] ? sizes[place[1] ?? 0] : sizes[place[0] ?? 0];
      const peers = others(own[0]?.study ?? "");
      return own.flatMap(({ row, value }, at): readonly Issue[] => {
        const low = Math.min(size, sister ?? size);
        const fromTrial = value >= farInTrial * low;
        const fromOthers =
          at === 0 && peers !== undefined && value >= farFromOthers * peers.median && value >= 100;
        if (!fromTrial && !fromOthers) return noDoubts;
        if (fromTrial && at > 0 && value === own[0]?.value) return noDoubts;
        return [
          rowIssue(row, row.nEnd === undefined ? "nStart" : "nEnd", "warning", {
            code: "people-out-of-scale",
            message: fromTrial
              ? `the rest of the trial has ${low} people in an arm`
              : `the ${peers?.studies ?? 0} other studies have ${peers?.median ?? 0} people in an arm`,
            mend: "check the number: a digit too many makes the row count too much",
          }),
        ];
      });
    });
  });
};
