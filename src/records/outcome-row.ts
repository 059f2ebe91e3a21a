/**
 * One outcome, in one arm, at one test angle and site, at one time after baseline, as the codebook
 * codes it. Every optional field is absent when its cell is blank or says "not reported"; the two are
 * told apart by `notReported`, the columns whose cell said the source was searched in vain.
 */
export type OutcomeRow = Readonly<{
  /** Line of the file the row starts on; the header is line 1. */
  line: number;
  /** Codebook columns marked "not reported" on this row. */
  notReported: readonly string[];

  study: string;
  citation?: string;
  doi?: string;
  year?: number;
  cohort?: string;
  sourceLocation?: string;
  sourceLicence?: string;
  extractedBy?: string;
  checkedBy?: string;
  notes?: string;

  design?:
    | "randomised groups"
    | "non-randomised groups"
    | "within-person limbs"
    | "crossover"
    | "single group";
  arm: string;
  armKind?: "isometric" | "dynamic" | "other exercise" | "no exercise";
  comparatorOf?: string;
  nStart?: number;
  nEnd?: number;
  ageMeanYears?: number;
  femalePercent?: number;
  trainingStatus?: "untrained" | "recreationally active" | "resistance-trained" | "clinical";
  condition?: string;
  muscleGroup?: string;
  limb?: "one" | "both";

  action?: "pushing against a fixed stop" | "holding a load";
  effortIntent?: "ramped and sustained" | "as fast as possible" | "to failure";
  intensityPercent?: number;
  intensityPercentHigh?: number;
  intensityBasis?:
    | "percent of MVC at the training angle"
    | "percent of MVC at another angle"
    | "effort rating 0–10"
    | "percent of one-repetition maximum"
    | "maximal effort";
  holdSeconds?: number;
  holdSecondsHigh?: number;
  repetitions?: number;
  sets?: number;
  restBetweenRepetitionsSeconds?: number;
  restBetweenSetsSeconds?: number;
  sessionsPerWeek?: number;
  weeks?: number;
  sessionsCompletedPercent?: number;
  trainingAngleDegrees?: readonly number[];
  angleConvention?:
    | "full extension is 0"
    | "full extension is 180"
    | "ankle neutral is 0"
    | "ankle neutral is 90"
    | "other";
  muscleLength?: "short" | "middle" | "long";

  outcome: string;
  outcomeFamily?:
    | "strength"
    | "size"
    | "tendon"
    | "rapid force"
    | "endurance"
    | "symptoms"
    | "other";
  method?: string;
  unit?: string;
  higherIs?: "better" | "worse";
  testAngleDegrees?: number;
  testSitePercent?: number;
  testSide?: "trained" | "untrained";
  weekMeasured?: number;

  statistic?:
    | "means at both times"
    | "change with spread"
    | "percent change with spread"
    | "change with interval"
    | "t value"
    | "F value"
    | "p value"
    | "medians with quartiles"
    | "medians with range"
    | "effect computed elsewhere";
  statisticOf?: "change within arm" | "difference from comparator";
  preMean?: number;
  preSpread?: number;
  postMean?: number;
  postSpread?: number;
  changeMean?: number;
  changeSpread?: number;
  spreadKind?: "standard deviation" | "standard error" | "95% interval half-width";
  changePercentMean?: number;
  changePercentSpread?: number;
  intervalLow?: number;
  intervalHigh?: number;
  intervalPercent?: number;
  tValue?: number;
  fValue?: number;
  pValue?: number;
  direction?: "increase" | "decrease";
  preMedian?: number;
  preQuartileLow?: number;
  preQuartileHigh?: number;
  preMinimum?: number;
  preMaximum?: number;
  postMedian?: number;
  postQuartileLow?: number;
  postQuartileHigh?: number;
  postMinimum?: number;
  postMaximum?: number;
  prePostCorrelation?: number;
  effect?: number;
  effectScale?: string;
  effectStandardError?: number;

  riskRandomisation?: "low" | "some concerns" | "high";
  riskDeviations?: "low" | "some concerns" | "high";
  riskMissingData?: "low" | "some concerns" | "high";
  riskMeasurement?: "low" | "some concerns" | "high";
  riskReportedResult?: "low" | "some concerns" | "high";
  riskReason?: string;
  certItemsReported?: number;
}>;
