/** How a rating is said: its word, every reason with its numbers, and the findings in one table. */
import { ratingRules, type Concern } from "../certainty/rating.js";
import type { Contrast, EffectScale } from "../effects/effect.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import { capital, counted, formatCount, plainNumber } from "../tables/number-format.js";
import { csvNumbers, csvTexts, type Column, type Table } from "../tables/table.js";
import { shownAmount } from "../tables/variables-table.js";
import { decisionColumns } from "./certainty-decisions.js";
import type { RatedAnswer } from "./certainty-of.js";
import {
  aboutGroup,
  averageWords,
  furtherStudySentence,
  rangeOf,
  shownOf,
  type PreparedGroup,
} from "./pool-words.js";

export const inDeviations: EffectScale = "standardised-mean-change-baseline-deviation";

type AskedContrast = Readonly<{ contrast: Contrast }>;

/** A headline with its rating. */
export type RatedGroup = Readonly<{
  prepared: PreparedGroup;
  /** The same kind of outcome in standard deviations, where the file gives it. */
  deviations: PreparedGroup | undefined;
  rated: RatedAnswer;
}>;

const percent = (value: number): string => `${Math.round(value)}%`;

/** The numbers that triggered a rule, in a few words. */
export const numbersOf = (
  { rule }: Concern,
  { facts }: RatedAnswer,
  { group: { headline } }: PreparedGroup,
): string => {
  const {
    weightByRisk,
    iSquaredPercent,
    range,
    interval,
    amount,
    people,
    smallStudies,
    selection,
  } = facts;
  const { set } = headline;
  const written = (bounds: { low: number; high: number }): string =>
    rangeOf(bounds, set, (interval.high - interval.low) / 4);
  const counts =
    amount === undefined || set === undefined ? "no change" : `±${shownAmount(amount, set.scale)}`;
  switch (rule) {
    case "risk-not-coded":
      return `${percent(weightByRisk["not coded"])} of the weight is not coded`;
    case "risk-high":
      return `${percent(weightByRisk.high)} of the weight is at high risk`;
    case "risk-concerns":
      return `${percent(weightByRisk["some concerns"] + weightByRisk.high)} of the weight has some concerns or worse`;
    case "risk-low":
      return `${percent(weightByRisk.low)} of the weight is at low risk`;
    case "further-study-turns":
    case "further-study-crosses":
      return `range of a further study ${written(range!)}, I² ${percent(iSquaredPercent ?? 0)}, against ${counts}`;
    case "studies-differ":
      return `I² ${percent(iSquaredPercent ?? 0)}`;
    case "studies-agree":
      return range === null
        ? iSquaredPercent === null
          ? "too few studies to tell"
          : `I² ${percent(iSquaredPercent)}`
        : `range of a further study ${written(range)}, against ${counts}`;
    case "interval-crosses-both":
    case "interval-crosses-one":
    case "precise":
      return `interval ${written(interval)}, against ${counts}`;
    case "few-people":
      return `${formatCount(people)} people, ${(facts.deviations ?? 0).toFixed(1)} deviations`;
    case "small-show-more":
      return `slope over ${smallStudies.kind === "refusal" ? 0 : smallStudies.studies} studies`;
    case "null-unprinted":
      return `printed ${(selection.kind === "refusal" ? 0 : (selection.estimated?.weight ?? 0)).toFixed(2)} times as often`;
    case "not-testable":
      return "cannot be asked of these studies";
    case "small-alike":
      return "small and large studies cannot be told apart";
    default:
      return "";
  }
};

/** By how many levels a rating is lowered, in words. */
export const levelWords = (count: number): string =>
  count === 0
    ? "not lowered"
    : `lowered by ${counted(count, "level")}`
        .replace("1 level", "one level")
        .replace("2 levels", "two levels");

/** Why a rating starts where it does. */
const startWords = ({ rating, facts, notAtRandom, notCoded }: RatedAnswer): string => {
  const because = {
    "at random": "what is compared was allocated at random",
    "not at random": `not allocated at random: ${notAtRandom.join(", ")}`,
    "not coded": `allocation is not coded: ${notCoded.join(", ")}`,
    "before to after": "a change from before to after has no other arm",
    "between studies": "only studies are compared",
  }[facts.allocation];
  return `starts ${rating.starts} (${because})`;
};

/** Every reason of a rating, the rules' first; where a person decided, both stand. */
const reasonsOf = (one: RatedGroup): readonly string[] => {
  const { rated, prepared } = one;
  const { concerns, decisions } = rated.rating;
  const decided = (domain: string): string => {
    const found = decisions.find((decision) => decision.domain === domain);
    if (found === undefined) return "";
    const own = concerns.find((concern) => concern.domain === domain)?.lowered ?? null;
    const how =
      domain === "indirectness" || own === null
        ? "decided"
        : own === found.levels
          ? "confirmed"
          : "overridden";
    const what =
      typeof found.levels === "string"
        ? found.levels
        : domain === "raised"
          ? `raised by ${counted(found.levels, "level")}`
          : levelWords(found.levels);
    return `; ${how}${found.by === "" ? "" : ` by ${found.by}`}: ${what}, ${found.reason}`;
  };
  return [
    `${startWords(rated)}${decided("starting level")}`,
    ...concerns.map((concern) =>
      concern.lowered === null
        ? `${concern.domain}: for a person to judge${decided(concern.domain)}`
        : `${concern.domain}: ${levelWords(concern.lowered)}, ${numbersOf(concern, rated, prepared)}${decided(concern.domain)}`,
    ),
    ...(decisions.some(({ domain }) => domain === "raised") ? [`raised${decided("raised")}`] : []),
  ];
};

/** The rating in words: as decided beside what was proposed, or as proposed. */
export const certaintyWords = ({ rating }: Pick<RatedAnswer, "rating">): string =>
  rating.decided === null
    ? `${rating.proposed} (proposed by rule)`
    : rating.decided === rating.proposed
      ? `${rating.decided} (as proposed, confirmed)`
      : `${rating.decided} (decided; proposed: ${rating.proposed})`;

/** What was compared, and what was found, in a sentence. */
const findingOf = ({ prepared }: RatedGroup, { contrast }: AskedContrast): string => {
  const average = prepared.headline();
  if (average.kind === "refusal") return "";
  const { set } = prepared.group.headline;
  const further = furtherStudySentence(average.result, set);
  return `${aboutGroup(prepared.group, contrast)}: ${averageWords(average.result, set)} on average. ${further}`;
};

const deviationWords = (deviations: PreparedGroup | undefined): string => {
  const average = deviations?.headline();
  if (average === undefined || average.kind === "refusal") return "cannot be had";
  const { set } = deviations!.group.headline;
  const { result } = average;
  const range =
    result.predictionInterval === null
      ? ""
      : `; a further study ${rangeOf(result.predictionInterval, { scale: inDeviations, unit: "" }, result.standardError)}`;
  return `${shownOf(result, set)} (${rangeOf(result.interval, { scale: inDeviations, unit: "" }, result.standardError)}${range}; ${counted(result.studies, "study", "studies")})`;
};

/** The findings, one a row: the plain sentence first, then the same in its parts. */
export const findingsTable = (groups: readonly RatedGroup[], asked: AskedContrast): Table => {
  const left = (key: string, label: string): Column => ({ key, label, align: "left" });
  const right = (key: string, label: string): Column => ({ key, label, align: "right" });
  return {
    id: `findings-${asked.contrast}`,
    title: `Findings ${contrastShortLabel(asked.contrast)}, with how sure they are`,
    columns: [
      left("finding", "Finding"),
      left("deviations", "In standard deviations at baseline"),
      right("people", "People"),
      right("studies", "Studies"),
      left("sure", "How sure"),
      left("why", "Why"),
    ],
    narrowColumns: [left("findingWhole", "Finding"), left("sureWhy", "How sure, and why")],
    csvColumns: [
      ...csvTexts("outcome", "compared", "finding"),
      ...csvNumbers("estimate", "intervalLow", "intervalHigh", "rangeLow", "rangeHigh"),
      ...csvTexts("deviations"),
      ...csvNumbers("people", "studies"),
      ...csvTexts("proposed", "decided", "why"),
    ],
    rows: groups.map((one) => {
      const { prepared, rated, deviations } = one;
      const { estimate, interval, range, people, studies } = rated.facts;
      const why = reasonsOf(one).map(capital).join(". ");
      return {
        outcome: prepared.group.label,
        compared: contrastShortLabel(asked.contrast),
        finding: findingOf(one, asked),
        findingWhole: `${findingOf(one, asked)} In standard deviations at baseline: ${deviationWords(deviations)}. ${formatCount(people)} people, ${counted(studies, "study", "studies")}.`,
        deviations: deviationWords(deviations),
        people: formatCount(people),
        studies: String(studies),
        sure: certaintyWords(rated),
        why: `${why}.`,
        sureWhy: `${capital(certaintyWords(rated))}. ${why}.`,
        estimate: plainNumber(estimate),
        intervalLow: plainNumber(interval.low),
        intervalHigh: plainNumber(interval.high),
        rangeLow: range === null ? "" : plainNumber(range.low),
        rangeHigh: range === null ? "" : plainNumber(range.high),
        proposed: rated.rating.proposed,
        decided: rated.rating.decided ?? "",
      };
    }),
    notes: [
      "People are counted once, whatever was measured of them. A rating says how likely further trials are to change the finding; it is no chance.",
    ],
  };
};

export const rulesTable: Table = {
  id: "certainty-rules",
  title: "By which rules a rating is proposed",
  place: "folded",
  columns: [
    { key: "domain", label: "Domain", align: "left" },
    { key: "rule", label: "Rule", align: "left" },
  ],
  rows: [
    {
      domain: "starting level",
      rule: "high where both sides of every comparison were allocated at random (people: design; limbs: limb_allocation); low for changes before to after, between studies, and where allocation is not coded",
    },
    ...Object.values(ratingRules).map(([domain, rule]) => ({ domain, rule })),
    { domain: "raised", rule: "never by itself; a person may, with a reason" },
  ],
  notes: ["The judgement is a person's: a rule proposes, with the numbers that triggered it."],
};

/** What a person confirms or overrides, ready to be kept as certainty.csv. */
export const toConfirm = (groups: readonly RatedGroup[], { contrast }: AskedContrast): Table => ({
  id: `certainty-to-confirm-${contrast}`,
  title:
    "To confirm or override: write a reason beside each level, and hand the table over as decisions",
  place: "folded",
  columns: decisionColumns.map((key) => ({ key, label: capital(key), align: "left" })),
  rows: groups.flatMap(({ prepared: { group }, rated: { rating } }) =>
    rating.concerns.map(({ domain, lowered }) => {
      const decision = rating.decisions.find((one) => one.domain === domain);
      return {
        outcome: group.id,
        contrast: contrastShortLabel(contrast),
        domain,
        levels: String(decision?.levels ?? lowered ?? ""),
        reason: decision?.reason ?? "",
        by: decision?.by ?? "",
      };
    }),
  ),
  notes: [
    "Levels: by how many the rating is lowered, 0 to 3. A row without a reason or without levels decides nothing.",
  ],
});
