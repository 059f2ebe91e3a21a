/** How the gain follows one dose, or several at once; without a dose, which doses a file can tell about. */
import * as z from "zod";
import { doseAxes, doseAxisNames, doseOf } from "../dose/dose-axes.js";
import { listed } from "../protocol/listed.js";
import { withUnit } from "../protocol/with-unit.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { counted } from "../tables/number-format.js";
import { shownDose } from "../tables/shown-dose.js";
import { checkApart, doseShape } from "./dose-options.js";
import { dosesTogether, dosesTold } from "./doses-together.js";
import type { HeadlineGroup } from "./headline-selection.js";
import { valuesOf } from "./not-weighted.js";
import { oneDose } from "./one-dose.js";
import {
  dataOf,
  doubtsOf,
  groupFields,
  groupSchema,
  namingRows,
  outcomeGroups,
  rowsOfGroup,
  together,
  untoldOf,
} from "./outcome-groups.js";
import { question } from "./question.js";
import { trialComparisons } from "./trial-comparisons.js";
import { trialsOf, withTrials } from "./trials-beside.js";

/**
 * How the gain follows a dose: slopes inside studies and between them, shapes, a curve and what is read off it; or
 * what is missing for any of these.
 */
export const dose = question({
  id: "dose",
  options: doseShape,
  choices: ["at"],
  data: {
    groups: z.array(groupSchema),
    outcome: z.string().optional(),
    answer: z.looseObject({}).optional(),
    warnings: z.array(z.string()),
  },
  prepare: (evidence, options, tell) => {
    checkApart(options);
    tell("effects");
    const { on = [] } = options;
    const { set, groups, unweighted } = outcomeGroups(evidence, options);
    return {
      set,
      unweighted,
      // Beside the overview of doses that can be told, single trials would only repeat themselves.
      trials: (group: HeadlineGroup, isTold: boolean) =>
        trialsOf(
          on.length > 0
            ? trialComparisons(evidence, options, on)
            : isTold
              ? { comparisons: [] }
              : trialComparisons(evidence, options),
          group,
          options.confidence,
        ),
      asked: groups.map((group) => {
        const [first, second] = on;
        tell([group.label, ...on.map((name) => doseAxes[name].label)].join(", "));
        if (first === undefined) return { group, ...dosesTold(group) };
        return second === undefined
          ? { group, ...oneDose(group, first, options) }
          : { group, ...dosesTogether(group, on, options) };
      }),
    };
  },
  answer: ({ set, asked, unweighted, trials }, { on = [], at = [], confidence }) => {
    const [axis] = on;
    const known = (rows: readonly OutcomeRow[]) =>
      rows.filter((row) => on.every((name) => doseOf(row, name) !== undefined));
    const detail = (rows: readonly OutcomeRow[]): string =>
      axis === undefined
        ? counted(rows.length, "row")
        : doseAxes[axis].kind === "levels"
          ? listed([
              ...new Set(
                rows.flatMap((row) => {
                  const at = doseOf(row, axis);
                  return at === undefined ? [] : shownDose(at.value, doseAxes[axis]);
                }),
              ),
            ])
          : withUnit(
              valuesOf(rows, (row) => doseOf(row, axis)?.value),
              doseAxes[axis].unit || doseAxes[axis].label,
            );
    const part = together(
      asked.map((one) => {
        const told = one.part(at);
        return withTrials(
          namingRows(
            untoldOf(told, one.group.family, on.length === 0 ? doseAxisNames : on),
            unweighted({ detail, of: (rows) => known(rowsOfGroup(one.group)(rows)) }),
          ),
          trials(one.group, told.refusal === undefined),
          told.refusal === undefined,
        );
      }),
      unweighted(),
    );
    const used = asked
      .flatMap(({ group }) => group.headline.effects)
      .filter(({ row }) => on.every((name) => doseOf(row, name) !== undefined));
    const notes = [...set.notes, ...doubtsOf(used), ...part.notes];
    const groups = asked.map(({ group, data }) => ({ ...groupFields(group), ...data(at) }));
    return {
      ...part,
      notes,
      data: {
        ...dataOf(set, confidence, used),
        ...(groups.length === 1 ? groups[0] : {}),
        warnings: notes.map(({ message }) => message),
        groups,
      },
    };
  },
});
