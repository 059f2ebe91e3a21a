/** How changes since an older file are shown: tables of what moved and of rows, and the figure of averages. */
import type { NamedFigure } from "../figures/figure-list.js";
import { scaleDisplay } from "../tables/scale-display.js";
import { counted } from "../tables/number-format.js";
import { folded, type Table } from "../tables/table.js";
import type { ChangedRow } from "./changed-rows.js";
import {
  either,
  standsOf,
  wordsOf,
  type Cause,
  type Change,
  type Changes,
} from "./changes-between.js";
import type { Conclusion } from "./conclusions.js";

const causeWords = ({ study, lines, words }: Cause): string =>
  `${study}${lines.length === 0 ? " (removed)" : ` (line${lines.length === 1 ? "" : "s"} ${shortList(lines)})`} alone: ${words}`;

const shortList = (lines: readonly number[]): string =>
  lines.length <= 3
    ? lines.join(", ")
    : `${lines[0]!} to ${lines.at(-1)!}, ${lines.length} of them`;

const noCause = ({ now, before }: Change, { older, byProgram }: Changes): string =>
  older.evidence === undefined
    ? "cannot be told: the older report does not hold its rows"
    : byProgram.some((one) => either(one).id === either({ now, before }).id)
      ? "the program, not a row"
      : "no study alone: several together";

export const changesTable = (
  id: string,
  title: string,
  changes: readonly Change[],
  told: Changes,
): readonly Table[] =>
  changes.length === 0
    ? []
    : [
        {
          id,
          title,
          columns: [
            { key: "about", label: "What", align: "left" },
            { key: "before", label: "Before", align: "left" },
            { key: "now", label: "Now", align: "left" },
            { key: "stands", label: "Conclusion", align: "left" },
            { key: "by", label: "What did it most", align: "left" },
          ],
          rows: changes.map((change) => {
            const one = either(change);
            return {
              about: one.about,
              before: wordsOf(change.before, one),
              now: wordsOf(change.now, one),
              stands: change.isOther
                ? `${standsOf(change.before, one)} → ${standsOf(change.now, one)}`
                : "the same",
              by:
                change.causes.length === 0
                  ? noCause(change, told)
                  : `${causeWords(change.causes[0]!)}${change.causes.length === 1 ? "" : `; ${counted(change.causes.length - 1, "more study moves", "more studies move")} it`}`,
            };
          }),
          notes: [
            "What did it: the older file is asked again with the changed rows of one study at a time. Studies can work together, so these do not add up to the whole change.",
          ],
        },
      ];

export const rowTables = (rows: readonly ChangedRow[]): readonly Table[] => {
  if (rows.length === 0) return [];
  const left = (key: string, label: string) => ({ key, label, align: "left" }) as const;
  const line = (value: number | null): string => (value === null ? "" : String(value));
  const studies = [...new Set(rows.map(({ study }) => study))];
  return [
    folded({
      id: "changed-studies",
      title: "Studies whose rows changed",
      columns: [
        left("study", "Study"),
        { key: "added", label: "Added", align: "right" },
        { key: "removed", label: "Removed", align: "right" },
        { key: "edited", label: "Edited", align: "right" },
        left("columns", "Columns edited"),
      ],
      rows: studies.map((study) => {
        const own = rows.filter((row) => row.study === study);
        const of = (kind: ChangedRow["kind"]) =>
          String(own.filter((row) => row.kind === kind).length);
        const columns = new Set(own.flatMap(({ cells }) => cells.map(({ column }) => column)));
        return {
          study,
          added: of("added"),
          removed: of("removed"),
          edited: of("edited"),
          columns: [...columns].join(", "),
        };
      }),
      notes: [
        "A row is known by study, arm, outcome, time and angle, not by its place; a study that was given another name is removed and added.",
      ],
    }),
    {
      id: "changed-rows",
      title: "Every row that changed, cell by cell",
      place: "file",
      columns: [
        ...[left("kind", "Change"), left("study", "Study"), left("what", "Row")],
        ...[left("lineBefore", "Line before"), left("lineNow", "Line now")],
        ...[left("column", "Column"), left("before", "Before"), left("now", "Now")],
      ],
      rows: rows.flatMap(({ kind, study, what, lineBefore, lineNow, cells }) =>
        (cells.length === 0 ? [{ column: "", before: "", now: "" }] : cells).map((cell) => ({
          ...{ kind, study, what, ...cell },
          lineBefore: line(lineBefore),
          lineNow: line(lineNow),
        })),
      ),
      notes: [],
    },
  ];
};

/** Averages that moved, on one axis for each scale they are shown on. */
export const changesFigures = (
  changes: readonly Change[],
  confidence: number,
): readonly NamedFigure[] => {
  const drawn = changes.filter(
    (change) =>
      change.isMoved && either(change).kind === "average" && either(change).scale !== null,
  );
  const axes = [...new Set(drawn.map((one) => scaleDisplay(either(one).scale!).unit))];
  return axes.flatMap((unit, place) => {
    const rows = drawn.flatMap((change) => {
      const { scale, about } = either(change);
      const display = scaleDisplay(scale!);
      if (display.unit !== unit) return [];
      const shown = (one: Conclusion | null) =>
        one?.number
          ? {
              estimate: display.toShown(one.number.estimate),
              low: display.toShown(one.number.interval.low),
              high: display.toShown(one.number.interval.high),
              studies: one.studies,
            }
          : null;
      const [before, now] = [shown(change.before), shown(change.now)];
      return before === null && now === null
        ? []
        : [{ about, before, now, isOther: change.isOther, by: change.causes[0]?.study ?? "" }];
    });
    const sign = unit === "%" ? "%" : "";
    return rows.length === 0
      ? []
      : [
          {
            name: "changes" as const,
            data: {
              id: `changes${place === 0 ? "" : `-${place + 1}`}`,
              unit,
              sign,
              confidence,
              rows,
            },
          },
        ];
  });
};
