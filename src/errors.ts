/**
 * The three kinds of failure and the one kind of doubt.
 *
 * Bad data is a list of located issues; a bad call names the function, what it needs and what it got;
 * a fit that did not settle says what to try. A doubt that does not stop the work is a `Note`, a value
 * in the result, so that every surface can show it.
 */

/** How bad an issue is: a refused row cannot be used, a warned row is used but should be looked at. */
export type Severity = "error" | "warning";

/** The words of a text in lines, as a union. */
type WordOf<Text extends string, Found = never> = Text extends `${infer Word} ${infer Rest}`
  ? WordOf<Rest, Found | WithoutEnd<Word>>
  : Exclude<Found | WithoutEnd<Text>, "">;
type WithoutEnd<Word extends string> = Word extends `${infer Bare}\n` ? Bare : Word;

/** What can be wrong with a user's table, a written protocol or an import map. */
export type IssueCode = WordOf<`
  after-is-before against-training ambiguous-date ambiguous-number angle-convention baselines-disagree
  basis-without-rating change-is-not-difference codebook-column decimal-comma
  deviation-for-error duplicate-header empty-file error-for-deviation family-and-outcome formula-without-value
  fraction-for-percentage hold-beyond-endurance hold-out-of-scale ids-alike implied-mean-negative
  inexact-number long-cell map-form maximal-below-maximum mean-out-of-scale missing missing-column
  more-at-the-end name-twice no-name no-protocols no-rows not-a-count not-a-date not-a-number not-a-table not-json
  not-positive not-whole open-quote out-of-order out-of-range outside-its-interval outside-limits
  people-out-of-scale project-file ragged-row range-for-number range-reversed range-without-start
  rating-not-in-percent references-unreadable repeated-column rest-out-of-scale rest-without-sets
  rows-disagree said-twice same-people-twice spread-against-test spread-out-of-scale
  spreads-of-two-kinds spreadsheet-date spreadsheet-error statistic-not-filled stray-byte
  thousands-separators too-many turned-sign two-efforts two-numbers unexpected unexpected-unit
  unit-slip unknown-character unknown-choice unknown-column unknown-doubt unknown-word unreadable value-out-of-scale
  variance-and-error-disagree weeks-out-of-scale word-among-numbers zero-spread
`>;

/** What can be doubted though it does not stop the work. */
export type NoteCode = WordOf<`
  action-unknown critical-torque over-an-hour after-training alternative-parameters angle-not-coded angle-waits angle-limited arm-ids-reused
  arm-kind-blank arm-shared-between-studies assumption band baselines-differ basis-assumed
  basis-does-not-convert below-fitted-range best-of-many between-differs-from-within beyond-data
  cell-remark cells-hidden cells-in-percent cells-merged change-disagrees citation-not-read citations-disagree cohort-arms-differ
  columns-left correlations-disagree covariances-shrunk deviations-not-printed
  difference-not-tested direction-assumed dose-midpoints dose-unknown doubts-confirmed
  effect-beyond-measure effect-id-repeated effect-id-shared-between-studies effects-set-aside few-people few-studies
  first-dose-protects flat-likelihood formulas-read from-medians general-curve half-effort-limits-damage
  hartung-knapp-floored header-only high-end hold-midpoint hold-range
  holding-modifier import-source impossible-correlation intensity-midpoint length-not-stated
  length-unknown level-with-one-group level-without-mean levels-coincide long-length-force-loss
  long-length-knee long-length-next-day main-effects-added maximal-as-100 maximal-effort
  maximal-repeated-weakness mean-near-zero mean-of-percent-changes medians-unusable mixed-units
  model-errors model-misses-arms moderator-missing near-the-limit negative-correlation new-length no-citation
  no-direction no-intensity no-measurement-error no-person-terms no-positive-variance-compatible
  no-rest no-title not-a-doi not-measured not-studied not-utf-8 one-study-dominates one-time
  order-is-practice other-limb-gains outside-range p-of-zero p-threshold pairs-also-differ
  pairs-implied people-at-start people-lost people-unknown permutation-fits-failed prediction-indicative
  prediction-unstable rating-as-percent reference-by-name reference-level repeat-a-week
  rest-multiplier-assumed rests-on-one-study robust-few-degrees-of-freedom robust-unavailable
  rows-above-header rows-left-out scores-in-points separate-control several-comparators several-effects-per-study
  shared-cohort sheet-read shorter-length-force-loss shortest-rests sign-disagrees sizes-are-chosen
  spread-borrowed spread-kind-assumed spread-kind-blank start start-slowly study-in-several-files statistic-inferred studies-joined
  test-mode-blank too-few-studies-to-claim two-decimal-marks two-effects two-stage unnamed-arms
  usual-value variance-at-zero verdict-rule weeks-begin-after women-beside-men
`>;

/** Why a call cannot be answered: a reason of its own, or what is wrong with what it was given. */
export type CallErrorCode =
  | IssueCode
  | WordOf<`
  aliased-columns aliased-moderators amount-missing arms-missing bad-amount bad-bounds
  bad-covariance bad-degrees bad-interaction bad-interval bad-knots bad-levels bad-outline bad-participants
  bad-prior bad-rules bad-weeks between-arms cannot-equalise confidence crossed-labels
  current-directory digits directory-not-ours directory-of-another disk-full empty-timeline
  figure-does-not-compile figure-id figure-not-made file-missing file-name file-problem file-there
  flat-likelihood folder-in-use index interaction-without-axis interval-order
  interval-without-estimate invented-and-real is-a-directory maximal-effort missing-field moderator-not-in-model
  name-too-long negative negative-eigenvalue no-alternative no-angles no-arms no-blocks no-course
  no-effects no-file no-mends no-pairs no-points no-repeated-weeks no-sheet no-sign-change no-studies
  no-terminal no-variables not-a-card not-a-confidence not-a-directory not-a-fraction not-a-probability not-a-recipe
  not-a-seed not-finite not-identified not-plain not-symmetric nothing-left one-level
  option-not-read options-apart output-over-input outside-bands permission-denied protocol-count
  ragged-rows ready-effects repeated-moderator scale-out-of-range sessions-count shape
  standard-error study-count timeline-not-in-order timelines-count too-few-axes too-few-effects
  too-few-permutations too-few-rows too-many-files two-joints unequal-columns unequal-lengths
  unidentified unknown-axis unknown-exercise unknown-figure unknown-goal unknown-moderator
  unknown-option unknown-prior unknown-question unknown-reference unknown-shape
  unreadable-condition width wrong-scale
`>;

/** Why an answer cannot be given: a reason of its own, or that of a call within it. */
export type RefusalCode =
  | CallErrorCode
  | WordOf<`
  all-by-first-week angles-not-coded arbitrary-sign bends-the-other-way beyond-the-model cannot-be-separated
  category-not-studied decided-already did-not-settle dose-not-coded falls-too-soon few-studies file-needs-mending
  hardly-falls level-curve like-sizes measured-once nearly-one-dose no-baseline no-clear-gain no-convergence
  no-protocol-told not-doable
  no-evidence-near no-flattening no-gain no-later-test no-such-shape no-test-error no-values no-width not-told
  nothing-within-limits one-distance one-dose one-effect one-study other-scale outside-doses
  rests-on-one-study robust-unavailable too-few-comparisons too-few-distances too-few-doses
  too-few-for-asymmetry too-few-studies too-few-weeks-measured
`>;

/** One problem in the user's table, located. `line` is the file's own line number, from 1. */
export type Issue = Readonly<{
  /** Stable word for the kind of problem, e.g. `not-a-number`. */
  code: IssueCode;
  severity: Severity;
  /** Line of the file the row starts on (header is line 1). 0 when the problem is the whole file's. */
  line: number;
  /** Column as the file names it; empty when the problem is the whole row's. */
  column: string;
  /** The offending value as it stands in the file. */
  value: string;
  /** What is wrong: lower case, no full stop. */
  message: string;
  /** How to mend it. */
  mend: string;
  /** Cells any of which would mend it, where they are known. */
  instead?: readonly string[];
}>;

/** A doubt that does not stop the work. */
export type Note = Readonly<{
  /** Stable word for the kind of doubt, e.g. `few-studies`; a doubt about a row keeps its issue's word. */
  code: NoteCode | IssueCode;
  /** One plain sentence without a full stop. */
  message: string;
  study?: string;
}>;

/** As much of a value as tells which it is. */
const shownValue = (value: string): string =>
  value.length > 80 ? `${value.slice(0, 79)}…` : value;

/** The sentence an issue makes: place, problem, value, mend. */
export const issueText = (issue: Issue): string => {
  const place = issue.line > 0 ? `line ${issue.line}` : "file";
  const column = issue.column === "" ? "" : `, column ${issue.column}`;
  const value = issue.value === "" ? "" : ` (got "${shownValue(issue.value)}")`;
  return `${place}${column}: ${issue.message}${value}; ${issue.mend}`;
};

/** The user's table cannot be used as it is; every problem found is listed. */
export class DataError extends Error {
  override readonly name = "DataError";
  readonly issues: readonly Issue[];
  constructor(issues: readonly Issue[]) {
    super(issues.map(issueText).join("\n"));
    this.issues = issues;
  }
}

/** The call cannot be answered: what the function requires and what it got. */
export class CallError extends Error {
  override readonly name = "CallError";
  readonly code: CallErrorCode;
  readonly where: string;
  constructor(
    failure: Readonly<{
      code: CallErrorCode;
      where: string;
      needs: string;
      got: string;
      try?: string;
    }>,
  ) {
    const hint = failure.try === undefined ? "" : `; ${failure.try}`;
    super(`${failure.where} requires ${failure.needs}, got ${failure.got}${hint}`);
    this.code = failure.code;
    this.where = failure.where;
  }
}

/** An iterative method gave up: how far it came, and what to try. */
export class ConvergenceError extends Error {
  override readonly name = "ConvergenceError";
  readonly where: string;
  readonly iterations: number;
  readonly lastChange: number;
  readonly tolerance: number;
  constructor(
    failure: Readonly<{
      where: string;
      iterations: number;
      lastChange: number;
      tolerance: number;
      try: string;
    }>,
  ) {
    super(
      `${failure.where} did not converge after ${failure.iterations} iterations ` +
        `(last change ${failure.lastChange}, tolerance ${failure.tolerance}); ${failure.try}`,
    );
    this.where = failure.where;
    this.iterations = failure.iterations;
    this.lastChange = failure.lastChange;
    this.tolerance = failure.tolerance;
  }
}

/** An answer that cannot be given, as a value: what is missing, and what would help. */
export type Refusal = Readonly<{
  kind: "refusal";
  /** Stable word for the kind of refusal, e.g. `one-study`. */
  code: RefusalCode;
  /** What is missing: lower case, no full stop. */
  reason: string;
  /** What would help. */
  try?: string;
}>;

/** A refusal by its code and reason. */
export const refusal = (code: RefusalCode, reason: string): Refusal => ({
  kind: "refusal",
  code,
  reason,
});

/** Whether nothing was found. */
export const isRefusal = (answer: object): answer is Refusal =>
  "kind" in answer && answer.kind === "refusal";

/** What was found, or why nothing was, as data that their `kind` tells apart. */
export const toldOrRefused = <Found extends object>(answer: Found | Refusal) =>
  isRefusal(answer)
    ? { kind: "refusal" as const, refusal: answer }
    : { kind: "told" as const, ...answer };
