import { useRef } from "preact/hooks";
import { sorenessOf } from "../../answers/session.js";
import type { Prescription } from "../../protocol/prescription.js";
import { writePrescription } from "../../protocol/write-prescription.js";
import { OwnOptions, useOwn, WhatIsAsked } from "../parts/asked.js";
import { FailedAnswer } from "../parts/failed-answer.js";
import { TableView } from "../parts/table-view.js";
import { useMoving } from "../parts/use-moving.js";
import { CautionsLine, CautionsPanel } from "./cautions-panel.js";
import { Kept } from "./kept.js";
import { ComparisonSection } from "./protocols/comparison-section.js";
import { ComparisonToKeep } from "./protocols/comparison-to-keep.js";
import { linearScale } from "./protocols/linear-scale.js";
import { ProjectionBlock } from "./protocols/projection-block.js";
import { ProtocolCard } from "./protocols/protocol-card.js";
import { readProtocol, type ReadProtocol } from "./protocols/read-protocol.js";
import { timelineOf } from "./protocols/session-picture.js";
import { protocolLetters, useProtocolTexts } from "./protocols/use-protocol-texts.js";
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

/** Fewer cannot be compared. */
const fewestProtocols = 2;

const ProtocolsBody = () => {
  const [texts, setTexts] = useProtocolTexts();
  const { equal, adjust, ...ofEach } = useOwn("compare");
  const shown = useRead(texts);
  const protocols = shown.flatMap(({ last }, place) =>
    last === undefined ? [] : [{ name: protocolLetters[place] ?? "", prescription: last }],
  );
  const asked = protocols.map(({ name, prescription }) => ({
    name,
    protocol: writePrescription(prescription),
  }));
  const joint = ofEach["joint"] === undefined ? {} : { joint: ofEach["joint"] };
  const moving = useMoving(
    [
      ...asked.map((one) => ({
        place: `hold ${one.name}`,
        id: "hold" as const,
        options: { ...one, ...joint },
      })),
      ...asked.map((one) => ({
        place: `project ${one.name}`,
        id: "project" as const,
        options: { ...ofEach, ...one },
      })),
      ...(asked.length < fewestProtocols
        ? []
        : [
            {
              place: "compare",
              id: "compare" as const,
              options: {
                ...ofEach,
                ...(equal === undefined ? {} : { equal }),
                ...(adjust === undefined ? {} : { adjust }),
                protocols: asked.map(({ name, protocol }) => `${name}: ${protocol}`).join("\n"),
              },
            },
          ]),
    ],
    "Learning from the file",
  );
  const held = new Map(asked.map(({ name }) => [name, moving.at(`hold ${name}`, "hold")]));
  const projected = asked.map(({ name }) => ({ name, ...moving.at(`project ${name}`, "project") }));
  const compared = moving.at("compare", "compare");
  const projections = projected.flatMap(({ answer }) => answer?.data.answer ?? []);
  // One average of the whole file is drawn once, not once for each protocol.
  const isShared = projections.length > 0 && projections.every(({ parts }) => !parts.ofProtocol);
  const scale = linearScale(
    projections.flatMap(({ ranges }) =>
      Object.values(ranges).flatMap(({ percent }) => [percent.low, percent.high]),
    ),
    5,
  );
  const courseScale = linearScale(
    projections.flatMap(({ course }) =>
      course.flatMap(({ person }) => [person.percent.low, person.percent.high]),
    ),
    4,
  );
  const weeksAcross = Math.max(1, ...projections.map(({ weeks }) => weeks));
  const secondsAcross = Math.max(
    1,
    ...[...held.values()].map(({ answer }) => timelineOf(answer).at(-1)?.endSeconds ?? 1),
  );
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
  const failure = projected.find((one) => one.failure !== undefined)?.failure ?? compared.failure;
  return (
    <div class="protocols">
      <p class="lead">
        Write two protocols, or move their sliders. You see whether each can be held, what gain the
        trials in the file suggest, and whether one is really better.
      </p>
      <CautionsLine />
      <div class="cards">
        {shown.map(({ read, last }, place) => {
          const letter = protocolLetters[place] ?? "";
          const session = last === undefined ? undefined : held.get(letter);
          const removable = texts.length > fewestProtocols;
          return (
            <Kept
              key={place}
              of={[read.text, session?.answer, session?.failure, secondsAcross, removable]}
              draw={() => (
                <ProtocolCard
                  letter={letter}
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
      {texts.length < protocolLetters.length ? (
        <p>
          <button type="button" onClick={() => setTexts([...texts, texts.at(-1) ?? ""])}>
            Add a protocol
          </button>
        </p>
      ) : null}
      <h2>Which gives more?</h2>
      <OwnOptions id="compare" except={["protocol", "protocols"]} />
      <WhatIsAsked />
      {failure === undefined ? null : (
        <FailedAnswer answer={{ state: "failed", failure, again: moving.again }} />
      )}
      <ComparisonSection answer={compared.answer} waiting={compared.failure === undefined} />
      <h2>{isShared ? "What trials of this file gave" : "What to expect of each"}</h2>
      <p class="quiet">
        Three ranges, never one number: the average over such studies, a new group like them, and a
        single person in such a group. They describe people like those studied, and are no forecast
        for anyone.
      </p>
      <div class="projections">
        {(isShared ? projected.slice(0, 1) : projected).map(({ name, answer }) =>
          answer === undefined ? null : (
            <Kept
              key={name}
              of={[answer, scale.low, scale.high, courseScale.low, courseScale.high, weeksAcross]}
              draw={() => (
                <ProjectionBlock
                  letter={name}
                  answer={answer}
                  scale={scale}
                  courseScale={courseScale}
                  weeksAcross={weeksAcross}
                />
              )}
            />
          ),
        )}
      </div>
      {compared.answer === undefined ? null : <ComparisonToKeep answer={compared.answer} />}
      <TableView table={sorenessOf(protocols)} />
      <CautionsPanel prescriptions={protocols.map(({ prescription }) => prescription)} />
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
