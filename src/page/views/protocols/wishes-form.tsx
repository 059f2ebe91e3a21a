import { adjustableFields, equalQuantities } from "../../../projection/equalise-protocols.js";
import { projectionGoals } from "../../../projection/goals.js";
import { Choice } from "../choice.js";
import {
  peopleWords,
  projectedContrastLabel,
  projectedContrasts,
  type ProjectionWishes,
} from "./use-projection-wishes.js";

/** What the trained person wants, and who they are. */
export const GoalForm = ({ wishes }: Readonly<{ wishes: ProjectionWishes }>) => (
  <div class="wishes">
    <Choice label="Goal" value={wishes.goal[0]} words={projectionGoals} onChange={wishes.goal[1]} />
    <Choice
      label="Measured as"
      value={wishes.contrast[0]}
      words={projectedContrasts}
      shown={(word) =>
        projectedContrastLabel(
          projectedContrasts.find((one) => one === word) ?? "change-within-arm",
        )
      }
      onChange={wishes.contrast[1]}
    />
    <Choice
      label="People"
      value={wishes.people[0]}
      words={peopleWords}
      onChange={wishes.people[1]}
    />
  </div>
);

const adjustedWords = {
  holdSeconds: "the length of holds",
  repetitions: "the number of holds",
  sets: "the number of sets",
} as const;

const equalWords = ["nothing", ...equalQuantities] as const;

/** How the protocols are set side by side. */
export const ComparisonForm = ({ wishes }: Readonly<{ wishes: ProjectionWishes }>) => (
  <div class="wishes">
    <label class="wish">
      <span>Smallest difference worth having, %</span>
      <input
        type="number"
        min={0}
        max={100}
        step="any"
        value={wishes.worthwhile.text}
        onInput={(event) => wishes.worthwhile.set(event.currentTarget.value)}
      />
    </label>
    <Choice
      label="Made equal to the first in"
      value={wishes.equal[0]}
      words={equalWords}
      shown={(word) => (word === "nothing" ? "nothing: as written" : word)}
      onChange={wishes.equal[1]}
    />
    {wishes.equal[0] === "nothing" ? null : (
      <Choice
        label="By changing"
        value={wishes.adjust[0]}
        words={adjustableFields}
        shown={(word) => adjustedWords[word]}
        onChange={wishes.adjust[1]}
      />
    )}
  </div>
);
