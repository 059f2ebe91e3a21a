import { equalTensionDefaults } from "../../dose/equal-tension.js";
import type { EqualTensionQuantity } from "../../dose/equal-tension-pairs.js";
import { variableTable } from "../../dose/variable-table.js";
import type { Contrast, EffectScale, EffectSet } from "../../effects/effect.js";
import { CallError } from "../../errors.js";
import type { Figure } from "../../figures/figure.js";
import {
  jointAngleAnswers,
  shownEqualTension,
  shownJointAngle,
  shownTimeCourse,
  timeCourseAnswers,
} from "../../report/special-questions.js";
import type { Table } from "../../tables/table.js";
import {
  variablesRules,
  variablesSentences,
  variablesTable,
} from "../../tables/variables-table.js";
import type { Job } from "./bench.js";
import { effectsOnBench } from "./effects-on-bench.js";

/** What can be asked about the variables of protocols. */
export const variableQuestions = ["which matter", "equal tension", "joint angle", "time"] as const;
export type VariableQuestion = (typeof variableQuestions)[number];

export type VariablesWish = Readonly<{
  question: VariableQuestion;
  scale: EffectScale;
  contrast: Contrast;
  /** What is held equal in the question of equal tension. */
  equal: EqualTensionQuantity;
}>;

/** What the variables view shows of a question. */
export type VariablesShown = Readonly<{
  sentences: readonly string[];
  figures: readonly Figure[];
  tables: readonly Table[];
  rules: readonly string[];
}>;

const confidence = 0.95;

/** Words in the place of an answer. */
const onlyWords = (sentence: string): VariablesShown => ({
  sentences: [sentence],
  figures: [],
  tables: [],
  rules: [],
});

const whichMatter = (set: EffectSet): VariablesShown => {
  const table = variableTable(set, { confidence });
  const told = table.families.filter((family) =>
    table.rows.some((row) => row.family === family && row.verdict.verdict !== "not studied"),
  );
  return {
    sentences: variablesSentences(table),
    figures: [],
    tables: told.map((family) => variablesTable(table, family)),
    rules: variablesRules(table),
  };
};

const askedOf = (set: EffectSet, { question, equal }: VariablesWish): VariablesShown => {
  if (question === "which matter") return whichMatter(set);
  const { sentences, figures, tables } =
    question === "equal tension"
      ? shownEqualTension(set, { ...equalTensionDefaults, quantity: equal, confidence })
      : question === "joint angle"
        ? shownJointAngle(jointAngleAnswers(set, confidence), set)
        : shownTimeCourse(timeCourseAnswers(set, confidence), set);
  return { sentences, figures, tables, rules: [] };
};

/** The table of variables, or one of the three questions of their own. */
export const variablesJob: Job<VariablesWish, VariablesShown> = (bench, wish, tell) => {
  tell("effects");
  const set = effectsOnBench(bench, wish);
  if (set.effects.length === 0)
    return onlyWords("No row reached this scale and contrast, so nothing can be asked of them.");
  tell("comparing doses inside studies and between them");
  try {
    return askedOf(set, wish);
  } catch (error) {
    // A scale without an amount that counts, for example: said in the place of the answer.
    if (error instanceof CallError) return onlyWords(error.message);
    throw error;
  }
};
