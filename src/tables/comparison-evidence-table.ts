/** Trials that compare two such protocols directly, and what was changed to make protocols equal, as tables. */
import type { ProtocolComparison } from "../projection/compare-protocols.js";
import type { Equalised } from "../projection/equalise-protocols.js";
import { counted, formatNumber, plainNumber } from "./number-format.js";
import { rangeCell } from "./range-cells.js";
import type { Table } from "./table.js";

/**
 * Head-to-head trials of every pair that has any: pooled first, then each with its arms, distances and citation.
 *
 * @returns undefined when no pair has one; the answer then rests on indirect evidence alone
 */
export const headToHeadTable = (
  { protocols, differences }: Pick<ProtocolComparison, "protocols" | "differences">,
  id = "head-to-head",
): Table | undefined => {
  const name = (place: number): string => protocols[place]?.name ?? "";
  const methods = new Set<string>();
  const rows = differences.flatMap(({ first, second, headToHead: { trials, pooled } }) => {
    const pair = `${name(first)} – ${name(second)}`;
    if (pooled !== undefined && trials.length > 1) methods.add(pooled.method);
    return [
      ...(pooled === undefined || trials.length < 2
        ? []
        : [
            {
              pair,
              study: `${trials.length} trials pooled`,
              arms: "",
              difference: rangeCell({ estimate: pooled.estimate, ...pooled.interval }),
              distances: "",
              readings: "",
              citation: "",
            },
          ]),
      ...trials.map((trial) => ({
        pair,
        study: trial.study,
        arms: `${trial.firstArm} against ${trial.secondArm}`,
        difference: rangeCell({ estimate: trial.estimate, ...trial.interval }),
        distances: `${formatNumber(trial.firstDistance, { digits: 1 })} and ${formatNumber(trial.secondDistance, { digits: 1 })}`,
        readings: plainNumber(trial.readings),
        citation: trial.doi === undefined ? trial.citation : `${trial.citation}, doi ${trial.doi}`,
      })),
    ];
  });
  if (rows.length === 0) return undefined;
  const indirect = differences.filter(({ headToHead: { trials } }) => trials.length === 0);
  return {
    id,
    title: "Trials that compare two such arms directly",
    columns: [
      { key: "pair", label: "Pair", align: "left" },
      { key: "study", label: "Study", align: "left" },
      { key: "arms", label: "Arms", align: "left" },
      { key: "difference", label: "First over second, 95% interval", unit: "%", align: "right" },
      { key: "distances", label: "Distances", unit: "steps", align: "left" },
      { key: "readings", label: "Readings", align: "right" },
      { key: "citation", label: "Citation", align: "left" },
    ],
    rows,
    notes: [
      "An arm counts as like a protocol within two steps of it; the nearer, the more it says.",
      ...[...methods].map((method) => `Pooled: ${method}.`),
      ...(indirect.length === 0
        ? []
        : [
            `Indirect evidence alone: ${indirect.map(({ first, second }) => `${name(first)} – ${name(second)}`).join(", ")}.`,
          ]),
    ],
  };
};

/** What each protocol was before and after one field was changed to make a quantity equal. */
export const equalisedTable = (
  { quantity, unit, adjusted, target, protocols }: Equalised,
  names: readonly string[],
  id = "equalised",
): Table => {
  const field = adjusted === "holdSeconds" ? "the length of the hold" : `the number of ${adjusted}`;
  const value = (amount: number): string => plainNumber(Number(amount.toFixed(1)));
  const off = protocols.filter((one) => Math.abs(one.value - target) > 0.005 * target);
  return {
    id,
    title: `Made equal in ${quantity} by changing ${field}: ${value(target)} ${unit}, as ${names[0] ?? "the first"}`,
    columns: [
      { key: "name", label: "Protocol", align: "left" },
      { key: "written", label: "As compared", align: "left" },
      { key: "before", label: "Before", unit, align: "right" },
      { key: "after", label: "As compared", unit, align: "right" },
    ],
    rows: protocols.map((one, index) => ({
      name: names[index] ?? "",
      written: one.written,
      before: value(one.valueBefore),
      after: value(one.value),
    })),
    notes:
      off.length === 0
        ? []
        : [
            `${counted(off.length, "protocol")} ${off.length === 1 ? "comes" : "come"} only near, as ${field} is whole.`,
          ],
  };
};
