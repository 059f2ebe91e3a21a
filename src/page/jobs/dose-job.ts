import type { AveragedCurve } from "../../dose/averaged-curve.js";
import { collinearity } from "../../dose/collinearity.js";
import type { CurveUse } from "../../dose/curve-design.js";
import { doseAxes, mappedAxes, type DoseAxisName } from "../../dose/dose-axes.js";
import { doseResponse } from "../../dose/dose-response.js";
import { effectSubset } from "../../effects/effect-subset.js";
import type { Contrast, EffectScale } from "../../effects/effect.js";
import { CallError, ConvergenceError } from "../../errors.js";
import { collinearityFigure } from "../../figures/collinearity-figure.js";
import { doseCurveFigure } from "../../figures/dose-curve-figure.js";
import type { Figure } from "../../figures/figure.js";
import { doseReadOffsTable, doseShapesTable, doseSlopesTable } from "../../tables/dose-table.js";
import { noteLines } from "../../tables/note-lines.js";
import type { Table } from "../../tables/table.js";
import type { Job } from "./bench.js";
import { effectsOnBench } from "./effects-on-bench.js";

export type DoseWish = Readonly<{
  scale: EffectScale;
  contrast: Contrast;
  family: string;
  axis: DoseAxisName;
  comparisons: CurveUse | "best identified";
}>;

/** A curve that can be read at any dose on the other side. */
export type ReadableCurve = Readonly<{
  curve: AveragedCurve;
  low: number;
  high: number;
}>;

/** What the dose view shows. */
export type DoseShown = Readonly<{
  /** Outcome families of the table. */
  families: readonly string[];
  /** Where the evidence comes from, or why there is no curve. */
  sentence: string;
  missing: boolean;
  /** How many effects, studies and people speak. */
  extent: string;
  figure: Figure | undefined;
  readable: ReadableCurve | undefined;
  tables: readonly Table[];
  /** How this dose moves together with others, in words, and the map of all. */
  together: readonly string[];
  map: Figure | undefined;
  model: string;
  assumptions: readonly string[];
  notes: readonly string[];
}>;

const sentence = (text: string): string =>
  `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? "" : "."}`;

/** The dose-response answer for one variable and outcome family. */
export const doseJob: Job<DoseWish, DoseShown> = (bench, wish, tell) => {
  const { scale, contrast, family, axis, comparisons } = wish;
  tell("effects");
  const set = effectsOnBench(bench, { scale, contrast });
  const familyOf = (one: (typeof set.effects)[number]): string =>
    one.row.outcomeFamily ?? "family not coded";
  const families = [...new Set(set.effects.map(familyOf))];
  const own = effectSubset(set, (effect) => familyOf(effect) === family);
  const nothing = (why: string): DoseShown => ({
    families,
    sentence: sentence(why),
    missing: true,
    extent: "",
    figure: undefined,
    readable: undefined,
    tables: [],
    together: [],
    map: undefined,
    model: "",
    assumptions: [],
    notes: [],
  });
  if (own.effects.length === 0) return nothing(`the table has no effect of the family ${family}`);
  tell(`fitting curves along ${doseAxes[axis].label}`);
  try {
    const answer = doseResponse(own, axis, { comparisons });
    tell("how the doses move together");
    const names = mappedAxes.includes(axis) ? mappedAxes : [axis, ...mappedAxes];
    const pairs = collinearity(own, names);
    const studied = pairs.filter(({ toldApart }) => toldApart !== "not studied");
    return {
      families,
      sentence: sentence(answer.kind === "told" ? answer.evidenceWords : answer.reason),
      missing: answer.kind === "refusal",
      extent: `${answer.effects} effects of ${answer.studies} studies with ${answer.people} people`,
      figure: answer.kind === "told" ? doseCurveFigure({ family, answer }) : undefined,
      readable:
        answer.kind === "told"
          ? { curve: answer.averaged, low: answer.range.low, high: answer.range.high }
          : undefined,
      tables: [
        doseSlopesTable(answer),
        ...(answer.kind === "told" ? [doseReadOffsTable(answer), doseShapesTable(answer)] : []),
      ],
      together: studied
        .filter(({ first, second }) => first.name === axis || second.name === axis)
        .map(({ words }) => sentence(words)),
      map: studied.length === 0 ? undefined : collinearityFigure({ family, pairs }),
      model: answer.kind === "told" ? answer.story.model : "",
      assumptions: answer.kind === "told" ? answer.story.assumptions : [],
      notes: noteLines(answer.notes),
    };
  } catch (error) {
    if (error instanceof CallError || error instanceof ConvergenceError)
      return nothing(error.message);
    throw error;
  }
};
