import { useChoice } from "../app.js";
import { useDraft } from "./use-draft.js";

/** A number kept in the address as it was typed. */
export type NumberChoice = Readonly<{
  text: string;
  /** Undefined where nothing is typed, or no number within the bounds. */
  value: number | undefined;
  /** Whether what is typed can be used. */
  sound: boolean;
  low: number;
  high: number;
  set: (text: string) => void;
}>;

/** A number among the choices, typed or not; what is out of bounds is no value. */
export const useNumberChoice = (
  name: string,
  standard: string,
  { low, high, optional = false }: Readonly<{ low: number; high: number; optional?: boolean }>,
): NumberChoice => {
  const [kept, keep] = useChoice(name, standard);
  const [text, set] = useDraft(kept, keep);
  const number = Number(text);
  const blank = text.trim() === "";
  const inside = !blank && number >= low && number <= high;
  return {
    text,
    value: inside ? number : undefined,
    sound: inside || (blank && optional),
    low,
    high,
    set,
  };
};

/** The box for such a number. */
export const NumberBox = ({
  label,
  choice,
  placeholder = "",
}: Readonly<{ label: string; choice: NumberChoice; placeholder?: string }>) => (
  <label class="wish">
    <span>{label}</span>
    <input
      type="number"
      inputMode="decimal"
      min={choice.low}
      max={choice.high}
      step="any"
      value={choice.text}
      placeholder={placeholder}
      aria-invalid={!choice.sound}
      onInput={(event) => choice.set(event.currentTarget.value)}
    />
    {choice.sound ? null : (
      <span class="bad-number">
        a number from {choice.low} to {choice.high}
      </span>
    )}
  </label>
);
