/** What a projection rests on: the predictors the file can speak about, and the priors as they were used. */
import { withUnit } from "../protocol/with-unit.js";
import type { LeftOutInTurn } from "../projection/left-out-in-turn.js";
import type { PredictiveCheck } from "../projection/predictive-check.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import { counted, formatNumber, plainNumber } from "./number-format.js";
import type { Table } from "./table.js";

type Basis = Pick<
  ReadyProjection,
  | "goal"
  | "contrastWords"
  | "design"
  | "priorWords"
  | "effects"
  | "studies"
  | "people"
  | "levels"
  | "check"
  | "leftOut"
>;

const short = (value: number): string => plainNumber(Number(value.toPrecision(3)));

/** How many trials, left out in turn, fell inside their range, and how many should have. */
export const leftOutSentence = ({ trials, inside, expected, usual }: LeftOutInTurn): string =>
  trials.length === 0
    ? "No trial can be left out and predicted from the others with these priors."
    : `Left out in turn, ${inside} of ${counted(trials.length, "trial")} fell inside their range; ${formatNumber(expected, { digits: 1 })} expected${
        inside < usual.low
          ? `, at least ${usual.low} where ranges are right: ranges here are too narrow`
          : ""
      }.`;

/** Whether the model misses the arms it was fitted to, and in what it misses them most. */
export const checkSentence = ({ p, misses, terms }: PredictiveCheck): string => {
  const chance = p < 0.01 ? "under 0.01" : formatNumber(p, { digits: 2 });
  if (!misses) return `Trials made up by the model bend as those of the file do (p ${chance}).`;
  const [most] = [...terms].sort((a, b) => b.ratio - a.ratio);
  return `The model misses the arms: trials made up by it seldom stray from it as far as those of the file (p ${chance}), most of all in ${most?.term ?? "their scatter"}.`;
};

/** The model, its amount of data, and how it stood its two checks. */
export const projectionModelSentence = ({
  goal,
  contrastWords,
  effects,
  studies,
  people,
  check,
  leftOut,
}: Basis): string =>
  `Bayesian multilevel regression on the log ratio for ${goal} (${contrastWords}): ${counted(effects, "effect")} of ${counted(studies, "study", "studies")} with ${counted(people, "person", "people")}, integrated by quadrature, so that the same file gives the same answer. ${leftOutSentence(leftOut)} ${checkSentence(check)}`;

/**
 * A row for each predictor: what it means, over which values it was studied, and whether what is known of it comes
 * from inside studies. Those left out stand below with the reason, since the answer does not move with them.
 */
export const predictorsTable = (basis: Basis, id = "predictors"): Table => ({
  id,
  title: "What the projection moves with, and what it does not",
  columns: [
    { key: "label", label: "Predictor", align: "left" },
    { key: "studied", label: "Studied", align: "left" },
    { key: "evidence", label: "Known from", align: "left" },
    { key: "definition", label: "Enters as", align: "left" },
  ],
  rows: [
    ...basis.design.predictors.map(({ label, unit, studied, evidence, definition }) => ({
      label,
      studied:
        "low" in studied
          ? withUnit(`${short(studied.low)} to ${short(studied.high)}`, unit)
          : studied.join(", "),
      evidence,
      definition,
    })),
    ...basis.design.dropped.map(({ label, reason }) => ({
      label,
      studied: "left out",
      evidence: "",
      definition: reason,
    })),
  ],
  notes: [
    ...(basis.design.dropped.length === 0
      ? []
      : ["The answer does not move with a predictor that was left out, whatever a protocol says."]),
    "The joint is no predictor: arms of every joint enter, and another joint counts as a step of distance.",
  ],
});

/** The priors in words, as they were used; all on the log scale, where 0.1 is about 10%. */
export const priorsTable = (basis: Basis, id = "priors"): Table => ({
  id,
  title: "Priors, as used",
  columns: [
    { key: "of", label: "Of", align: "left" },
    { key: "prior", label: "Prior", align: "left" },
  ],
  rows: basis.priorWords.map(({ of, prior }) => ({ of, prior })),
  notes: ["On the log scale, where 0.1 is about 10%."],
});
