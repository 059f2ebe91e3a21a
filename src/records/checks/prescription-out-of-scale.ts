import type { Issue, IssueCode } from "../../errors.js";
import type { FieldName } from "../codebook.js";
import type { OutcomeRow } from "../outcome-row.js";
import { shown } from "./peers.js";
import { grouped } from "../grouped.js";
import { armKey, noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck, TableCheck } from "./row-check.js";

/** Longer programmes of isometric training are hardly ever tried. */
const longestWeeks = 30;

const doubt = (row: OutcomeRow, field: FieldName, code: IssueCode, message: string, mend: string) =>
  rowIssue(row, field, "warning", { code, message, mend });

/** Holds and rests that are too short to be seconds, and weeks that are too many. */
export const prescriptionOutOfScale: RowCheck = (row) => {
  const { holdSeconds: hold, restBetweenRepetitionsSeconds: rest, weeks } = row;
  const sets = row.restBetweenSetsSeconds;
  const explosive = row.effortIntent === "as fast as possible";
  const short = hold !== undefined && (hold < 0.5 || (hold < 1 && !explosive));
  const pause = rest !== undefined && rest > 0 && rest < 1;
  const between = sets !== undefined && sets > 0 && sets <= 5;
  const shorter = sets !== undefined && rest !== undefined && sets > 0 && sets < rest;
  const long = weeks !== undefined && weeks > longestWeeks;
  if (!short && !pause && !between && !shorter && !long) return noDoubts;
  const minutes = (value: number) => `write ${shown(60 * value)} if minutes were typed`;
  return [
    ...(short
      ? [
          doubt(
            row,
            "holdSeconds",
            "hold-out-of-scale",
            "a hold is hardly ever shorter than a second",
            minutes(hold),
          ),
        ]
      : []),
    ...(pause
      ? [
          doubt(
            row,
            "restBetweenRepetitionsSeconds",
            "rest-out-of-scale",
            "a rest is hardly ever shorter than a second",
            minutes(rest),
          ),
        ]
      : []),
    ...(between || shorter
      ? [
          doubt(
            row,
            "restBetweenSetsSeconds",
            "rest-out-of-scale",
            shorter
              ? "the rest between sets is shorter than the rest between holds"
              : "a rest between sets is hardly ever so short",
            minutes(sets ?? 0),
          ),
        ]
      : []),
    ...(long
      ? [
          doubt(
            row,
            "weeks",
            "weeks-out-of-scale",
            `programmes hardly ever last longer than ${longestWeeks} weeks`,
            `write ${shown(weeks / 7)} if days were typed`,
          ),
        ]
      : []),
  ];
};

/** Factors by which a slip of unit or point leaves an arm apart from the trial's other arms. */
const slips: readonly Readonly<{
  field: "holdSeconds" | "weeks";
  factor: number;
  code: IssueCode;
  mend: string;
}>[] = [
  {
    field: "holdSeconds",
    factor: 10,
    code: "hold-out-of-scale",
    mend: "check the decimal point of the hold",
  },
  {
    field: "holdSeconds",
    factor: 60,
    code: "hold-out-of-scale",
    mend: "check that the hold is in seconds",
  },
  {
    field: "weeks",
    factor: 7,
    code: "weeks-out-of-scale",
    mend: "check that weeks are not days",
  },
];

/** Arms that differ from a sister arm of their trial by just such a factor, and weeks that no row was measured after. */
export const armsOutOfScale: TableCheck = (rows) =>
  [...grouped(rows, ({ study }) => study).values()].flatMap((study) => {
    const arms = [...grouped(study, armKey).values()];
    return [
      ...arms.flatMap((own): readonly Issue[] => {
        const [first] = own;
        if (first?.weeks === undefined) return noDoubts;
        const measured = own.flatMap(({ weekMeasured }) => weekMeasured ?? []);
        const last = measured.reduce((high, week) => Math.max(high, week), 0);
        return measured.length === own.length && first.weeks >= 5 * last && first.weeks >= 7
          ? [
              doubt(
                first,
                "weeks",
                "weeks-out-of-scale",
                `the last measurement of the arm is at week ${shown(last)}`,
                `write ${shown(first.weeks / 7)} if days were typed, and check week_measured`,
              ),
            ]
          : noDoubts;
      }),
      ...slips.flatMap(({ field, factor, code, mend }) => {
        const keyOf = (row: OutcomeRow, value: number) =>
          `${row.repetitions}|${row.sets}|${value.toPrecision(3)}`;
        const known = new Set(
          arms.flatMap(([row]) => (row?.[field] === undefined ? [] : [keyOf(row, row[field])])),
        );
        return arms.flatMap(([row]): readonly Issue[] => {
          const value = row?.[field];
          if (row === undefined || value === undefined) return noDoubts;
          const sister = known.has(keyOf(row, value / factor)) ? value / factor : undefined;
          return sister === undefined
            ? noDoubts
            : [
                doubt(
                  row,
                  field,
                  code,
                  `it is ${factor} times the ${shown(sister)} of another arm of the trial`,
                  mend,
                ),
              ];
        });
      }),
    ];
  });
