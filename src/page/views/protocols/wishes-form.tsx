import { adjustableFields, equalQuantities } from "../../../projection/equalise-protocols.js";
import { projectionGoals } from "../../../projection/goals.js";
import {
  peopleWords,
  projectedContrastLabel,
  projectedContrasts,
  type ProjectionWishes,
} from "./use-projection-wishes.js";

const Select = ({
  label,
  value,
  words,
  shown = (word) => word,
  onChange,
}: Readonly<{
  label: string;
  value: string;
  words: readonly string[];
  shown?: (word: string) => string;
  onChange: (word: string) => void;
}>) => (
  <label class="wish">
    <span>{label}</span>
    <select value={value} onChange={(event) => onChange(event.currentTarget.value)}>
      {words.map((word) => (
        <option key={word} value={word}>
          {shown(word)}
        </option>
      ))}
    </select>
  </label>
);

/** What the trained person wants, and who they are. */
export const GoalForm = ({ wishes }: Readonly<{ wishes: ProjectionWishes }>) => (
  <div class="wishes">
    <Select label="Goal" value={wishes.goal[0]} words={projectionGoals} onChange={wishes.goal[1]} />
    <Select
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
    <Select
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
    <Select
      label="Made equal to the first in"
      value={wishes.equal[0]}
      words={["nothing", ...equalQuantities]}
      shown={(word) => (word === "nothing" ? "nothing: as written" : word)}
      onChange={wishes.equal[1]}
    />
    {wishes.equal[0] === "nothing" ? null : (
      <Select
        label="By changing"
        value={wishes.adjust[0]}
        words={adjustableFields}
        shown={(word) => adjustedWords[adjustableFields.find((one) => one === word) ?? "sets"]}
        onChange={wishes.adjust[1]}
      />
    )}
  </div>
);
