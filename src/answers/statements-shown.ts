/** How statements that were put to the test are said: a line each, their tables, and their forms to be edited. */
import {
  statementVerdicts,
  type JudgedClaim,
  type StatementVerdict,
} from "../certainty/statement-verdict.js";
import type { Rating } from "../certainty/rating.js";
import type { Issue } from "../errors.js";
import type { NamedFigure } from "../figures/figure-list.js";
import type { StatementRow } from "../figures/statements-figure.js";
import { listed } from "../protocol/listed.js";
import { withUnit } from "../protocol/with-unit.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { capital, confidenceWords, counted, formatNumber } from "../tables/number-format.js";
import { csvNumbers, csvTexts, folded, type Table } from "../tables/table.js";
import { certaintyOf } from "./certainty-of.js";
import { statementFields, type ReadStatement } from "./statement-form.js";
import type { Tested, TrialBeside } from "./statement-ground.js";
import { sweptWords, type TurnedVerdict } from "./swept-verdicts.js";

/** A statement with what was found; without a test where its form is not complete. */
export type JudgedStatement = Readonly<{
  read: ReadStatement;
  tested?: Tested;
  /** At the coverage that the number of statements asks for. */
  judged?: JudgedClaim;
  /** Undefined while its form is not complete. */
  verdict?: StatementVerdict;
  /** Under other choices, where that is asked for and it has an interval of this file. */
  swept?: TurnedVerdict;
}>;

/** How certain the estimate is by the rules of the rating; undefined where nothing was estimated. */
export const ratingOf = ({ tested }: JudgedStatement): Rating | undefined =>
  tested?.toRate === undefined ? undefined : certaintyOf(tested.toRate).rating;

const digitsOf = (unit: string): number => (unit === "s" ? 0 : unit === "" ? 2 : 1);

/** A number in a statement's unit; a share of curves without decimals. */
export const shownNumber = (value: number, unit: string): string =>
  withUnit(formatNumber(value, { digits: unit.startsWith("% ") ? 0 : digitsOf(unit) }), unit);

/** Bounds of which an end may be open: "above 0%", "below 50%", "5 to 91%". */
export const claimWords = ({ low, high }: Interval, unit: string): string => {
  const bare = (value: number): string => String(Number(value.toFixed(1))).replace("-", "\u2212");
  if (low === -Infinity && high === Infinity) return "";
  if (high === Infinity) return `above ${withUnit(bare(low), unit)}`;
  if (low === -Infinity) return `below ${withUnit(bare(high), unit)}`;
  return `${bare(low)} to ${withUnit(bare(high), unit)}`;
};

const intervalWords = ({ low, high }: Interval, unit: string): string => {
  const bound = (value: number): string =>
    Number.isFinite(value) ? formatNumber(value, { digits: digitsOf(unit) }) : "no limit";
  return `${bound(low)} to ${withUnit(bound(high), unit)}`;
};

/** The interval a statement is judged by. */
export const judgedInterval = ({ tested, judged }: JudgedStatement): Interval | undefined =>
  judged === undefined ? undefined : tested?.interval?.(judged.confidence);

/** A statement's number with its interval; or why there is none. */
export const numberTold = ({
  estimate,
  unit = "",
  why,
  interval,
}: Readonly<{
  estimate?: number | undefined;
  unit?: string | undefined;
  why?: string | undefined;
  interval?: Interval | undefined;
}>): string => {
  if (estimate === undefined) return why ?? "";
  const told = `${shownNumber(estimate, unit)}${interval === undefined ? "" : ` (${intervalWords(interval, unit)})`}`;
  return why === undefined ? told : `${told}; ${why}`;
};

/** The same beside the claim, with the adjusted interval. */
export const numberWords = (one: JudgedStatement): string =>
  numberTold({ ...one.tested, interval: judgedInterval(one) ?? one.tested?.interval?.(0.95) });

export const trialsOn = (
  { tested }: Pick<JudgedStatement, "tested">,
  side: TrialBeside["side"],
): readonly TrialBeside[] => (tested?.trials ?? []).filter((trial) => trial.side === side);

/** How many trials stand where, by their own intervals. */
export const trialWords = (one: JudgedStatement): string =>
  (one.tested?.trials ?? []).length === 0
    ? ""
    : `${trialsOn(one, "inside").length} for, ${trialsOn(one, "outside").length} against, ${trialsOn(one, "neither").length} silent`;

/** A verdict in words, or what keeps it from being given. */
export const verdictWords = ({ verdict, read }: JudgedStatement): string =>
  verdict ?? (read.problems.length > 0 ? "cannot be read" : "form not complete");

/** A statement in one line, for a slide: the verdict first. */
export const statementLine = (one: JudgedStatement): string => {
  const { read, tested } = one;
  const { statement } = read;
  const end = /[.!?]$/.test(statement) ? "" : ".";
  const said = `${capital(verdictWords(one))}: ${statement}${end}`;
  if (tested === undefined) {
    const open = [
      ...read.asked.map(({ field, question }) => `${field}: ${question}`),
      ...read.problems.map(({ column, message, mend }) => `${column}: ${message}; ${mend}`),
    ];
    return `${said} ${open.join(" ")}`.trim();
  }
  const claim = claimWords(tested.claimed, tested.unit);
  const rating = ratingOf(one);
  const parts = [
    ...(tested.estimate === undefined
      ? [`${tested.about}: ${numberWords(one)}`]
      : [`${tested.about}: ${numberWords(one)}${claim === "" ? "" : `, claimed ${claim}`}`]),
    ...(tested.trials.length === 0 ? [] : [trialWords(one)]),
    ...(rating === undefined ? [] : [`certainty ${rating.certainty}, as the rules propose`]),
    ...(one.swept === undefined ? [] : [sweptWords(one.swept)]),
  ];
  return `${said} ${capital(parts.join("; "))}.`;
};

/** How many statements have each verdict, in words. */
export const verdictCounts = (all: readonly JudgedStatement[]): string => {
  const words = statementVerdicts.flatMap((name) => {
    const own = all.filter(({ verdict }) => verdict === name).length;
    return own === 0 ? [] : [`${own} ${name}`];
  });
  const open = all.filter(({ verdict }) => verdict === undefined).length;
  return listed([...words, ...(open === 0 ? [] : [`${counted(open, "form")} not complete`])]);
};

const textColumns = (...pairs: readonly (readonly [string, string])[]) =>
  pairs.map(([key, label]) => ({ key, label, align: "left" as const }));

/** Verdicts, a row a statement. */
export const statementsTable = (all: readonly JudgedStatement[], asked: number): Table => ({
  id: "statements",
  title: "Statements put to the test",
  columns: textColumns(
    ["verdict", "Verdict"],
    ["statement", "Statement"],
    ["number", "What the file says"],
    ["claim", "Claim"],
    ["trials", "Trials"],
  ),
  csvColumns: [
    ...csvTexts("verdict", "statement", "about", "unit", "why"),
    ...csvNumbers(
      "estimate",
      "low",
      "high",
      "coverage",
      "claimedLow",
      "claimedHigh",
      "studies",
      "for",
      "against",
      "silent",
    ),
  ],
  rows: all.map((one) => {
    const { tested, judged, read } = one;
    const interval = judgedInterval(one);
    const plain = (value: number | undefined): string =>
      value === undefined || !Number.isFinite(value) ? "" : String(value);
    return {
      verdict: capital(verdictWords(one)),
      statement: read.statement,
      number:
        tested === undefined
          ? read.asked.map(({ question }) => question).join(" ")
          : `${capital(tested.about)}: ${numberWords(one)}`,
      claim:
        tested === undefined || tested.estimate === undefined
          ? ""
          : claimWords(tested.claimed, tested.unit),
      trials: trialWords(one),
      about: tested?.about ?? "",
      unit: tested?.unit ?? "",
      why: tested?.why ?? "",
      estimate: plain(tested?.estimate),
      low: plain(interval?.low),
      high: plain(interval?.high),
      coverage: plain(judged?.confidence),
      claimedLow: plain(tested?.claimed.low),
      claimedHigh: plain(tested?.claimed.high),
      studies: plain(tested?.studies),
      for: plain(tested && trialsOn(one, "inside").length),
      against: plain(tested && trialsOn(one, "outside").length),
      silent: plain(tested && trialsOn(one, "neither").length),
    };
  }),
  notes: [
    "Supported: the interval lies inside the claim. Against: wholly outside. Mixed: at least two trials on each side by their own intervals. Not testable: fewer than three studies in range, or two that compared it head to head. Undecided: anything else.",
    ...(asked > 1
      ? [
          `${asked} statements have an interval and are asked together: each interval is widened for it (Holm's procedure), so that the chance of any wrong verdict stays what it is for one.`,
        ]
      : []),
  ],
});

const sideWords = { inside: "for", outside: "against", neither: "silent" } as const;

/** Every trial beside every statement. */
export const statementTrialsTable = (
  all: readonly JudgedStatement[],
  confidence: number,
): readonly Table[] => {
  const rows = all.flatMap(({ read, tested }) =>
    (tested?.trials ?? []).map(({ study, value, interval, side }) => ({
      statement: read.statement,
      study,
      side: sideWords[side],
      number:
        value === null
          ? "no number"
          : `${shownNumber(value, tested!.unit.startsWith("% ") ? "%" : tested!.unit)}${interval === null ? ", no interval" : ` (${intervalWords(interval, tested!.unit.startsWith("% ") ? "%" : tested!.unit)})`}`,
    })),
  );
  return rows.length === 0
    ? []
    : [
        folded({
          id: "statement-trials",
          title: "Trials for, against and silent",
          columns: textColumns(
            ["statement", "Statement"],
            ["study", "Trial"],
            ["side", "It is"],
            ["number", `Its own number (${confidenceWords(confidence)} interval)`],
          ),
          rows,
          notes: [
            "A trial is silent where its own interval holds both sides, where it has none, or where its comparisons disagree.",
          ],
        }),
      ];
};

/** The forms as they were read: a file that can be edited and asked again. */
export const statementFormsTable = (all: readonly JudgedStatement[]): Table =>
  folded({
    id: "statement-forms",
    title: "How each statement was read",
    columns: textColumns(
      ...statementFields.map((field) => [field, capital(field)] as const),
      ["proposed", "Read from its words"],
      ["asked", "Still asked"],
    ),
    csvColumns: csvTexts(...statementFields),
    rows: all.map(({ read: { cells, proposed, asked } }) => ({
      ...Object.fromEntries(statementFields.map((field) => [field, cells[field] ?? ""])),
      proposed: proposed.join(", "),
      asked: asked.map(({ field, question }) => `${field}: ${question}`).join(" "),
    })),
    notes: [
      "What was read from a statement's words is a proposal: confirm or change it in the file, and ask again.",
    ],
  });

/** What cannot be read, with its place and its mend. */
export const statementProblemsTable = (problems: readonly Issue[]): readonly Table[] =>
  problems.length === 0
    ? []
    : [
        {
          id: "statement-problems",
          title: "What could not be read of the file of statements",
          columns: textColumns(
            ["line", "Line"],
            ["column", "Column"],
            ["value", "Value"],
            ["problem", "Problem"],
            ["mend", "Mend"],
          ),
          rows: problems.map(({ line, column, value, message, mend }) => ({
            line: String(line),
            column,
            value,
            problem: message,
            mend,
          })),
          notes: [],
        },
      ];

/** Decided statements first, in the order of the verdicts. */
export const byVerdict = (all: readonly JudgedStatement[]): readonly JudgedStatement[] =>
  [...statementVerdicts, undefined].flatMap((name) =>
    all.filter(({ verdict }) => verdict === name),
  );

/** The figure of those with an interval in percent; what has none is told by its verdict. */
export const statementFigures = (
  all: readonly JudgedStatement[],
  counts: string,
  together: number,
): readonly NamedFigure[] => {
  const rows = byVerdict(all).flatMap((one): readonly StatementRow[] => {
    const { tested, verdict, read } = one;
    const interval = judgedInterval(one);
    if (tested?.estimate === undefined || interval === undefined || tested.unit !== "%") return [];
    const end = (value: number): number | null => (Number.isFinite(value) ? value : null);
    if (!Number.isFinite(interval.low) || !Number.isFinite(interval.high)) return [];
    return [
      {
        statement: read.statement,
        verdict: verdict!,
        estimate: tested.estimate,
        ...interval,
        claimedLow: end(tested.claimed.low),
        claimedHigh: end(tested.claimed.high),
        trials: trialWords(one),
      },
    ];
  });
  const drawn = new Set(rows.map(({ statement }) => statement));
  const rest = [...statementVerdicts, undefined].flatMap((name) => {
    const own = all.filter(({ verdict, read }) => verdict === name && !drawn.has(read.statement));
    return own.length === 0
      ? []
      : [
          `${capital(name ?? "form not complete")}, not drawn: ${own.map(({ read }) => read.statement.replace(/[.!?]$/, "")).join("; ")}.`,
        ];
  });
  return rows.length === 0
    ? []
    : [{ name: "statements", data: { id: "statements", counts, rows, rest, together } }];
};
