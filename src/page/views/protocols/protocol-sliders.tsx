import {
  actions,
  joints,
  muscleLengths,
  prescriptionIssues,
  type Prescription,
} from "../../../protocol/prescription.js";
import { fieldsOf, withField, withWord, type ProtocolField } from "./protocol-fields.js";

type Change = (next: Prescription) => void;

/** One number: a slider for the hand and a box for the keyboard. */
const NumberField = ({
  id,
  field,
  p,
  onChange,
}: Readonly<{ id: string; field: ProtocolField; p: Prescription; onChange: Change }>) => {
  const { key, label, unit, low, high, required } = field;
  const value = p[key];
  const shown = value === undefined ? "" : String(value);
  const take = (text: string): void => {
    const number = text.trim() === "" ? undefined : Number(text);
    if (number === undefined && required) return;
    const next = withField(p, key, number);
    // Half-typed numbers that no protocol can have are waited for.
    if (prescriptionIssues(next).length === 0) onChange(next);
  };
  const name = unit === "" ? label : `${label}, ${unit}`;
  return (
    <div class="slider-row">
      <label for={id}>
        {label}
        {unit === "" ? null : <span class="unit">{unit}</span>}
      </label>
      <input
        type="range"
        aria-label={`${name}: slider`}
        min={low}
        max={high}
        step={1}
        value={value ?? low}
        aria-valuetext={value === undefined ? "not given" : shown}
        onInput={(event) => take(event.currentTarget.value)}
      />
      <input
        id={id}
        type="number"
        inputMode="decimal"
        min={low}
        step="any"
        value={shown}
        placeholder="–"
        onInput={(event) => take(event.currentTarget.value)}
        onBlur={(event) => {
          if (event.currentTarget.value !== shown) event.currentTarget.value = shown;
        }}
      />
    </div>
  );
};

const Word = <Key extends "muscleLength" | "joint" | "action">({
  id,
  label,
  name,
  words,
  shown,
  p,
  onChange,
}: Readonly<{
  id: string;
  label: string;
  name: Key;
  words: readonly NonNullable<Prescription[Key]>[];
  shown?: (word: string) => string;
  p: Prescription;
  onChange: Change;
}>) => (
  <label class="word" for={id}>
    <span>{label}</span>
    <select
      id={id}
      value={p[name] ?? ""}
      onChange={(event) => {
        const { value } = event.currentTarget;
        onChange(
          withWord(
            p,
            name,
            words.find((word) => word === value),
          ),
        );
      }}
    >
      <option value="">not stated</option>
      {words.map((word) => (
        <option key={word} value={word}>
          {shown?.(word) ?? word}
        </option>
      ))}
    </select>
  </label>
);

/** Every field of a protocol as a slider, a number or a choice, in step with its written form. */
export const ProtocolSliders = ({
  id,
  p,
  onChange,
}: Readonly<{ id: string; p: Prescription; onChange: Change }>) => (
  <div class="sliders">
    {fieldsOf(p).map((field) => (
      <NumberField
        key={field.key}
        id={`${id}-${field.key}`}
        field={field}
        p={p}
        onChange={onChange}
      />
    ))}
    <div class="words">
      <Word
        id={`${id}-length`}
        label="Muscle length"
        name="muscleLength"
        words={muscleLengths}
        p={p}
        onChange={onChange}
      />
      <Word
        id={`${id}-joint`}
        label="Joint"
        name="joint"
        words={joints}
        p={p}
        onChange={onChange}
      />
      <Word
        id={`${id}-action`}
        label="Kind of hold"
        name="action"
        words={actions}
        shown={(word) => (word === "holding" ? "holding a load" : "pushing a fixed stop")}
        p={p}
        onChange={onChange}
      />
    </div>
  </div>
);
