/** Two to six written protocols asked about together: held, projected, compared. */
import { useRef } from "preact/hooks";
import { madeEqual } from "../../../answers/made-equal.js";
import type { AnswerTo } from "../../../answers/question.js";
import type { QuestionOf } from "../../../answers/question-list.js";
import type { Prescription } from "../../../protocol/prescription.js";
import { writePrescription } from "../../../protocol/write-prescription.js";
import { grouped } from "../../../records/grouped.js";
import type { Failure } from "../../failure.js";
import { useOwn } from "../../parts/asked.js";
import { useMoving, type Moved } from "../../parts/use-moving.js";
import { linearScale, type LinearScale } from "./linear-scale.js";
import { readProtocol, type ReadProtocol } from "./read-protocol.js";
import { timelineOf } from "./session-picture.js";
import { protocolLetters } from "./use-protocol-texts.js";

/** Fewer cannot be compared. */
export const fewestProtocols = 2;

type Projected = AnswerTo<QuestionOf<"project">>;

/** One protocol as typed, as it could last be read, and what was answered of it. */
export type ComparedProtocol = Readonly<{
  letter: string;
  read: ReadProtocol;
  /** Shown while the text cannot be read. */
  last: Prescription | undefined;
  session: Moved<"hold">;
  projected: Projected | undefined;
}>;

export type Compared = Readonly<{
  protocols: readonly ComparedProtocol[];
  compared: Moved<"compare">;
  /** Why nothing is projected or compared, where a question failed. */
  failure: Failure | undefined;
  again: () => void;
  /** The average of the whole file in place of one for each protocol. */
  isShared: boolean;
  /** Protocols with one projection: each by itself, or all that last as long where the average is shared. */
  projectedAs: readonly (readonly ComparedProtocol[])[];
  /** For ranges of gain, and for their course over weeks. */
  scale: LinearScale;
  courseScale: LinearScale;
  weeksAcross: number;
  secondsAcross: number;
}>;

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

/** Asks of every protocol whether it can be held and what to expect, and of all which gives more. */
export const useCompared = (texts: readonly string[]): Compared => {
  const own = useOwn("compare");
  const { equal: _equal, adjust: _adjust, ...ofEach } = own;
  const shown = useRead(texts);
  const sound = shown.flatMap(({ last }, place) =>
    last === undefined ? [] : [{ name: protocolLetters[place] ?? "", typed: last }],
  );
  // Drawn as they are compared: a picture of what was typed would contradict the call above it.
  const equal = madeEqual(
    sound.map(({ typed }) => typed),
    own,
  );
  const asked = sound.map(({ name }, place) => ({
    name,
    protocol: writePrescription(equal[place]!),
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
                ...own,
                protocols: sound
                  .map(({ name, typed }) => `${name}: ${writePrescription(typed)}`)
                  .join("\n"),
              },
            },
          ]),
    ],
    "Learning from the file",
  );
  const projections = shown.map(({ last }, place): Moved<"project"> =>
    last === undefined ? {} : moving.at(`project ${protocolLetters[place] ?? ""}`, "project"),
  );
  const protocols = shown.map(({ read, last }, place): ComparedProtocol => {
    const letter = protocolLetters[place] ?? "";
    const session = last === undefined ? {} : moving.at(`hold ${letter}`, "hold");
    return { letter, read, last, session, projected: projections[place]?.answer };
  });
  const compared = moving.at("compare", "compare");
  const projected = protocols.flatMap((one) => one.projected?.data.answer ?? []);
  const isShared = projected.length > 0 && projected.every(({ parts }) => !parts.ofProtocol);
  return {
    protocols,
    compared,
    projectedAs: [
      ...grouped(protocols, ({ letter, projected: one }) =>
        isShared ? String(one?.data.answer?.weeks ?? "") : letter,
      ).values(),
    ],
    failure: projections.find(({ failure }) => failure !== undefined)?.failure ?? compared.failure,
    again: moving.again,
    isShared,
    scale: linearScale(
      projected.flatMap(({ ranges }) =>
        Object.values(ranges).flatMap(({ percent }) => [percent.low, percent.high]),
      ),
      5,
    ),
    courseScale: linearScale(
      projected.flatMap(({ course }) =>
        course.flatMap(({ person }) => [person.percent.low, person.percent.high]),
      ),
      4,
    ),
    weeksAcross: Math.max(1, ...projected.map(({ weeks }) => weeks)),
    secondsAcross: Math.max(
      1,
      ...protocols.map(({ session }) => timelineOf(session.answer).at(-1)?.endSeconds ?? 1),
    ),
  };
};
