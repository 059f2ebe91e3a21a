import { useRef, useState } from "preact/hooks";
import type { Issue } from "../../errors.js";
import type { AddedTold } from "../../answers/added-rows.js";
import { fieldOfColumn, type FieldName } from "../../records/codebook.js";
import { placedIn } from "../../records/abstract-numbers.js";
import { entryFields, entryRows, isBlankEntry, type EntryPart } from "../../records/trial-entry.js";
import { useAnswer, useApp, useAppState } from "../app.js";
import { partsOf } from "../open-file.js";
import { useFileKey } from "../parts/asked.js";
import { FailedAnswer } from "../parts/failed-answer.js";
import { NotYet } from "../parts/not-yet.js";
import { ReferencesIn } from "../parts/references-in.js";
import { EntryField } from "./entry/entry-field.js";
import { EntryTold } from "./entry/entry-told.js";
import { MarkedText } from "./entry/marked-text.js";
import { cellsAt, useEntry, type EntryActions, type Place } from "./entry/use-entry.js";
import { useRested } from "./use-rested.js";
import type { View } from "./view.js";

type Group = Readonly<{ part: EntryPart; arm: number; outcome: number }>;

/** Where a problem of a row is shown: at the field that holds its cell. */
const placeOfProblem = (
  { draft: { entry } }: EntryActions,
  { arm, outcome }: Readonly<{ arm: number; outcome: number }>,
  name: FieldName,
): string => {
  const groups: readonly Group[] = (["numbers", "outcomes", "arms", "trial"] as const).map(
    (part) => ({ part, arm, outcome }),
  );
  const typed = groups.find((group) => (cellsAt(entry, group)[name] ?? "") !== "");
  const meant = groups.find(({ part }) => entryFields[part].first.includes(name));
  return keyOf({ ...(typed ?? meant ?? groups[0]!), name });
};

const keyOf = ({ part, arm, outcome, name }: Place): string =>
  JSON.stringify([
    part,
    part === "arms" || part === "numbers" ? arm : 0,
    part === "outcomes" || part === "numbers" ? outcome : 0,
    name,
  ]);

/** One part of the entry: its first fields in sight, the rest folded. */
const Fields = ({
  group,
  legend,
  of,
  actions,
  problems,
  onFocus,
  takeOut,
}: Readonly<{
  group: Group;
  legend: string;
  of: string;
  actions: EntryActions;
  problems: ReadonlyMap<string, Issue>;
  onFocus: (place: Place) => void;
  takeOut?: () => void;
}>) => {
  const [open, setOpen] = useState(false);
  const { first, rest } = entryFields[group.part];
  const { entry } = actions.draft;
  const cells = cellsAt(entry, group);
  const field = (name: FieldName) => {
    const place = { ...group, name };
    return (
      <EntryField
        key={name}
        place={place}
        of={of}
        value={cells[name] ?? ""}
        shared={group.part === "arms" ? (entry.trial[name] ?? "") : ""}
        problem={problems.get(keyOf(place))}
        offers={actions.offers}
        onType={actions.type}
        onPut={actions.put}
        onFocus={onFocus}
      />
    );
  };
  return (
    <fieldset class="entry-part">
      <legend>{legend}</legend>
      <div class="entry-fields">{first.map(field)}</div>
      <div class="row">
        <details onToggle={(event) => setOpen(event.currentTarget.open)}>
          <summary>
            More fields<span class="unseen"> of {legend}</span>
          </summary>
          {open
            ? rest.map(({ title, fields }) => (
                <section key={title}>
                  <h2>{title}</h2>
                  <div class="entry-fields">{fields.map(field)}</div>
                </section>
              ))
            : null}
        </details>
        {takeOut === undefined ? null : (
          <button type="button" class="quiet-button" onClick={takeOut}>
            Take out {legend}
          </button>
        )}
      </div>
    </fieldset>
  );
};

/** Which file the rows go into, and the button that puts them there. */
const PutIn = ({
  actions,
  told,
}: Readonly<{ actions: EntryActions; told: AddedTold | undefined }>) => {
  const app = useApp();
  const file = useAppState((state) => state.file);
  // While a file is being opened nobody knows yet what the rows go into.
  const busy = useAppState((state) => state.busy !== undefined);
  const parts = file === undefined ? [] : partsOf(file);
  // A library that travels with the page stays as it came: one's own rows stand beside it.
  const own = parts.findIndex(
    ({ name, mended }) => mended === true || !app.shipped.some((one) => one.name === name),
  );
  const [chosen, choose] = useState<string>();
  const to = chosen ?? String(own);
  const { header, rows } = entryRows(actions.draft.entry);
  const refused = told?.fates.filter(({ fate }) => fate === "refused").length ?? 0;
  const put = async (): Promise<void> => {
    const done = await app.work("Adding the rows", (tell) =>
      app.worker.ask(
        "append",
        { added: { header, rows }, to: to === "-1" ? undefined : Number(to) },
        { tell },
      ),
    );
    if (done === undefined) return;
    app.mendTable(done.file, done.check);
    actions.clear();
    app.go("data");
  };
  return (
    <div class="row put-in">
      <label class="wish">
        <span>Into</span>
        <select value={to} onChange={(event) => choose(event.currentTarget.value)}>
          {parts.map(({ name }, at) => (
            <option key={at} value={String(at)}>
              {name}
            </option>
          ))}
          <option value="-1">
            {parts.length === 0 ? "a new file" : "a file of my own, read with it as one"}
          </option>
        </select>
      </label>
      <button
        type="button"
        class="main"
        disabled={rows.length === 0 || busy}
        onClick={() => void put()}
      >
        Add {rows.length} {rows.length === 1 ? "row" : "rows"}
      </button>
      <span class="quiet">
        {refused === 0
          ? "Then save the file in Data; nothing leaves this machine."
          : `${refused} would be refused as ${refused === 1 ? "it stands" : "they stand"}: mend what is marked first.`}
      </span>
    </div>
  );
};

const AddBody = () => {
  const app = useApp();
  const actions = useEntry();
  const { entry, text, used } = actions.draft;
  const hasFile = useAppState((state) => state.file !== undefined);
  const rows = entryRows(entry);
  const rested = useRested(JSON.stringify(rows));
  const still = JSON.parse(rested) as typeof rows;
  const fileKey = useFileKey();
  const answer = useAnswer(`${fileKey} ${rested}`, async () =>
    still.rows.length === 0
      ? undefined
      : app.worker.ask("added", { header: still.header, rows: still.rows }),
  );
  // What was said last stands until it is said anew, so that nothing flickers at each letter.
  const last = useRef<AddedTold>();
  if (answer.state === "done") last.current = answer.output;
  const told = rows.rows.length === 0 ? undefined : last.current;
  const [current, setCurrent] = useState<Place>();
  const problems = new Map<string, Issue>();
  for (const problem of told?.problems ?? []) {
    const of = still.of[problem.row];
    const name = fieldOfColumn(problem.column);
    if (of === undefined || name === undefined) continue;
    const key = placeOfProblem(actions, of, name);
    if (!problems.has(key)) problems.set(key, problem);
  }
  const groupProps = { actions, problems, onFocus: setCurrent };
  const armName = (arm: number): string => entry.arms[arm]?.arm ?? `arm ${arm + 1}`;
  return (
    <>
      <p class="lead">
        Type a trial once. Its rows are checked as you type, and go into the file when you say so.
      </p>
      <div class="trial">
        <section class="trial-text" aria-label="Text of the paper">
          <MarkedText
            text={text}
            marks={actions.marks}
            used={used}
            fits={(mark) => current !== undefined && placedIn(mark, current.name) !== undefined}
            onRead={(text) => {
              actions.read(text);
              // What was pasted into is gone: the first field takes the cursor.
              document.querySelector<HTMLElement>(".entry-part input")?.focus();
            }}
            onChoose={(mark) => {
              if (current === undefined) app.announce("Go to the field it belongs in first");
              else actions.put(current, mark);
            }}
          />
          <ReferencesIn
            summary="Study, citation and DOI from a reference"
            words="Fill them in"
            take={async (list) => {
              const works = await app.work("Reading the reference", () =>
                app.worker.ask("references", list),
              );
              const [first] = works ?? [];
              if (first === undefined) return works === undefined ? "" : "The list has no work.";
              actions.fill(first);
              return works?.length === 1
                ? `Filled in: ${first.study ?? first.citation ?? ""}.`
                : `The first of ${works?.length ?? 0} works is filled in: ${first.study ?? ""}.`;
            }}
          />
        </section>
        <form class="trial-form" onSubmit={(event) => event.preventDefault()}>
          <Fields
            group={{ part: "trial", arm: 0, outcome: 0 }}
            legend="The trial, once for all its arms"
            of=""
            {...groupProps}
          />
          {entry.arms.map((_, arm) => (
            <Fields
              key={`arm ${arm}`}
              group={{ part: "arms", arm, outcome: 0 }}
              legend={`Arm ${arm + 1}`}
              of={`arm ${arm + 1}`}
              {...groupProps}
              {...(entry.arms.length > 1 ? { takeOut: () => actions.takeOut("arms", arm) } : {})}
            />
          ))}
          <button type="button" onClick={() => actions.more("arms")}>
            One more arm
          </button>
          {entry.outcomes.map((cells, outcome) => (
            <section key={`outcome ${outcome}`}>
              <Fields
                group={{ part: "outcomes", arm: 0, outcome }}
                legend={`Outcome ${outcome + 1}`}
                of={`outcome ${outcome + 1}`}
                {...groupProps}
                {...(entry.outcomes.length > 1
                  ? { takeOut: () => actions.takeOut("outcomes", outcome) }
                  : {})}
              />
              {entry.arms.map((__, arm) => {
                const row = still.of.findIndex((of) => of.arm === arm && of.outcome === outcome);
                const spread = told?.spreads[row];
                const kind = spread?.kind;
                return (
                  <div key={arm}>
                    <Fields
                      group={{ part: "numbers", arm, outcome }}
                      legend={`Numbers of ${armName(arm)}, ${cells.outcome ?? `outcome ${outcome + 1}`}`}
                      of={`arm ${arm + 1}, outcome ${outcome + 1}`}
                      {...groupProps}
                    />
                    {spread === undefined ? null : (
                      <p class={spread.test ? "told" : "told quiet"}>
                        {spread.sentence}
                        {kind === undefined ||
                        kind === (cells.spreadKind || "standard deviation") ? null : (
                          <button
                            type="button"
                            class="quiet-button"
                            onClick={() =>
                              actions.type(
                                { part: "outcomes", arm: 0, outcome, name: "spreadKind" },
                                kind,
                              )
                            }
                          >
                            Take them as {kind}s
                          </button>
                        )}
                      </p>
                    )}
                  </div>
                );
              })}
            </section>
          ))}
          <button type="button" onClick={() => actions.more("outcomes")}>
            One more outcome
          </button>
        </form>
      </div>
      <section class="trial-told" aria-label="What the trial says">
        {answer.state === "failed" ? <FailedAnswer answer={answer} /> : null}
        {rows.rows.length === 0 ? (
          <NotYet
            form="effects"
            parts="Above: the effect of each arm with its interval. Dashed: the average of the file with them."
          >
            No arm has a number yet. From the first one on, this says what becomes of each row, and
            what the trial does to {hasFile ? "the averages of the file" : "a new file’s averages"}.
          </NotYet>
        ) : null}
        {told === undefined || answer.state !== "done" ? null : (
          <EntryTold entry={entry} rows={still} told={told} hasFile={hasFile} />
        )}
        <PutIn actions={actions} told={told} />
        {isBlankEntry(entry) && text === "" ? null : (
          <p class="quiet">
            What you type is kept on this machine until you add it or clear it.{" "}
            <button type="button" class="quiet-button" onClick={actions.clear}>
              Clear everything
            </button>
          </p>
        )}
      </section>
    </>
  );
};

/** A trial typed from a paper: numbers marked and placed by hand, checked by the reader, shown with what they change. */
export const addView: View = { id: "add", label: "Add a trial", needsFile: false, Body: AddBody };
