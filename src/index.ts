/** Everything a caller may use, in the order in which data flow. */

// errors.ts: the three kinds of failure and the one kind of doubt
export { CallError, ConvergenceError, DataError, issueText } from "./errors.js"; // failures that teach
export type { Issue, Note, Refusal, RefusalCode, Severity } from "./errors.js";

// csv: delimited text in and out
export { readAnyTable } from "./workbook/read-any-table.js"; // bytes of a text or a workbook to numbered rows of strings
export { readTable } from "./csv/read-table.js"; // bytes or text to numbered rows of strings
export { writeTable } from "./csv/write-table.js"; // rows to text no spreadsheet will run
export type { CsvRow, CsvTable } from "./csv/csv-table.js";

// protocol: what a prescription is
export { checkPrescription, prescriptionIssues } from "./protocol/prescription.js"; // limits of a prescription
export { parsePrescription, writePrescription } from "./protocol/written-form.js"; // as a coach writes it
export { sessionTimeline, timelineNeeds } from "./protocol/session-timeline.js"; // holds and rests to scale
export { protocolList } from "./protocol/protocol-list.js"; // a small file of named protocols
export type { Prescription } from "./protocol/prescription.js";
export type { TimelinePart } from "./protocol/session-timeline.js";

// records: the codebook and the door for outside data
export { readRecords } from "./records/read-records.js"; // rows, fates and problems of a file
export { codebookTableSchema } from "./records/codebook-table-schema.js"; // the codebook as an open schema
export { codebookTemplate } from "./records/codebook-page.js"; // a blank table
export { codebookPage } from "./records/codebook-page.js"; // the codebook to read
export { parseImportMap } from "./records/import-map.js"; // a map for foreign tables
export { importRows } from "./records/import-rows.js"; // foreign rows into the codebook
export { prescriptionOf } from "./records/prescription-of.js"; // the prescription of a row's arm
export { meetsRowFilter, parseRowFilter, rowsThatMeet } from "./records/row-filter.js"; // rows by conditions
export { checkedColumn, rowValue } from "./records/row-value.js"; // a row's value in any column, the file's own too
export type { OutcomeRow } from "./records/outcome-row.js";
export type { FieldCompleteness, RecordSet, RowFate } from "./records/record-set.js";
export type { ImportMap } from "./records/import-map.js";

// effects: rows to effects
export { effectsFromRows } from "./effects/effects-from-rows.js"; // effects of a file on one scale
export { effectSubset } from "./effects/effect-subset.js"; // some of them, covariances kept
export { effectsDefaults } from "./effects/effects-options.js"; // every number assumed by default
export { scaleLabel, contrastLabel } from "./effects/scale-label.js"; // scales and contrasts in words
export { percentFromLogRatio, logRatioFromPercent } from "./effects/percent-from-log-ratio.js"; // log ratio and percent
export { smallSampleFactor } from "./effects/small-sample-factor.js"; // exact correction for few people
export { logRatioOfMeans, logRatioOfMeansPaired } from "./effects/log-ratio-of-means.js"; // log ratio
export {
  standardisedMeanChangeByBaselineDeviation,
  standardisedMeanChangeByChangeDeviation,
} from "./effects/standardised-mean-change.js"; // change in deviations, denominators apart
export { standardisedMeanDifference } from "./effects/standardised-mean-difference.js"; // groups in pooled deviations
export type { Contrast, Effect, EffectScale, EffectSet } from "./effects/effect.js";
export type { EffectsOptions } from "./effects/effects-options.js";

// synthesis: averages, differences and how sure they are
export { effectInputs, inputSubset, studyAverage } from "./synthesis/effect-inputs.js"; // effects as the models take them
export { poolEffects } from "./synthesis/pool-effects.js"; // average or regression, rows independent
export { fitMultilevel } from "./synthesis/fit-multilevel.js"; // dependent effects, several levels
export { headlineAnswer } from "./synthesis/headline-answer.js"; // the robust interval first
export { levelMeans } from "./synthesis/level-means.js"; // the mean of each group, and whether they differ
export { permutationTest } from "./synthesis/permutation-test.js"; // p of a moderator by relabelling
export type { KnownCovariance, SynthesisEffect } from "./synthesis/synthesis-input.js";
export type {
  HeadlineResult,
  Interval,
  MultilevelResult,
  PooledResult,
} from "./synthesis/synthesis-results.js";
export type { LevelMeans } from "./synthesis/level-means.js";

// dose: which variables matter, and three questions of their own
export { doseAxes, doseAxisOf } from "./dose/dose-axes.js"; // every dose with its unit and definition
export { doseResponse, doseResponseDefaults } from "./dose/dose-response.js"; // how the gain follows a dose
export { evaluateCurve } from "./dose/averaged-curve.js"; // a fitted curve at any dose
export { gainAt } from "./dose/dose-response.js"; // the same, refused outside the doses compared
export { withinBetweenSlope } from "./dose/within-between-slope.js"; // slopes inside and between studies
export { severalDoses } from "./dose/several-doses.js"; // doses together, with products
export { collinearity } from "./dose/collinearity.js"; // which doses move together
export { tellingAxes } from "./dose/telling-axes.js"; // which doses a file can tell about
export { variableTable } from "./dose/variable-table.js"; // every variable with a verdict
export { verdictOf, agreementOf, statedAmount } from "./dose/verdict.js"; // the rules behind it
export { equalTension } from "./dose/equal-tension.js"; // the same work in longer holds or harder
export { jointAngle } from "./dose/joint-angle.js"; // carry-over from the trained angle
export { timeCourse } from "./dose/time-course.js"; // rising and flattening over weeks
export type { VariableTable } from "./dose/variable-table.js";
export type { EqualTension } from "./dose/equal-tension.js";
export type { JointAngle } from "./dose/joint-angle.js";
export type { TimeCourse } from "./dose/time-course.js";
export type { DoseAxis, DoseAxisName } from "./dose/dose-axes.js";
export type { DoseResponseOptions } from "./dose/dose-response.js";
export type { DoseCurve, DoseResponse } from "./dose/dose-response.js";

// endurance: whether a session can be held
export { canBeHeld } from "./endurance/can-be-held.js"; // graded answer with its band
export { whatWouldFit } from "./endurance/what-would-fit.js"; // longest hold, most holds, shortest rest
export { enduranceTime } from "./endurance/endurance-time.js"; // how long one hold lasts

// projection: what to expect from a protocol
export { goalOf, projectionGoals } from "./projection/goals.js"; // what people train for
export { projectionPriors } from "./projection/projection-priors.js"; // what is assumed before the file speaks
export { prepareProjection } from "./projection/prepare-projection.js"; // the fit, once a file
export { projectProtocol } from "./projection/project-protocol.js"; // three ranges, their course, their support
export { compareProtocols } from "./projection/compare-protocols.js"; // two to six side by side
export { equaliseProtocols } from "./projection/equalise-protocols.js"; // at equal tension, time or torque–time
export { exploreProtocols } from "./projection/explore-protocols.js"; // most gain for the time it takes
export { rampPlan } from "./projection/ramp-plan.js"; // working up to a protocol
export { cautionsFor } from "./projection/cautions.js"; // what to heed, never a clearance
export type { ProjectionGoal } from "./projection/goals.js";
export type { PreparedProjection } from "./projection/prepare-projection.js";
export type { ProjectionRefusal } from "./projection/placed-protocol.js";
export type { Projection } from "./projection/project-protocol.js";
export type { ProtocolComparison } from "./projection/compare-protocols.js";
export type { Frontier } from "./projection/explore-protocols.js";
export type { RampPlan } from "./projection/ramp-plan.js";

// certainty: what would move an answer, and how sure it is
export { smallStudyRegression } from "./certainty/small-study-regression.js"; // do small studies show more
export { selectionModel } from "./certainty/selection-model.js"; // had studies without a clear gain stayed unprinted
export { leaveEachOut } from "./certainty/leave-each-out.js"; // what each study does to the answer
export { sweep, sweepDefaults } from "./certainty/sweep.js"; // the answer under every other choice
export { rated, ratingRules } from "./certainty/rating.js"; // how sure, by stated rules and a person's decisions
export type {
  SmallStudyOptions,
  SmallStudyRegression,
} from "./certainty/small-study-regression.js";
export type { SelectionFit, SelectionModel, StudyEstimate } from "./certainty/selection-model.js";
export type { LeaveEachOut, LeftOut, RepeatedAnswer } from "./certainty/leave-each-out.js";
export type {
  SweepAgreement,
  Sweep,
  SweepOptions,
  SweptChoice,
  Way,
  WayAnswer,
} from "./certainty/sweep.js";
export type {
  Allocation,
  Certainty,
  CertaintyDomain,
  Concern,
  Decision,
  Rating,
  RatingFacts,
  RuleName,
} from "./certainty/rating.js";
export type { Judgement } from "./certainty/risk-of-bias.js";

// demo: the invented register
export { demoRegisterCsv } from "./demo/demo-register-csv.js"; // invented rows with known truth
export { demoTruthDefaults } from "./demo/demo-truth.js"; // that truth

// tables and figures
export { tableToText } from "./tables/table-to-text.js"; // for a terminal
export { tableToMarkdown } from "./tables/table-to-markdown.js"; // for a document
export { tableToHtml } from "./tables/table-to-html.js"; // for a page
export { tableToCsv } from "./tables/table-to-csv.js"; // every digit
export { effectsTable } from "./tables/effects-table.js"; // every effect and its route
export { pooledTable } from "./tables/pooled-table.js"; // averages side by side
export { multilevelTable } from "./tables/multilevel-table.js"; // model-based beside cluster-robust
export { fatesTable } from "./tables/fates-table.js"; // what became of every row
export { variablesTable } from "./tables/variables-table.js"; // variables with their verdicts
export { doseAnswer } from "./tables/dose-table.js"; // a dose-response in plain words
export { doseSlopesTable, doseShapesTable, doseReadOffsTable } from "./tables/dose-table.js"; // slopes, shapes, read-offs
export { doseCurveText } from "./tables/dose-curve-text.js"; // the curve drawn in text
export { severalDosesTable, collinearityTable } from "./tables/several-doses-table.js"; // doses together
export { equalTensionTable } from "./tables/equal-tension-table.js"; // averages of pairs
export { jointAngleTable } from "./tables/joint-angle-table.js"; // carry-over in numbers
export { timeCourseTable } from "./tables/time-course-table.js"; // gain week by week
export { issuesTable } from "./tables/issues-table.js"; // problems with their mends
export { completenessTable } from "./tables/completeness-table.js"; // how fully each column is coded
export { estimatesFigure } from "./figures/estimates-figure.js"; // effects beside their hold strips
export { evidenceMap } from "./figures/evidence-map.js"; // what has been studied
export { evidenceMapCells } from "./figures/evidence-map-cells.js"; // its counts
export { precisionFigure } from "./figures/precision-figure.js"; // effects against precision
export { holdStripFigure } from "./figures/hold-strip-figure.js"; // one session to scale
export { doseCurveFigure } from "./figures/dose-curve-figure.js"; // the curve with its bands and arms
export { collinearityFigure } from "./figures/collinearity-figure.js"; // a map of doses that move together
export { equalTensionFigure } from "./figures/equal-tension-figure.js"; // pairs beside their sessions
export { jointAngleFigure } from "./figures/joint-angle-figure.js"; // gain against distance
export { timeCourseFigure } from "./figures/time-course-figure.js"; // gain over weeks
export { remainingCapacityFigure } from "./figures/remaining-capacity-figure.js"; // what is left along a session
export { projectionTable } from "./tables/projection-table.js"; // three ranges with words
export { comparisonTable, differencesTable } from "./tables/comparison-table.js"; // protocols and pairs
export { frontierTable } from "./tables/frontier-table.js"; // most gain for the time
export { projectionFigure } from "./figures/projection-figure.js"; // three nested ranges over weeks
export { comparisonFigure } from "./figures/comparison-figure.js"; // protocols side by side
export { frontierFigure } from "./figures/frontier-figure.js"; // gain against minutes a week
export { scaleDisplay } from "./tables/scale-display.js"; // how numbers of a scale are shown
export type { Figure } from "./figures/figure.js";
export type { Table } from "./tables/table.js";

// answers: questions with their defaults, the same through every door
export { openEvidence } from "./answers/evidence.js"; // a file opened for questions
export { readyEffects } from "./answers/ready-effects.js"; // a plain table of ready effects
export { ask } from "./answers/ask.js"; // the answer to a question
export { questionIds } from "./answers/question-list.js"; // every question there is
export { drawnFigures } from "./figures/figure-list.js"; // the figures an answer names
export type { Answer, AnswerData } from "./answers/answer.js";
export type { Evidence, EvidenceSource } from "./answers/evidence.js";
export type { QuestionId } from "./answers/question-list.js";

// report: one document
export { reportOn } from "./report/report-parts.js"; // a report on a file, part by part
export { reportFigures } from "./report/report-part.js"; // its figures
export { reportHtml } from "./report/report-html.js"; // its page
export { readingList } from "./report/references.js"; // the works a file names
export { figureRecipe, readRecipe, recipeText } from "./answers/figure-recipe.js"; // how a figure was made
export { recipeComparison, recipeSentences } from "./answers/recipe-comparison.js"; // a figure made again beside its recipe
export { methodsParagraph } from "./report/methods-paragraph.js"; // what was computed, to copy
export { citationSentence } from "./report/citation-sentence.js"; // how to cite it
export type { Reference } from "./report/references.js";
export type { FigureRecipe } from "./answers/figure-recipe.js";
