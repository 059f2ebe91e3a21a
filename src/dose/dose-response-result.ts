import type { Contrast, EffectScale } from "../effects/effect.js";
import type { Note } from "../errors.js";
import type { Interval, Story } from "../synthesis/synthesis-results.js";
import type { AveragedCurve } from "./averaged-curve.js";
import type { CurveUse } from "./curve-design.js";
import type { DoseAxis } from "./dose-axes.js";
import type { DoseSupport } from "./dose-support.js";
import type { ReadOffs } from "./read-offs.js";
import type { ShapeName } from "./shapes/shape.js";
import type { TwoStageCheck } from "./two-stage-check.js";
import type { WithinBetweenSlope } from "./within-between-slope.js";

/** One shape in the comparison: fitted with its weight, or why it was not tried. */
export type ComparedShape = Readonly<{
  name: ShapeName;
  label: string;
  meaning: string;
}> &
  (
    | Readonly<{
        identified: true;
        logLikelihood: number;
        parameters: number;
        /** Small-sample information criterion; lower is better. */
        criterion: number;
        weight: number;
        /** Its curved parameter in words and as a number, and whether it stands at the end of the search. */
        parameter?: Readonly<{ label: string; value: number; text: string; atBound: boolean }>;
      }>
    | Readonly<{ identified: false; missing: string }>
  );

/** The curve at one dose of its grid. */
export type CurveGridPoint = Readonly<{
  dose: number;
  estimate: number;
  standardError: number;
  interval: Interval;
  /** Band that holds the whole curve over the supported range with the stated confidence. */
  simultaneous: Interval;
  /** False where no comparison behind the curve reaches. */
  supported: boolean;
}>;

/** One effect as it stands on the axis. */
export type DosePoint = Readonly<{
  effectId: string;
  study: string;
  arm: string;
  dose: number;
  estimate: number;
  standardError: number;
  isMidpoint: boolean;
}>;

type DoseResponseBase = Readonly<{
  axis: DoseAxis;
  scale: EffectScale;
  contrast: Contrast;
  confidence: number;
  slopes: WithinBetweenSlope;
  support: DoseSupport;
  points: readonly DosePoint[];
  effects: number;
  studies: number;
  people: number;
  notes: readonly Note[];
}>;

/** The answer: a curve, with everything read off it. */
export type DoseCurve = DoseResponseBase &
  Readonly<{
    identified: true;
    form: "one-stage" | "two-stage";
    evidence: CurveUse;
    /** Where the evidence comes from, in a plain sentence without a full stop. */
    evidenceWords: string;
    /** Doses the comparisons behind the curve reach. */
    range: Interval;
    shapes: readonly ComparedShape[];
    averaged: AveragedCurve;
    curve: readonly CurveGridPoint[];
    /** Each shape in the average, at the grid's supported doses. */
    shapeCurves: readonly Readonly<{
      shape: ShapeName;
      weight: number;
      heights: readonly number[];
    }>[];
    /** Multiple of the standard error that makes the simultaneous band. */
    simultaneousMultiple: number;
    readOffs: ReadOffs;
    twoStage: TwoStageCheck;
    varianceByLevel: Readonly<Record<string, number>>;
    story: Story;
  }>;

/** No curve, and what is missing for one. */
export type NoDoseCurve = DoseResponseBase & Readonly<{ identified: false; missing: string }>;

export type DoseResponse = DoseCurve | NoDoseCurve;
