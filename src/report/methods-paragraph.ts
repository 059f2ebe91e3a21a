import type { AnswerTo } from "../answers/question.js";
import type { QuestionOf } from "../answers/question-list.js";
import { contrastOption, scaleOption } from "../answers/effect-options.js";
import { valueLabel } from "../answers/option.js";
import { borrowedCounts } from "../answers/outcome-groups.js";
import { capital, confidenceWords, formatCount, formatNumber } from "../tables/number-format.js";
import { methodsOfQuestions } from "./methods-of-questions.js";
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

/** How often each value occurs, the commonest first. */
const counts = <Value>(values: readonly Value[]): readonly (readonly [Value, number])[] => {
  const met = new Map<Value, number>();
  for (const value of values) met.set(value, (met.get(value) ?? 0) + 1);
  return [...met].sort((first, second) => second[1] - first[1]);
};

/** What is said of every contrast of effects that was used, the contrast's name behind it where there are several. */
const ofEach = (
  sets: readonly EffectsData[],
  told: (set: EffectsData) => string | undefined,
): string =>
  sets
    .flatMap((set) => {
      const words = told(set);
      if (words === undefined) return [];
      return sets.length === 1 ? words : `${words} (${valueLabel(contrastOption, set.contrast)})`;
    })
    .join("; ");

const correlationSentence = (sets: readonly EffectsData[]): string =>
  `The correlation between measurements before and after was ${ofEach(sets, ({ effects }) =>
    effects.length === 0
      ? undefined
      : `${counts(effects.map(({ correlationSource }) => correlationSource))
          .map(([source, count]) => `${correlationWords[source]} for ${formatCount(count)}`)
          .join(", ")} of the effects`,
  )}.`;

/** Papers on the same people, which count as one study. */
const cohortSentence = (effects: EffectsData["effects"]): readonly string[] => {
  const joined = [...new Set(effects.map(({ cohort }) => cohort))]
    .map((cohort) => [
      ...new Set(effects.flatMap((one) => (one.cohort === cohort ? one.study : []))),
    ])
    .filter((papers) => papers.length > 1);
  return joined.length === 0
    ? []
    : [
        `Papers on the same people counted as one study: ${joined.map((papers) => papers.join(" with ")).join("; ")}.`,
      ];
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
      `Outcomes were put on one scale, the ${valueLabel(scaleOption, first.scale)}${scaleSource === null ? "" : ` ${cite(scaleSource)}`}, with positive values meaning improvement in the direction that each row codes.`,
      ...sets
        .flatMap(({ notes }) => notes.filter(({ code }) => code === "direction-assumed"))
        .slice(0, 1)
        .map(({ message }) => `${capital(message)}.`),
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
  if (allEffects.length > 0)
    sentences.push(
      ...cohortSentence(allEffects),
      `Results were printed as ${ofEach(sets, ({ effects }) =>
        counts(effects.map(({ statistic }) => statistic ?? "numbers of unnamed kind"))
          .map(([statistic, count]) => `${statistic} for ${formatCount(count)}`)
          .join(", "),
      )}.`,
      correlationSentence(sets),
    );
  const lent = sets.flatMap(({ effects }) => effects.flatMap(({ borrowed }) => borrowed ?? []));
  if (lent.length > 0) {
    const moved = lent.filter(({ movedTo }) => movedTo !== undefined).length;
    sentences.push(
      `${ofEach(sets, ({ effects }) => borrowedCounts(effects))}: a row that prints none was given the average squared coefficient of variation of the file's studies of the same outcome family, studies first and weighted by people, or of the same muscle from five studies on ${cite(sources.borrowed)}; its variance was widened because that average is only estimated${moved === 0 ? "" : `, and for ${formatCount(moved)} moved to what the printed bound of p allows`}.`,
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
  sentences.push(...methodsOfQuestions(report));
  const assumptions = new Set(
    sets.flatMap((set) =>
      set.assumptions.map(({ name, value }) => `${name} ${formatNumber(value)}`),
    ),
  );
  if (assumptions.size > 0)
    sentences.push(`Assumed rather than read: ${[...assumptions].join("; ")}.`);
  sentences.push(
    `Computed with Holdbook ${holdbookVersion} on the file ${report.source.name} (SHA-256 ${report.source.fingerprint.slice(0, 16)}…).`,
  );
  return { sentences, sources: cites };
};
