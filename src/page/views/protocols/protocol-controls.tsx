/** The controls of protocols in one table: a row a field, a column a protocol; rows that differ stand out. */
import type { ComponentChildren } from "preact";
import {
  contractionsPerSession,
  sessionLengthSeconds,
  tensionTimePerSessionSeconds,
  torqueTimePerSession,
} from "../../../protocol/derived-quantities.js";
import {
  actions,
  joints,
  muscleLengths,
  prescriptionIssues,
  type Prescription,
} from "../../../protocol/prescription.js";
import { formatNumber } from "../../../tables/number-format.js";
import { shownDuration } from "../../../tables/shown-duration.js";
import { useNarrow } from "../use-narrow.js";
import { allFields, fieldsOf, withField, withWord, type ProtocolField } from "./protocol-fields.js";

/** One protocol in the table: how its fields are named, what it is, and what to do with a change. */
export type Controlled = Readonly<{
  /** Begins the id of every field. */
  id: string;
  /** "A", or empty where it is the only one. */
  letter: string;
  p: Prescription;
  onChange: (next: Prescription) => void;
}>;

/** A number: a box for the keyboard, and a slider for the hand below it. */
const NumberCell = ({
  of: { id, letter, p, onChange },
  field: { key, label, unit, low, high, required },
}: Readonly<{ of: Controlled; field: ProtocolField }>) => {
  const value = p[key];
  const shown = value === undefined ? "" : String(value);
  const name = `${letter === "" ? "" : `${letter}: `}${unit === "" ? label : `${label}, ${unit}`}`;
  const take = (text: string): void => {
    const number = text.trim() === "" ? undefined : Number(text);
    if (number === undefined && required) return;
    const next = withField(p, key, number);
    // Half-typed numbers that no protocol can have are waited for.
    if (prescriptionIssues(next).length === 0) onChange(next);
  };
  return (
    <>
      <input
        id={`${id}-${key}`}
        type="number"
        inputMode="decimal"
        aria-label={name}
        min={low}
        step="any"
        value={shown}
        placeholder="–"
        onInput={(event) => take(event.currentTarget.value)}
        onBlur={(event) => {
          if (event.currentTarget.value !== shown) event.currentTarget.value = shown;
        }}
      />
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
    </>
  );
};

const wordFields = [
  { key: "muscleLength", label: "Muscle length", words: muscleLengths },
  { key: "joint", label: "Joint", words: joints },
  { key: "action", label: "Kind of hold", words: actions },
] as const;

const shownWord: Readonly<Record<string, string>> = {
  holding: "holding a load",
  pushing: "pushing a fixed stop",
};

const WordCell = ({
  of: { id, letter, p, onChange },
  field: { key, label, words },
}: Readonly<{ of: Controlled; field: (typeof wordFields)[number] }>) => (
  <select
    id={`${id}-${key === "muscleLength" ? "length" : key}`}
    aria-label={letter === "" ? label : `${letter}: ${label}`}
    value={p[key] ?? ""}
    onChange={(event) => {
      const { value } = event.currentTarget;
      const word = words.find((one) => one === value);
      onChange(withWord(p, key, word));
    }}
  >
    <option value="">not stated</option>
    {words.map((word) => (
      <option key={word} value={word}>
        {shownWord[word] ?? word}
      </option>
    ))}
  </select>
);

/** The quantities a coach compares first. */
const quantities: readonly (readonly [string, (p: Prescription) => string])[] = [
  [
    "Session",
    (p) => {
      const length = sessionLengthSeconds(p);
      return length === undefined ? "not known" : shownDuration(length);
    },
  ],
  ["Holds in a session", (p) => String(contractionsPerSession(p))],
  ["Tension time", (p) => shownDuration(tensionTimePerSessionSeconds(p))],
  [
    "Torque–time",
    (p) => {
      const work = torqueTimePerSession(p);
      return work === undefined ? "not known" : `${formatNumber(work, { digits: 0 })} %·s`;
    },
  ],
];

const Row = ({
  label,
  of,
  values,
  children,
}: Readonly<{
  label: ComponentChildren;
  of: readonly Controlled[];
  values: readonly unknown[];
  children: (one: Controlled) => ComponentChildren;
}>) => (
  <tr class={values.some((value) => value !== values[0]) ? "differs" : ""}>
    <th scope="row">{label}</th>
    {of.map((one) => (
      <td key={one.id}>{children(one)}</td>
    ))}
  </tr>
);

const Controls = ({ protocols }: Readonly<{ protocols: readonly Controlled[] }>) => {
  const fields = protocols.map(({ p }) => fieldsOf(p));
  return (
    <table class="controls">
      <caption class="unseen">Fields of the protocols</caption>
      {protocols.length < 2 ? null : (
        <thead>
          <tr>
            <td />
            {protocols.map(({ id, letter }) => (
              <th key={id} scope="col">
                {letter}
              </th>
            ))}
          </tr>
        </thead>
      )}
      <tbody>
        {allFields
          .filter((field) => fields.some((own) => own.includes(field)))
          .map((field) => (
            <Row
              key={field.key}
              label={
                <>
                  {field.label}
                  {field.unit === "" ? null : <span class="unit">{field.unit}</span>}
                </>
              }
              of={protocols}
              values={protocols.map(({ p }) => p[field.key])}
            >
              {(one) =>
                fields[protocols.indexOf(one)]?.includes(field) === true ? (
                  <NumberCell of={one} field={field} />
                ) : (
                  <span class="quiet">{absent[field.key] ?? "–"}</span>
                )
              }
            </Row>
          ))}
        {wordFields.map((field) => (
          <Row
            key={field.key}
            label={field.label}
            of={protocols}
            values={protocols.map(({ p }) => p[field.key])}
          >
            {(one) => <WordCell of={one} field={field} />}
          </Row>
        ))}
        {quantities.map(([label, of]) => (
          <Row key={label} label={label} of={protocols} values={protocols.map(({ p }) => of(p))}>
            {({ p }) => of(p)}
          </Row>
        ))}
      </tbody>
    </table>
  );
};

/** What stands where a field means nothing for one of the protocols. */
const absent: Readonly<Record<string, string>> = {
  restBetweenRepetitionsSeconds: "one hold",
  restBetweenSetsSeconds: "one set",
};

/** Columns beside one another on a phone. */
const narrowColumns = 2;

/** Every field of every protocol, in step with its written form; on a phone two protocols a table. */
export const ProtocolControls = ({ protocols }: Readonly<{ protocols: readonly Controlled[] }>) => {
  const columns = useNarrow() ? narrowColumns : protocols.length;
  const tables = Array.from({ length: Math.ceil(protocols.length / columns) }, (_, place) =>
    protocols.slice(place * columns, (place + 1) * columns),
  );
  return (
    <>
      {tables.map((some) => (
        <Controls key={some[0]?.id} protocols={some} />
      ))}
    </>
  );
};
