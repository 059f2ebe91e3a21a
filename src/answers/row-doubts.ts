/** The reader's doubts about rows, told beside every number that rests on them. */
import type { Effect, EffectSet } from "../effects/effect.js";
import type { Issue, Note } from "../errors.js";
import { isDoubtName } from "../records/doubt-names.js";
import type { RecordSet } from "../records/record-set.js";
import { counted } from "../tables/number-format.js";

const made = new WeakMap<RecordSet, ReadonlyMap<number, Issue>>();

/** The first doubt about each row that has one, by its line. */
export const doubtsByLine = (records: RecordSet): ReadonlyMap<number, Issue> => {
  const before = made.get(records);
  if (before !== undefined) return before;
  const doubts = new Map<number, Issue>();
  for (const issue of records.issues)
    if (issue.severity === "warning" && isDoubtName(issue.code) && !doubts.has(issue.line))
      doubts.set(issue.line, issue);
  made.set(records, doubts);
  return doubts;
};

/** Effects with the first doubt about each of their rows among their notes. */
export const withRowDoubts = (records: RecordSet, set: EffectSet): EffectSet => {
  const doubts = doubtsByLine(records);
  if (doubts.size === 0) return set;
  const notesOf = ({ row, comparatorRow }: Effect): readonly Note[] =>
    [row, ...(comparatorRow === undefined ? [] : [comparatorRow])].flatMap(({ line, study }) => {
      const doubt = doubts.get(line);
      return doubt === undefined
        ? []
        : [
            {
              code: doubt.code,
              message: `line ${line}, ${doubt.column}: ${doubt.message}; ${doubt.mend}`,
              study,
            },
          ];
    });
  return {
    ...set,
    effects: set.effects.map((effect) => {
      const notes = notesOf(effect);
      return notes.length === 0 ? effect : { ...effect, notes: [...effect.notes, ...notes] };
    }),
  };
};

/** Lines named of one doubt; the rest is counted. */
const linesNamed = 4;

/** Which of the rows that an answer rests on are in doubt, in one sentence; undefined where none is. */
export const doubtedRows = (
  records: RecordSet,
  rowsUsed: readonly number[],
): string | undefined => {
  const doubts = doubtsByLine(records);
  const byName = new Map<string, number[]>();
  for (const line of rowsUsed) {
    const doubt = doubts.get(line);
    if (doubt !== undefined) byName.set(doubt.code, [...(byName.get(doubt.code) ?? []), line]);
  }
  if (byName.size === 0) return undefined;
  const told = [...byName].map(([name, lines]) => {
    const more = lines.length - linesNamed;
    const named = `${lines.slice(0, linesNamed).join(", ")}${more > 0 ? ` and ${more} more` : ""}`;
    return `${name} (${lines.length === 1 ? "line" : "lines"} ${named})`;
  });
  const count = [...byName.values()].flat().length;
  return `${count} of the ${counted(rowsUsed.length, "row", "rows")} behind this ${count === 1 ? "is" : "are"} in doubt: ${told.join("; ")}.`;
};
