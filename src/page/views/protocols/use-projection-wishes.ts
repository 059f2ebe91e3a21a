import { contrasts, type Contrast } from "../../../effects/effect.js";
import { contrastShortLabel } from "../../../effects/scale-label.js";
import {
  adjustableFields,
  equaliseDefaults,
  equalQuantities,
  type AdjustableField,
  type EqualQuantity,
} from "../../../projection/equalise-protocols.js";
import { projectionGoals, type ProjectionGoal } from "../../../projection/goals.js";
import type { TrainingStatus } from "../../../projection/predictors.js";
import { useChoice } from "../../app.js";
import { useOneOf } from "../use-one-of.js";

/** Contrasts on which a gain can be projected: those of a training arm, not of two. */
export const projectedContrasts = contrasts.filter((contrast) => contrast !== "between-arms");

/** A contrast in the words of the form. */
export const projectedContrastLabel = (contrast: Contrast): string =>
  contrast === "change-within-arm"
    ? "change from before to after"
    : `gain ${contrastShortLabel(contrast)}`;

/** What people the gain is projected for; "as in the table" leaves the table's most usual. */
export const peopleWords = [
  "as in the table",
  "untrained",
  "recreationally active",
  "resistance-trained",
  "clinical",
] as const satisfies readonly ("as in the table" | TrainingStatus)[];

export type ProjectionWishes = Readonly<{
  goal: readonly [ProjectionGoal, (word: string) => void];
  contrast: readonly [Contrast, (word: string) => void];
  people: readonly [(typeof peopleWords)[number], (word: string) => void];
  /** Smallest difference worth having, percent; as typed and as a number. */
  worthwhile: Readonly<{ text: string; percent: number; set: (text: string) => void }>;
  equal: readonly [EqualQuantity | "nothing", (word: string) => void];
  adjust: readonly [AdjustableField, (word: string) => void];
}>;

const largestWorthwhile = 100;

/** Everything that is wished for beside the protocols, kept in the address. */
export const useProjectionWishes = (): ProjectionWishes => {
  const goal = useOneOf("protocols-goal", projectionGoals, "strength at the trained angle");
  const contrast = useOneOf("protocols-contrast", projectedContrasts, "change-within-arm");
  const people = useOneOf("protocols-people", peopleWords, "as in the table");
  const [text, set] = useChoice("protocols-worthwhile", "0");
  const equal = useOneOf("protocols-equal", ["nothing", ...equalQuantities] as const, "nothing");
  const adjust = useOneOf("protocols-adjust", adjustableFields, equaliseDefaults.adjust);
  const number = Number(text);
  const percent = number >= 0 && number <= largestWorthwhile ? number : 0;
  return { goal, contrast, people, worthwhile: { text, percent, set }, equal, adjust };
};
