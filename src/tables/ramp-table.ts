/** The weeks of a working-up as a table, and the answer in a sentence. */
import type { RampPlan, RampRefusal } from "../projection/ramp-plan.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { gradeWords } from "./hold-table.js";
import { noteLines } from "./note-lines.js";
import { counted, formatCount, formatNumber } from "./number-format.js";
import type { Table } from "./table.js";

/**
 * A row for each week: what to do, at long length too, what changed, the torque–time of the week, and the endurance grade of
 * the harder session with what is left at the closest.
 */
export const rampTable = (plan: RampPlan): Table => {
  const weekNotes = plan.weeks.flatMap(({ notes }) => notes);
  const takesTurns = plan.weeks.some(({ long }) => long !== undefined);
  return {
    id: "ramp",
    title: `Working up in ${counted(plan.weeks.length, "week")}, ${plan.from}`,
    columns: [
      { key: "week", label: "Week", align: "right" },
      { key: "session", label: takesTurns ? "Sessions" : "Each session", align: "left" },
      ...(takesTurns
        ? [{ key: "long", label: "In turns, at long length", align: "left" } as const]
        : []),
      { key: "change", label: "Changed", align: "left" },
      { key: "work", label: "Torque–time of the week", unit: "%·s", align: "right" },
      { key: "grade", label: "Can be held", align: "left" },
      { key: "reserve", label: "To spare", unit: "points of MVC", align: "right" },
    ],
    rows: plan.weeks.map((week) => ({
      week: String(week.week),
      session: week.written,
      ...(takesTurns ? { long: week.long === undefined ? "" : week.long.written } : {}),
      change:
        week.change === undefined
          ? week.week === 1
            ? "the start"
            : "as the week before"
          : `${week.change.variable} ${week.change.from} → ${week.change.to}`,
      work: formatCount(Math.round(week.torqueTimePerWeek)),
      grade: gradeWords(week),
      reserve:
        week.grade === null
          ? ""
          : `${formatNumber(week.smallestReservePercent.central, { digits: 0 })} (${formatNumber(week.smallestReservePercent.low, { digits: 0 })} to ${formatNumber(week.smallestReservePercent.high, { digits: 0 })})`,
    })),
    notes: [
      "To spare: least capacity above the load at the end of a hold, by the model, with the band from those who tire early to those who tire late; below zero the hold cannot be kept to its end.",
      ...noteLines([...weekNotes, ...plan.notes]),
    ],
  };
};

/** A session as far as it differs from another that is named whole beside it. */
const besides = (written: string, beside: string): string => {
  const same = new Set(beside.split(", "));
  return written
    .split(", ")
    .filter((part, place) => place === 0 || !same.has(part))
    .join(", ");
};

/** Weeks as runs: 3, 30 to 40. */
const weekRuns = (weeks: readonly number[]): string =>
  weeks
    .filter((week) => !weeks.includes(week - 1))
    .map((first) => {
      let last = first;
      while (weeks.includes(last + 1)) last += 1;
      return last === first ? String(first) : `${first} to ${last}`;
    })
    .join(", ");

/** A plan or a refusal in a sentence; a plan that does not arrive begins with that. */
export const rampAnswer = (answer: RampPlan | RampRefusal): string => {
  if (answer.kind === "refusal") return `No plan: ${answer.reason}.`;
  const [first] = answer.weeks;
  const last = answer.weeks.at(-1);
  const hard = answer.weeks.filter(({ grade }) => grade === "hard").map(({ week }) => week);
  const weeks = counted(answer.weeks.length, "week");
  const nearest =
    answer.asked === undefined
      ? ""
      : `Most will not finish ${answer.asked.written} (${answer.asked.why}), so the plan works up to the nearest that they do. `;
  const [start, end] = [first?.written ?? "", last?.written ?? ""];
  const target = writePrescription(answer.target);
  const turns =
    last?.long === undefined ? "" : `, in turns with ${besides(last.long.written, end)}`;
  const span = answer.arrives
    ? `From ${besides(start, end)} to ${end} in ${weeks} (${answer.shortestWeeks} at least)`
    : `${target} ${answer.shortestWeeks === null ? "is not reached by these rules" : `needs ${answer.shortestWeeks} weeks by these rules`}. In ${weeks} the plan comes from ${besides(start, target)} to ${besides(end, target)}${turns}`;
  return hard.length === 0
    ? `${nearest}${span}; no week is hard by the model.`
    : `${nearest}${span}; hard by the model in ${hard.length === 1 ? "week" : "weeks"} ${weekRuns(hard)}.`;
};
