/**
 * How sure an answer is, in four words: proposed from stated rules with the numbers that triggered them. The judgement
 * is a person's, who confirms or overrides each domain with a reason.
 */
import type { Refusal } from "../errors.js";
import { normalQuantile } from "../numeric/normal.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import type { Judgement } from "./risk-of-bias.js";
import type { SelectionModel } from "./selection-model.js";
import type { SmallStudyRegression } from "./small-study-regression.js";

export const certainties = ["very low", "low", "moderate", "high"] as const;
/** How sure an answer is, in a word. */
export type Certainty = (typeof certainties)[number];

export const certaintyDomains = [
  "risk of bias",
  "inconsistency",
  "indirectness",
  "imprecision",
  "small-study effects",
] as const;
/** What can make an answer less sure. */
export type CertaintyDomain = (typeof certaintyDomains)[number];

/** How people, or limbs, came into what is compared. */
export const allocations = [
  "at random",
  "not at random",
  "not coded",
  "before to after",
  "between studies",
] as const;
/** How people, or limbs, came into what is compared. */
export type Allocation = (typeof allocations)[number];

/** What the rules look at. */
export type RatingFacts = Readonly<{
  allocation: Allocation;
  estimate: number;
  interval: Interval;
  /** Range of a further study; null where too few tell it. */
  range: Interval | null;
  iSquaredPercent: number | null;
  studies: number;
  people: number;
  /** The amount that counts, on the answer's scale; undefined where none is known. */
  amount: number | undefined;
  /** The same answer in standard deviations, where it can be had. */
  deviations: number | undefined;
  /** Share of the weight by risk of bias, per cent. */
  weightByRisk: Readonly<Record<Judgement, number>>;
  smallStudies: SmallStudyRegression | Refusal;
  selection: SelectionModel | Refusal;
}>;

/** What a rule found. */
export type Concern = Readonly<{
  domain: CertaintyDomain;
  /** Levels it proposes to lower by; null where nothing is proposed, only asked. */
  lowered: 0 | 1 | 2 | null;
  rule: RuleName;
}>;

/** Bounds of the rules. Where a share or a number of levels has no source, it is ours and open to change. */
export const ratingBounds = {
  highPercent: 25,
  highTwicePercent: 50,
  concernsPercent: 50,
  notCodedPercent: 50,
  iSquaredPercent: 75,
  largeDeviations: 0.8,
  countingDeviations: 0.2,
  selectionP: 0.05,
} as const;
const bounds = ratingBounds;

/**
 * People a trial would need to show the amount that counts (0.2 deviations) at 5% with a power of 80%:
 * 4 (z₀.₉₇₅ + z₀.₈)² / δ² in two arms, (z₀.₉₇₅ + z₀.₈)² / δ² in one arm against itself.
 */
export const peopleNeeded = (arms: 1 | 2): number =>
  Math.ceil(
    ((arms === 2 ? 4 : 1) * (normalQuantile(0.975) + normalQuantile(0.8)) ** 2) /
      bounds.countingDeviations ** 2,
  );

/** The rules as they are printed: domain, what triggers each, and what it proposes. */
export const ratingRules = {
  "risk-not-coded": [
    "risk of bias",
    `not coded in all five domains for more than ${bounds.notCodedPercent}% of the weight: lower by one level until somebody codes it`,
  ],
  "risk-high": [
    "risk of bias",
    `studies at high risk in any domain have ${bounds.highPercent}% of the weight or more: lower by one level; ${bounds.highTwicePercent}% or more: by two`,
  ],
  "risk-concerns": [
    "risk of bias",
    `studies with some concerns or worse have ${bounds.concernsPercent}% of the weight or more: lower by one level`,
  ],
  "risk-low": ["risk of bias", "none of these: not lowered"],
  "further-study-turns": [
    "inconsistency",
    `the range of a further study holds a loss and a gain that count, the interval does not, and I² is ${bounds.iSquaredPercent}% or more: lower by two levels`,
  ],
  "further-study-crosses": [
    "inconsistency",
    "the range of a further study crosses the amount that counts, in gain or loss, where the interval does not: lower by one level",
  ],
  "studies-differ": [
    "inconsistency",
    `too few studies for a range, and I² is ${bounds.iSquaredPercent}% or more: lower by one level`,
  ],
  "studies-agree": ["inconsistency", "none of these: not lowered"],
  "one-study": ["inconsistency", "one study: cannot be seen, not lowered for it"],
  "is-it-asked": [
    "indirectness",
    "asked, never proposed: are these the people, muscles, tests and comparisons that you mean?",
  ],
  "interval-crosses-both": [
    "imprecision",
    "the interval crosses both bounds of the amount that counts, gain and loss: lower by two levels",
  ],
  "interval-crosses-one": [
    "imprecision",
    "the interval crosses one bound of the amount that counts (no change, where no amount is known): lower by one level",
  ],
  "few-people": [
    "imprecision",
    `the interval crosses none, the answer is large (${bounds.largeDeviations} deviations or more), and there are fewer than half of the people a trial would need (${peopleNeeded(2)} in two arms, ${peopleNeeded(1)} in one arm before to after): lower by one level`,
  ],
  precise: ["imprecision", "none of these: not lowered"],
  "small-show-more": [
    "small-study effects",
    "small studies show larger effects than large ones (the slope's interval leaves out zero): lower by one level",
  ],
  "null-unprinted": [
    "small-study effects",
    `studies without a clear gain are printed less often (estimated, p below ${bounds.selectionP}): lower by one level`,
  ],
  "not-testable": [
    "small-study effects",
    "too few studies, or too much alike, to be asked: not lowered for it, and said",
  ],
  "small-alike": ["small-study effects", "none of these: not lowered"],
} as const satisfies Readonly<Record<string, readonly [CertaintyDomain, string]>>;
/** A rule by its name. */
export type RuleName = keyof typeof ratingRules;

const concern = (rule: RuleName, lowered: Concern["lowered"] = 0): Concern => ({
  domain: ratingRules[rule][0],
  lowered,
  rule,
});

const crosses = ({ low, high }: Interval, bound: number): boolean => low < bound && high > bound;

const riskConcern = ({ weightByRisk }: RatingFacts): Concern => {
  const { high, "some concerns": some, "not coded": blank } = weightByRisk;
  if (high >= bounds.highTwicePercent) return concern("risk-high", 2);
  if (high >= bounds.highPercent) return concern("risk-high", 1);
  if (blank > bounds.notCodedPercent) return concern("risk-not-coded", 1);
  return high + some >= bounds.concernsPercent ? concern("risk-concerns", 1) : concern("risk-low");
};

const inconsistencyConcern = ({
  range,
  interval,
  amount,
  iSquaredPercent,
  studies,
}: RatingFacts): Concern => {
  if (studies < 2) return concern("one-study");
  const differ = (iSquaredPercent ?? 0) >= bounds.iSquaredPercent;
  if (range === null) return differ ? concern("studies-differ", 1) : concern("studies-agree");
  const sides = amount === undefined ? [0] : [-amount, amount];
  const past = sides.filter((bound) => crosses(range, bound) && !crosses(interval, bound));
  const both = amount !== undefined && sides.every((bound) => crosses(range, bound));
  if (both && past.length > 0 && differ) return concern("further-study-turns", 2);
  return past.length > 0 ? concern("further-study-crosses", 1) : concern("studies-agree");
};

const imprecisionConcern = (facts: RatingFacts): Concern => {
  const { interval, amount, deviations, people, allocation } = facts;
  const sides = amount === undefined ? [0] : [-amount, amount];
  const crossed = sides.filter((bound) => crosses(interval, bound)).length;
  if (crossed === 2) return concern("interval-crosses-both", 2);
  if (crossed === 1) return concern("interval-crosses-one", 1);
  const needed = peopleNeeded(allocation === "before to after" ? 1 : 2);
  return Math.abs(deviations ?? 0) >= bounds.largeDeviations && people < needed / 2
    ? concern("few-people", 1)
    : concern("precise");
};

const smallStudyConcern = ({ smallStudies, selection, estimate }: RatingFacts): Concern => {
  const tested = smallStudies.kind === "told";
  if (tested) {
    const { slope } = smallStudies;
    const seen = slope.interval.low > 0 || slope.interval.high < 0;
    if (seen && Math.sign(slope.estimate) === Math.sign(estimate))
      return concern("small-show-more", 1);
  }
  const weighed = selection.kind === "refusal" ? null : selection.estimated;
  if (weighed !== null && weighed.weight < 1 && weighed.p < bounds.selectionP)
    return concern("null-unprinted", 1);
  return tested || weighed !== null ? concern("small-alike") : concern("not-testable");
};

/** What a person decided of one domain, or of where a rating starts and ends. */
export type Decision = Readonly<{
  domain: CertaintyDomain | "starting level" | "raised";
  /** Levels to lower or raise by; of a starting level, the word. */
  levels: number | Certainty;
  reason: string;
  by: string;
}>;

/** A rating: where it starts, what lowers it, and what a person decided. */
export type Rating = Readonly<{
  starts: Certainty;
  concerns: readonly Concern[];
  proposed: Certainty;
  /** Those of a person, and what comes of them; null where nobody has decided anything. */
  decisions: readonly Decision[];
  decided: Certainty | null;
  /** What counts: as decided, else as proposed. */
  certainty: Certainty;
}>;

const stepped = (from: Certainty, levels: number): Certainty =>
  certainties[Math.min(3, Math.max(0, certainties.indexOf(from) + levels))]!;

/**
 * A rating: high to begin with where what is compared was allocated at random, else low; lowered by what the rules find;
 * never raised by itself. Where a person decided, both stand.
 *
 * @source domains and levels: Guyatt et al. (2008) BMJ 336:924–926; intervals against thresholds: Zeng et al. (2022) Journal
 *   of Clinical Epidemiology 150:216–224; shares and bounds are ours
 */
export const rated = (facts: RatingFacts, decisions: readonly Decision[] = []): Rating => {
  const concerns = [
    riskConcern(facts),
    inconsistencyConcern(facts),
    concern("is-it-asked", null),
    imprecisionConcern(facts),
    smallStudyConcern(facts),
  ];
  const starts: Certainty = facts.allocation === "at random" ? "high" : "low";
  const lowered = (some: readonly number[]): number => some.reduce((sum, one) => sum + one, 0);
  const proposed = stepped(starts, -lowered(concerns.map((one) => one.lowered ?? 0)));
  const of = (domain: Decision["domain"]) => decisions.find((one) => one.domain === domain)?.levels;
  const begun = of("starting level");
  const decided =
    decisions.length === 0
      ? null
      : stepped(
          typeof begun === "string" ? begun : starts,
          Number(of("raised") ?? 0) -
            lowered(concerns.map(({ domain, lowered: own }) => Number(of(domain) ?? own ?? 0))),
        );
  return { starts, concerns, proposed, decisions, decided, certainty: decided ?? proposed };
};
