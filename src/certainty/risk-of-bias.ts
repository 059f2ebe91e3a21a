/** The five coded domains of risk of bias, of a study and of what an answer weighs. */
import type { OutcomeRow } from "../records/outcome-row.js";

/** Fields of a row that judge a domain, in their order, and what each asks. */
export const riskDomains = {
  riskRandomisation: "how people came into the arms",
  riskDeviations: "departures from the intended training",
  riskMissingData: "people who were not measured",
  riskMeasurement: "how the outcome was measured",
  riskReportedResult: "choice of the reported result",
} as const satisfies Partial<Record<keyof OutcomeRow, string>>;

export type RiskDomain = keyof typeof riskDomains;
export const riskDomainNames = Object.keys(riskDomains) as readonly RiskDomain[];

/** Judgements from best to worst; a domain without one is not coded. */
export const judgements = ["low", "some concerns", "high", "not coded"] as const;
/** A judgement of one domain of risk of bias. */
export type Judgement = (typeof judgements)[number];

type Coded = Pick<OutcomeRow, RiskDomain>;

/** A study's judgement of one domain: the worst that any of its rows has. */
export const judgementOf = (rows: readonly Coded[], domain: RiskDomain): Judgement =>
  (["high", "some concerns", "low"] as const).find((word) =>
    rows.some((row) => row[domain] === word),
  ) ?? "not coded";

/**
 * A study as a whole: high where any domain is, not coded where a domain is not, else as bad as its worst. Whether several
 * domains with some concerns together are high is a person's judgement, and is not made here.
 *
 * @source Sterne et al. (2019) BMJ 366:l4898
 */
export const overallJudgement = (rows: readonly Coded[]): Judgement => {
  const words = riskDomainNames.map((domain) => judgementOf(rows, domain));
  return (["high", "not coded", "some concerns", "low"] as const).find((word) =>
    words.includes(word),
  )!;
};

/** Share of the weight by judgement, per cent; negative weights of effects that lean on others count with their sign. */
export const weightByJudgement = (
  weighed: readonly Readonly<{ judgement: Judgement; percent: number }>[],
): Readonly<Record<Judgement, number>> => {
  const shares = { low: 0, "some concerns": 0, high: 0, "not coded": 0 };
  for (const { judgement, percent } of weighed) shares[judgement] += percent;
  return shares;
};
