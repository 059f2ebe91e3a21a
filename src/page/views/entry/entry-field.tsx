import { useId, useState } from "preact/hooks";
import type { Issue } from "../../../errors.js";
import type { MarkedNumber } from "../../../records/abstract-numbers.js";
import { fieldOf } from "../../../records/codebook.js";
import { cellKindOf, choicesOf } from "../../../records/column-reader.js";
import type { Place } from "./use-entry.js";

/** Units that a field's title does not say already. */
const shownUnits: Readonly<Record<string, string>> = {
  ...{ "%": "%", s: "s", degrees: "°", years: "years" },
};

/** Numbers of the text offered at once. */
const offersAtOnce = 12;

export const markWords = ({ values, kind }: MarkedNumber): string =>
  `${values.join(" · ")} (${kind})`;

/** One field with its unit; the arrow down goes through the numbers of the text that may stand in it. */
export const EntryField = ({
  place,
  of,
  value,
  shared = "",
  problem,
  offers,
  onType,
  onPut,
  onFocus,
}: Readonly<{
  place: Place;
  /** Whose it is, for people who hear the field alone: "arm 1". */
  of: string;
  value: string;
  /** What stands for it while it is blank. */
  shared?: string;
  problem: Issue | undefined;
  offers: (place: Place) => readonly MarkedNumber[];
  onType: (place: Place, text: string) => void;
  onPut: (place: Place, mark: MarkedNumber) => void;
  onFocus: (place: Place) => void;
}>) => {
  const field = fieldOf(place.name);
  const id = useId();
  const [at, setAt] = useState<number>();
  const [isHere, setHere] = useState(false);
  const list = at === undefined ? [] : offers(place).slice(0, offersAtOnce);
  const choices = choicesOf(field);
  const isChoice = cellKindOf(field) === "choice";
  const told = problem === undefined ? {} : { "aria-describedby": `${id}-told` };
  const helped = { "aria-describedby": `${id}-help${problem === undefined ? "" : ` ${id}-told`}` };
  const label = of === "" ? field.title : `${field.title}, ${of}`;
  const close = (): void => setAt(undefined);
  const take = (mark: MarkedNumber | undefined): void => {
    if (mark !== undefined) onPut(place, mark);
    close();
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const { key } = event;
    if (key === "ArrowDown" || key === "ArrowUp") {
      const count = Math.min(offersAtOnce, offers(place).length);
      if (count === 0) return;
      event.preventDefault();
      setAt(
        ((at ?? (key === "ArrowDown" ? -1 : count)) + (key === "ArrowDown" ? 1 : -1) + count) %
          count,
      );
    } else if (at !== undefined && (key === "Enter" || key === "Tab")) {
      if (key === "Enter") event.preventDefault();
      take(list[at]);
    } else if (key === "Escape") close();
  };
  return (
    <div class={`entry-field ${place.name}`}>
      <label for={id} title={field.description}>
        {field.title}
        {shownUnits[field.unit ?? ""] === undefined ? null : (
          <span class="quiet"> {shownUnits[field.unit ?? ""]}</span>
        )}
      </label>
      {isChoice ? (
        <select
          id={id}
          value={value}
          aria-label={label}
          {...(isHere ? helped : told)}
          onFocus={() => {
            setHere(true);
            onFocus(place);
          }}
          onBlur={() => setHere(false)}
          onChange={(event) => onType(place, event.currentTarget.value)}
        >
          <option value="">{shared}</option>
          {choices.map((choice) => (
            <option key={choice} value={choice}>
              {choice}
            </option>
          ))}
        </select>
      ) : (
        <input
          id={id}
          type="text"
          role="combobox"
          spellcheck={false}
          autocomplete="off"
          aria-label={label}
          aria-expanded={at !== undefined}
          aria-autocomplete="none"
          aria-controls={`${id}-offers`}
          {...(at === undefined ? {} : { "aria-activedescendant": `${id}-${at}` })}
          {...told}
          value={value}
          placeholder={shared}
          onFocus={() => onFocus(place)}
          onBlur={close}
          onKeyDown={onKeyDown}
          onInput={(event) => onType(place, event.currentTarget.value)}
        />
      )}
      {isHere ? (
        <p id={`${id}-help`} class="field-help">
          {field.description}
        </p>
      ) : null}
      {at === undefined ? null : (
        <ul id={`${id}-offers`} role="listbox" class="offers" aria-label="Numbers of the text">
          {list.map((mark, index) => (
            <li
              key={mark.start}
              id={`${id}-${index}`}
              role="option"
              aria-selected={index === at}
              onMouseDown={(event) => {
                event.preventDefault();
                take(mark);
              }}
            >
              {markWords(mark)}
            </li>
          ))}
        </ul>
      )}
      {problem === undefined ? null : (
        <p id={`${id}-told`} class={problem.severity === "error" ? "told bad" : "told"}>
          {problem.message}; {problem.mend}
        </p>
      )}
    </div>
  );
};
