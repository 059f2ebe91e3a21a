/** Several doses looked at together; and, where none is named, which doses a file can tell about. */
import { collinearity } from "../dose/collinearity.js";
import type { DoseAxisName } from "../dose/dose-axes.js";
import { severalDoses, type SeveralDoses } from "../dose/several-doses.js";
import { tellingAxes, type AxisPromise } from "../dose/telling-axes.js";
import type { EffectSet } from "../effects/effect.js";
import { refusal } from "../errors.js";
import { axesToldTable } from "../tables/axes-told-table.js";
import { capital, counted } from "../tables/number-format.js";
import {
  collinearityTable,
  severalDosesAdd,
  severalDosesTable,
} from "../tables/several-doses-table.js";
import type { DoseOptions } from "./dose-options.js";
import type { HeadlineGroup } from "./headline-selection.js";
import { inGroup, togetherFigure, type AskedDoses, type DoseTold } from "./one-dose.js";
import { countsOf, selectionSentences } from "./outcome-groups.js";

/** Several doses asked of one kind of outcome. */
export const dosesTogether = (
  group: HeadlineGroup,
  on: readonly DoseAxisName[],
  { interactions = [], confidence }: DoseOptions,
): AskedDoses => {
  const answerOf = (set: EffectSet): SeveralDoses =>
    severalDoses(set, on, { confidence, interactions });
  const answer = answerOf(group.headline);
  const { scale } = group.headline;
  const { axes, terms, pairs, effects, studies, notes } = answer;
  const about = `${capital(group.label)} against ${axes.map(({ label }) => label).join(", ")} together`;
  const added = severalDosesAdd(answer, scale);
  const missing = terms.flatMap(({ term, within }) =>
    within.kind === "told" ? [] : [`${term}: ${within.reason}`],
  );
  const beside = selectionSentences(
    group,
    (all) => `${severalDosesAdd(answerOf(all), scale).join("; ") || "nothing can be told"}.`,
  );
  return {
    part: () => ({
      headline:
        added.length > 0
          ? `${about}, the others held still: ${added.join("; ")}.`
          : `${about}: no answer, as ${missing.join("; ")}.`,
      sentences: [
        `${counted(effects, "effect")} of ${counted(studies, "study", "studies")} with all of these doses known.`,
        ...(added.length === 0 ? [] : missing.map((one) => `Not told for ${one}.`)),
        ...beside,
      ],
      tables: [severalDosesTable(answer, scale), collinearityTable(pairs)].map((table) =>
        inGroup(table, group, capital(group.label)),
      ),
      figures: togetherFigure(group, pairs),
      notes,
      refusal: added.length > 0 ? undefined : refusal("not-told", missing.join("; ")),
    }),
    data: () => ({ answer }),
  };
};

/** What each dose has to tell about one kind of outcome, before anything is fitted. */
export const dosesTold = (group: HeadlineGroup): AskedDoses => {
  const axes = tellingAxes(group.headline);
  const of = (wanted: AxisPromise["evidence"]): readonly string[] =>
    axes.filter(({ evidence }) => evidence === wanted).map(({ axis }) => axis.label);
  const [within, between] = [of("within studies"), of("between studies only")];
  const told = [
    ...(within.length === 0 ? [] : [`arms of the same study compare ${within.join(", ")}`]),
    ...(between.length === 0
      ? []
      : [
          `${between.join(", ")} ${between.length === 1 ? "differs" : "differ"} only between studies`,
        ]),
  ].join("; ");
  const nothing = `too few studies differ in one, in ${countsOf(group.headline.effects)}`;
  const known = axes
    .filter(({ axis, support }) => axis.kind === "number" && support.doses.length > 1)
    .map(({ axis }) => axis.name);
  return {
    part: () => ({
      headline: `${capital(group.label)}: ${told === "" ? `no dose can be told, as ${nothing}` : told}.`,
      sentences: selectionSentences(group),
      tables: [inGroup(axesToldTable(axes), group, capital(group.label))],
      figures: known.length < 2 ? [] : togetherFigure(group, collinearity(group.headline, known)),
      refusal: told === "" ? refusal("not-told", nothing) : undefined,
    }),
    data: () => ({
      told: axes.map(({ axis: { name, label }, ...rest }): DoseTold => ({
        axis: name,
        label,
        ...rest,
      })),
    }),
  };
};
