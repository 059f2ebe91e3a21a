/** Every figure an answer can name, and how it is drawn from its data. A new figure is one file and one line here. */
import { CallError } from "../errors.js";
import { cardFigure, type CardWords } from "./card-figure.js";
import { changesFigure } from "./changes-figure.js";
import { collinearityFigure } from "./collinearity-figure.js";
import { comparisonFigure } from "./comparison-figure.js";
import { doseCurveFigure } from "./dose-curve-figure.js";
import { equalTensionFigure } from "./equal-tension-figure.js";
import { estimatesFigures } from "./estimates-figure.js";
import type { EstimatesInput } from "./estimates-input.js";
import { evidenceMap } from "./evidence-map.js";
import type { Figure } from "./figure.js";
import { followFigure } from "./follow-figure.js";
import {
  figureSizeDefault,
  framed,
  narrowestPage,
  roomOf,
  type FigureSize,
  type FrameWords,
  type Room,
} from "./frame.js";
import { frontierFigure } from "./frontier-figure.js";
import { holdStripFigure } from "./hold-strip-figure.js";
import { leftOutFigure } from "./left-out-figure.js";
import { jointAngleFigure, testAngleFigure } from "./joint-angle-figure.js";
import { notKnownFigure } from "./not-known-figure.js";
import { settleFigure } from "./settle-figure.js";
import { precisionFigure } from "./precision-figure.js";
import { linesFigure } from "./lines-figure.js";
import { printedGainsFigure } from "./printed-gains-figure.js";
import { projectionFigure } from "./projection-figure.js";
import { rampFigure } from "./ramp-figure.js";
import { remainingCapacityFigure } from "./remaining-capacity-figure.js";
import { singleTrialsFigures } from "./single-trials-figure.js";
import { riskOfBiasFigure } from "./risk-of-bias-figure.js";
import { sweepFigure } from "./sweep-figure.js";
import { statementsFigure } from "./statements-figure.js";
import { variablesFigure } from "./variables-figure.js";
import { timeCourseFigure } from "./time-course-figure.js";

const drawings = {
  estimates: (input: EstimatesInput, room?: Room) => estimatesFigures(input, { room }),
  precision: precisionFigure,
  "evidence-map": evidenceMap,
  "dose-curve": doseCurveFigure,
  "doses-together": collinearityFigure,
  "equal-tension": equalTensionFigure,
  "single-trials": singleTrialsFigures,
  "joint-angle": jointAngleFigure,
  "test-angle": testAngleFigure,
  "time-course": timeCourseFigure,
  projection: projectionFigure,
  "left-out": leftOutFigure,
  comparison: comparisonFigure,
  frontier: frontierFigure,
  sessions: holdStripFigure,
  "remaining-capacity": remainingCapacityFigure,
  ramp: rampFigure,
  follow: followFigure,
  variables: variablesFigure,
  statements: statementsFigure,
  lines: linesFigure,
  "printed-gains": printedGainsFigure,
  changes: changesFigure,
  "risk-of-bias": riskOfBiasFigure,
  sweep: sweepFigure,
  settle: settleFigure,
  "not-known": notKnownFigure,
} as const;

export type FigureName = keyof typeof drawings;

/** A figure by name with everything it draws, as plain data; the id is its file name. */
export type NamedFigure = {
  [Name in FigureName]: Readonly<{
    name: Name;
    data: Parameters<(typeof drawings)[Name]>[0] & Readonly<{ id: string }> & FrameWords;
  }>;
}[FigureName];

/** An answer as a picture to share, with its first figure inside. */
export type NamedCard = Readonly<{
  name: "card";
  data: CardWords & Readonly<{ figure: NamedFigure | null; numbers: object }>;
}>;

/** Drawings of a named figure in a room, without their frame. */
const drawnIn = ({ name, data }: NamedFigure, room: Room): readonly Figure[] => {
  const draw = drawings[name] as
    ((data: unknown, room: Room) => Figure | readonly Figure[]) | undefined;
  if (draw === undefined)
    throw new CallError({
      code: "unknown-figure",
      where: "a figure",
      needs: `a name among ${Object.keys(drawings).join(", ")}`,
      got: `"${String(name)}"`,
    });
  const drawn = draw(data, room);
  return Array.isArray(drawn) ? (drawn as readonly Figure[]) : [drawn as Figure];
};

/** Pages whose words would meet if they were narrowed: such a page is drawn whole, and smaller. */
const wholePages: readonly FigureName[] = ["evidence-map", "frontier"];

/** Pages whose words meet where they are narrower than most may be, in drawing units. */
const narrowestPages: Readonly<Partial<Record<FigureName, number>>> = {
  "joint-angle": 700,
  "test-angle": 700,
  changes: 640,
  "not-known": 570,
  "time-course": 570,
};

/** The least width at which a page of a figure can be read, in drawing units; below it a column can. */
export const narrowestPageOf = (name: FigureName): number => narrowestPages[name] ?? narrowestPage;

/** The specification of a card. */
export const drawnCard = ({ data }: NamedCard): Figure =>
  cardFigure(data, data.figure === null ? undefined : drawnIn(data.figure, roomOf("card"))[0]);

/**
 * Specifications of a named figure in its frame, at a size; with `all`, one of many rows comes in several pages.
 *
 * @throws {CallError} "unknown-figure", and as the figure's own function
 */
export const figuresAt =
  (
    size: FigureSize,
    { all = false, width }: Readonly<{ all?: boolean; width?: number | undefined }> = {},
  ) =>
  (named: NamedFigure): readonly Figure[] => {
    const figures = drawnIn(named, {
      ...roomOf(size),
      all,
      ...(width === undefined || (size === "page" && wholePages.includes(named.name))
        ? {}
        : { width }),
    });
    const { invented, sentence, source } = named.data;
    return figures.map((figure) => framed(figure, { size, width, invented, sentence, source }));
  };

/** The same for a page, the size that is drawn where nobody says otherwise. */
export const drawnFigures = figuresAt(figureSizeDefault);
