import type { AnswerTo } from "../answers/question.js";
import type { QuestionOf } from "../answers/question-list.js";
import { contrastOption, scaleOption } from "../answers/effect-options.js";
import { valueLabel } from "../answers/option.js";
import { borrowedCounts } from "../answers/outcome-groups.js";
import { confidenceWords, formatCount, formatNumber } from "../tables/number-format.js";
import { answersTo, type Report } from "./report-part.js";
import { holdbookVersion } from "../answers/version.js";

type EffectsData = AnswerTo<QuestionOf<"effects">>["data"];
type CorrelationSource = EffectsData["effects"][number]["correlationSource"];
type MethodSource = NonNullable<EffectsData["scaleSource"]>;

const sources = {
  borrowed: {
    key: "Nakagawa 2023",
    citation:
      "Nakagawa S, Noble DWA, Lagisz M, Spake R, Viechtbauer W, Senior AM (2023) A robust and readily implementable method for the meta-analysis of response ratios with and without missing standard deviations. Ecology Letters 26:232–244",
    doi: "10.1111/ele.14144",
  },
  control: {
    key: "Morris 2008",
    citation:
      "Morris SB (2008) Estimating effect sizes from pretest-posttest-control group designs. Organizational Research Methods 11:364–386",
    doi: "10.1177/1094428106291059",
  },
  multilevel: {
    key: "Konstantopoulos 2011",
    citation:
      "Konstantopoulos S (2011) Fixed effects and variance components estimation in three-level meta-analysis. Research Synthesis Methods 2:61–76",
    doi: "10.1002/jrsm.35",
  },
  robust: {
    key: "Pustejovsky and Tipton 2022",
    citation:
      "Pustejovsky JE, Tipton E (2022) Meta-analysis with robust variance estimation: expanding the range of working models. Prevention Science 23:425–438",
    doi: "10.1007/s11121-021-01246-3",
  },
  median: {
    key: "Wan 2014",
    citation:
      "Wan X, Wang W, Liu J, Tong T (2014) Estimating the sample mean and standard deviation from the sample size, median, range and/or interquartile range. BMC Medical Research Methodology 14:135",
    doi: "10.1186/1471-2288-14-135",
  },
  medianMean: {
    key: "Luo 2018",
    citation:
      "Luo D, Wan X, Liu J, Tong T (2018) Optimally estimating the sample mean from the sample size, median, mid-range, and/or mid-quartile range. Statistical Methods in Medical Research 27:1785–1805",
    doi: "10.1177/0962280216669183",
  },
} as const satisfies Record<string, MethodSource>;

const correlationWords = {
  "stated in the source": "stated by the source",
  "computed from printed deviations": "computed from the printed deviations",
  "borrowed from like studies in the file":
    "borrowed from the file's own studies of the same outcome family, pooled on Fisher's z scale",
  "documented default": "a default",
  "set by the user": "set by the user",
  "not needed": "not needed",
} as const satisfies Record<CorrelationSource, string>;

const correlationSentence = (effects: EffectsData["effects"]): string => {
  const counts = new Map<CorrelationSource, number>();
  for (const { correlationSource } of effects)
    counts.set(correlationSource, (counts.get(correlationSource) ?? 0) + 1);
  const parts = [...counts]
    .sort((first, second) => second[1] - first[1])
    .map(([source, count]) => `${correlationWords[source]} for ${formatCount(count)}`);
  return `The correlation between measurements before and after was ${parts.join(", ")} of the effects.`;
};

const cited = (source: MethodSource): string => `(${source.key})`;

/**
 * A methods paragraph that says exactly what was computed, and the works it cites.
 *
 * Drafted from the answers themselves, so that it cannot say anything else than what was done; a person
 * still has to add how the studies were found and chosen, which no program can know.
 *
 * @returns the paragraph as sentences, and the works cited, in order of mention
 */
export const methodsParagraph = (
  report: Report,
): Readonly<{ sentences: readonly string[]; sources: readonly MethodSource[] }> => {
  const [file] = answersTo(report, "check");
  const sets = answersTo(report, "effects").map(({ data }) => data);
  const pools = answersTo(report, "pool").map(({ data }) => data);
  const cites: MethodSource[] = [];
  const cite = (source: MethodSource): string => {
    if (!cites.includes(source)) cites.push(source);
    return cited(source);
  };
  const [first] = sets;
  const sentences: string[] = [];
  if (report.source.invented)
    sentences.push(
      "All trials analysed here were invented to show what the program does; nothing below is evidence.",
    );
  if (file !== undefined)
    sentences.push(
      `The file held ${file.data.counts}; what became of each row, and why, is listed with the results.`,
    );
  if (first !== undefined) {
    const { scaleSource } = first;
    sentences.push(
      `Outcomes were put on one scale, the ${valueLabel(scaleOption, first.scale)}${scaleSource === null ? "" : ` ${cite(scaleSource)}`}, with positive values meaning improvement.`,
      `Contrasts were kept apart: ${sets
        .map(
          (set) =>
            `${valueLabel(contrastOption, set.contrast)} (${formatCount(set.effects.length)} effects${set.contrast === "against-control" ? `; ${sources.control.key}` : ""})`,
        )
        .join("; ")}.`,
    );
  }
  if (sets.some(({ contrast }) => contrast === "against-control")) cite(sources.control);
  const allEffects = sets.flatMap(({ effects }) => effects);
  if (allEffects.length > 0) sentences.push(correlationSentence(first?.effects ?? allEffects));
  const lent = first?.effects.flatMap(({ borrowed }) => borrowed ?? []) ?? [];
  if (first !== undefined && lent.length > 0) {
    const moved = lent.filter(({ movedTo }) => movedTo !== undefined).length;
    sentences.push(
      `${borrowedCounts(first.effects) ?? ""}: a row that prints none was given the average squared coefficient of variation of the file's studies of the same outcome family, studies first and weighted by people, or of the same muscle from five studies on ${cite(sources.borrowed)}; its variance was widened because that average is only estimated${moved === 0 ? "" : `, and for ${formatCount(moved)} moved to what the printed bound of p allows`}.`,
    );
  }
  if (allEffects.some(({ statistic }) => statistic?.startsWith("medians") === true))
    sentences.push(
      `Medians with quartiles or ranges were turned into means and standard deviations ${cite(sources.medianMean)} ${cite(sources.median)}, which assumes no skew; those effects are flagged.`,
    );
  if (pools.some(({ groups }) => groups.some((group) => "varianceByLevel" in group))) {
    const confidence = pools[0]?.confidence ?? 0;
    sentences.push(
      `Effects of each outcome family were averaged in a multilevel model with random intercepts for study, arm and effect ${cite(sources.multilevel)}, the variance parts by restricted maximum likelihood, and sampling covariances for effects that share people or a control group.`,
      `Of each arm, an average takes the tests within 5° of an angle trained at and the last week measured in training; isometric tests and other ways of testing are averaged apart.`,
      `Intervals are ${confidenceWords(confidence)} intervals from cluster-robust standard errors by study with a bias-reduced correction and Satterthwaite degrees of freedom ${cite(sources.robust)}; the range of a further study adds the variance parts.`,
    );
  }
  const assumptions = first?.assumptions ?? [];
  if (assumptions.length > 0)
    sentences.push(
      `Assumed rather than read: ${assumptions
        .map(({ name, value }) => `${name} ${formatNumber(value)}`)
        .join("; ")}.`,
    );
  sentences.push(
    `Computed with Holdbook ${holdbookVersion} on the file ${report.source.name} (SHA-256 ${report.source.fingerprint.slice(0, 16)}…).`,
  );
  return { sentences, sources: cites };
};
