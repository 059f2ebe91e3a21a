/** The weeks of a working-up as a table, and the answer in a sentence. */
import type { RampPlan } from "../projection/ramp-plan.js";
import type { RampRefusal } from "../projection/ramp-refusal.js";
import { gradeWords } from "./hold-table.js";
import { noteLines } from "./note-lines.js";
import { formatNumber } from "./number-format.js";
import type { Table } from "./table.js";

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * A row for each week: what to do, what changed, tension time, and the endurance grade with what is left at
 * the closest for those who tire early.
 */
export const rampTable = (plan: RampPlan): Table => {
  const weekNotes = plan.weeks.flatMap(({ notes }) => notes);
  return {
    id: "ramp",
    title: `Working up in ${plan.weeks.length} ${plan.weeks.length === 1 ? "week" : "weeks"}, ${plan.from}`,
    columns: [
      { key: "week", label: "Week", align: "right" },
      { key: "session", label: "Each session", align: "left" },
      { key: "change", label: "Changed", align: "left" },
      { key: "tension", label: "Tension time", unit: "s", align: "right" },
      { key: "grade", label: "Can be held", align: "left" },
      { key: "reserve", label: "To spare", unit: "points of MVC", align: "right" },
    ],
    rows: plan.weeks.map((week) => ({
      week: String(week.week),
      session: week.written,
      change:
        week.change === undefined
          ? week.week === 1
            ? "the start"
            : "as the week before"
          : `${week.change.variable} ${week.change.from} → ${week.change.to}`,
      tension: formatNumber(week.tensionTimeSeconds, {
        digits: Number.isInteger(week.tensionTimeSeconds) ? 0 : 1,
      }),
      grade: gradeWords(week),
      reserve: `${formatNumber(week.smallestReservePercent.central, { digits: 0 })} (${formatNumber(week.smallestReservePercent.low, { digits: 0 })} to ${formatNumber(week.smallestReservePercent.high, { digits: 0 })})`,
    })),
    notes: [
      "To spare: least capacity above the load at the end of a hold, by the model, with the band from those who tire early to those who tire late; below zero the hold cannot be kept to its end.",
      ...noteLines([...weekNotes, ...plan.notes]),
    ],
  };
};

/** A plan or a refusal in a sentence. */
export const rampAnswer = (answer: RampPlan | RampRefusal): string => {
  if (answer.kind === "refusal")
    return `No plan: ${answer.reason}. What would fit: ${answer.wouldFit.join("; ")}.`;
  const [first] = answer.weeks;
  const last = answer.weeks.at(-1);
  const hard = answer.weeks.filter(({ grade }) => grade === "hard").map(({ week }) => week);
  const span = `From ${first?.written ?? ""} to ${last?.written ?? ""} in ${answer.weeks.length} ${answer.weeks.length === 1 ? "week" : "weeks"} (${answer.shortestWeeks} at least)`;
  return hard.length === 0
    ? `${span}; no week is hard by the model.`
    : `${span}; hard by the model in ${hard.length === 1 ? "week" : "weeks"} ${hard.join(", ")}.`;
};

/** A refusal as a table of what would fit. */
export const rampRefusalTable = (refusal: RampRefusal): Table => ({
  id: "ramp-refused",
  title: `No plan: ${refusal.reason}`,
  columns: [{ key: "fits", label: "What would fit, one thing changed at a time", align: "left" }],
  rows: refusal.wouldFit.map((sentence) => ({ fits: capital(sentence) })),
  notes: noteLines(refusal.notes),
});
