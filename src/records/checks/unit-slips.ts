import { familyRecord } from "../outcome-families.js";
import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/** Slips of a unit or a point: decimal places, pounds and kilograms, kilogram-force and newton. */
const factors = [2.20462, 9.80665, 10, 100, 1000] as const;

/** Training seldom doubles what it trains, and hardly ever takes a third away. */
const mostRise = 1.9;
const mostFall = 0.65;
/** Outcomes that can grow many times over. */
const mostManyfold = 12;

/**
 * Means before and after that are further apart than training brings them: most likely one of them is in another
 * unit, or its point is misread (1.250 for 1250).
 */
export const unitSlips: RowCheck = (row) => {
  const { preMean, postMean } = row;
  if (preMean === undefined || postMean === undefined || preMean === 0 || postMean === 0) {
    return noDoubts;
  }
  const ratio = postMean / preMean;
  if (ratio < 0 || row.outcomeFamily === "symptoms") return noDoubts;
  const manyfold = familyRecord(row.outcomeFamily).canChangeManyfold;
  const [fall, rise] = manyfold ? [0.45, mostManyfold] : [mostFall, mostRise];
  if (ratio > fall && ratio < rise) return noDoubts;
  const size = Math.max(ratio, 1 / ratio);
  const near = factors.reduce((best, factor) =>
    Math.abs(Math.log(size / factor)) < Math.abs(Math.log(size / best)) ? factor : best,
  );
  const small = Math.min(preMean, postMean);
  const thousands = size > 300 && /^\d{1,3}\.\d{1,3}$/.test(String(small));
  return [
    rowIssue(row, small === preMean && thousands ? "preMean" : "postMean", "warning", {
      code: "unit-slip",
      message: `before and after differ by a factor ${size < 1e9 ? `of ${Number(size.toPrecision(3))}, near ${Number(near.toPrecision(3))}` : "beyond all measure"}`,
      mend: thousands
        ? `write ${Number((1000 * small).toPrecision(12))} if the point parted the thousands`
        : `check that both are in ${row.unit ?? "the same unit"}, with the decimal point in its place`,
    }),
  ];
};
