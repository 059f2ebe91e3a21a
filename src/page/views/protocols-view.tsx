import { useMemo, useRef } from "preact/hooks";
import { comparedProtocols } from "../../projection/compare-protocols.js";
import { sorenessNotes } from "../../projection/soreness.js";
import type { Prescription } from "../../protocol/prescription.js";
import { comparisonWords } from "../recipe-words.js";
import { CautionsLine, CautionsPanel } from "./cautions-panel.js";
import { comparedShown } from "./protocols/compared-shown.js";
import { ComparisonSection } from "./protocols/comparison-section.js";
import { Kept } from "./kept.js";
import { ComparisonToKeep } from "./protocols/comparison-to-keep.js";
import { linearScale } from "./protocols/linear-scale.js";
import { PreparedNotes } from "./protocols/prepared-notes.js";
import { ProjectionBlock } from "./protocols/projection-block.js";
import { ProtocolCard } from "./protocols/protocol-card.js";
import { readProtocol, type ReadProtocol } from "./protocols/read-protocol.js";
import { SorenessSection } from "./protocols/soreness-section.js";
import { usePreparedProjection } from "./protocols/use-prepared-projection.js";
import { useProjectionWishes } from "./protocols/use-projection-wishes.js";
import { protocolLetters, useProtocolTexts } from "./protocols/use-protocol-texts.js";
import { ComparisonForm, GoalForm } from "./protocols/wishes-form.js";
import type { View } from "./view.js";

/** The protocols as read, and each as it could last be read. */
const useRead = (
  texts: readonly string[],
): readonly Readonly<{ read: ReadProtocol; last: Prescription | undefined }>[] => {
  const before = useRef<readonly (Prescription | undefined)[]>([]);
  const shown = texts.map((text, place) => {
    const read = readProtocol(text);
    return { read, last: read.kind === "sound" ? read.prescription : before.current[place] };
  });
  before.current = shown.map(({ last }) => last);
  return shown;
};

const ProtocolsBody = () => {
  const [texts, setTexts] = useProtocolTexts();
  const wishes = useProjectionWishes();
  const shown = useRead(texts);
  const goal = wishes.goal[0];
  const { prepared, failure } = usePreparedProjection({ goal, contrast: wishes.contrast[0] });
  const protocols = shown.flatMap(({ last }, place) =>
    last === undefined ? [] : [{ name: protocolLetters[place] ?? "", prescription: last }],
  );
  const people = wishes.people[0];
  const options = {
    smallestWorthwhilePercent: wishes.worthwhile.percent,
    ...(people === "as in the table" ? {} : { trainingStatus: people }),
    ...(wishes.equal[0] === "nothing"
      ? {}
      : { equalise: { quantity: wishes.equal[0], adjust: wishes.adjust[0] } }),
  };
  const key = JSON.stringify([protocols, options]);
  const words = comparisonWords(
    protocols.map(({ prescription }) => prescription),
    { goal, contrast: wishes.contrast[0], ...options },
  );
  const { sessions, projections, comparison } = useMemo(
    () => comparedShown(prepared, protocols, options),
    [prepared, key],
  );
  const projected = projections?.flatMap((one) => (one.kind === "projection" ? [one] : [])) ?? [];
  const scale = linearScale(
    projected.flatMap(({ ranges }) =>
      Object.values(ranges).flatMap(({ percent }) => [percent.low, percent.high]),
    ),
    5,
  );
  const courseScale = linearScale(
    projected.flatMap(({ course }) =>
      course.flatMap(({ person }) => [person.percent.low, person.percent.high]),
    ),
    4,
  );
  const weeksAcross = Math.max(1, ...projected.map(({ weeks }) => weeks));
  const secondsAcross = Math.max(
    1,
    ...sessions.map((one) => (one.kind === "judged" ? (one.timeline.at(-1)?.endSeconds ?? 1) : 1)),
  );
  const prescriptions = protocols.map(({ prescription }) => prescription);
  // Cards that are kept as they are call what is current, not what was when they were drawn.
  const current = useRef({ texts, setTexts });
  current.current = { texts, setTexts };
  const change = (place: number, text: string): void => {
    const { texts: now, setTexts: set } = current.current;
    set(now.map((old, at) => (at === place ? text : old)));
  };
  const remove = (place: number): void => {
    const { texts: now, setTexts: set } = current.current;
    set(now.filter((_, at) => at !== place));
  };
  let judged = -1;
  return (
    <div class="protocols">
      <p class="lead">
        Write two protocols, or move their sliders. You see whether each can be held, what trials in
        the open table let expect of it, and whether one is really better.
      </p>
      <CautionsLine />
      <div class="cards">
        {shown.map(({ read, last }, place) => {
          if (last !== undefined) judged += 1;
          const session = last === undefined ? undefined : sessions[judged];
          const removable = texts.length > comparedProtocols.fewest;
          return (
            <Kept
              key={place}
              of={[read.text, session, secondsAcross, removable]}
              draw={() => (
                <ProtocolCard
                  letter={protocolLetters[place] ?? ""}
                  read={read}
                  last={last}
                  session={session}
                  secondsAcross={secondsAcross}
                  onText={(text) => change(place, text)}
                  onRemove={removable ? () => remove(place) : undefined}
                />
              )}
            />
          );
        })}
      </div>
      {texts.length < comparedProtocols.most ? (
        <p>
          <button type="button" onClick={() => setTexts([...texts, texts.at(-1) ?? ""])}>
            Add a protocol
          </button>
        </p>
      ) : null}
      <h2>Which gives more?</h2>
      <GoalForm wishes={wishes} />
      <ComparisonForm wishes={wishes} />
      {failure === undefined ? null : (
        <p class="refusal" role="alert">
          {failure.kind === "cancelled"
            ? "Learning from the table was cancelled; choose another goal or come back to this view to begin again."
            : failure.message}
        </p>
      )}
      <ComparisonSection
        comparison={comparison}
        waiting={prepared === undefined && failure === undefined}
      />
      <h2>What to expect of each</h2>
      <p class="quiet">
        Three ranges, never one number: the average over such studies, a new group like them, and a
        single person in such a group. They describe people like those studied, and are no forecast
        for anyone.
      </p>
      <div class="projections">
        {protocols.map(({ name }, place) => {
          const one = projections?.[place];
          return one === undefined ? null : (
            <Kept
              key={name}
              of={[one, scale.low, scale.high, courseScale.low, courseScale.high, weeksAcross]}
              draw={() => (
                <ProjectionBlock
                  letter={name}
                  shown={one}
                  scale={scale}
                  courseScale={courseScale}
                  weeksAcross={weeksAcross}
                />
              )}
            />
          );
        })}
      </div>
      {prepared === undefined ? null : (
        <Kept of={[prepared]} draw={() => <PreparedNotes prepared={prepared} />} />
      )}
      {prepared?.kind === "ready" && comparison?.kind === "comparison" ? (
        <ComparisonToKeep comparison={comparison} prepared={prepared} words={words} />
      ) : null}
      <SorenessSection
        protocols={protocols.map(({ name, prescription }) => ({
          name,
          notes: sorenessNotes(prescription),
        }))}
      />
      <CautionsPanel prescriptions={prescriptions} />
    </div>
  );
};

/** Two to six protocols: whether they can be held, what to expect, and which gives more. */
export const protocolsView: View = {
  id: "protocols",
  label: "Protocols",
  needsFile: true,
  door: {
    person: "For practitioners",
    title: "Compare two protocols",
    sentence: "Can it be held, what to expect, and is one really better?",
  },
  Body: ProtocolsBody,
};
