import { shownDuration } from "../../../tables/shown-duration.js";
import type { Prescription } from "../../../protocol/prescription.js";
import {
  contractionsPerSession,
  sessionLengthSeconds,
  tensionTimePerSessionSeconds,
  torqueTimePerSession,
} from "../../../protocol/derived-quantities.js";
import { writePrescription } from "../../../protocol/write-prescription.js";
import { formatNumber } from "../../../tables/number-format.js";
import { TableView } from "../../parts/table-view.js";
import { noteLines } from "../../../tables/note-lines.js";
import { List } from "../../parts/answer-view.js";
import type { Moved } from "../../parts/use-moving.js";
import { ProtocolSliders } from "./protocol-sliders.js";
import type { ReadProtocol } from "./read-protocol.js";
import { SessionPicture, timelineOf } from "./session-picture.js";
import { WrittenProtocol } from "./written-protocol.js";

const gradeClass = {
  comfortable: "grade",
  "near the limit": "grade near",
  "beyond what the model allows": "grade beyond",
} as const;

/** The quantities a coach compares first. */
const FirstQuantities = ({ p }: Readonly<{ p: Prescription }>) => {
  const length = sessionLengthSeconds(p);
  const work = torqueTimePerSession(p);
  const entries = [
    ["Session", length === undefined ? "not known" : shownDuration(length)],
    ["Holds", String(contractionsPerSession(p))],
    ["Tension time", shownDuration(tensionTimePerSessionSeconds(p))],
    ["Torque–time", work === undefined ? "not known" : `${formatNumber(work, { digits: 0 })} %·s`],
  ] as const;
  return (
    <dl class="quantities">
      {entries.map(([term, value]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
};

type Held = NonNullable<Moved<"hold">["answer"]>;

const Session = ({ held, secondsAcross }: Readonly<{ held: Held; secondsAcross: number }>) => {
  const { assessment, answer } = held.data;
  const tableOf = (start: string) => held.tables.find(({ id }) => id.startsWith(start));
  const [dose, fit] = [tableOf("dose"), tableOf("what-would-fit")];
  return (
    <>
      {assessment === null || answer === null ? (
        <p class="not-judged">{held.headline.slice(held.headline.indexOf(": ") + 2)}</p>
      ) : (
        <>
          <p class="feasibility">
            <span class={gradeClass[assessment.grade]}>{assessment.grade}</span>{" "}
            {answer.slice(answer.indexOf(": ") + 2)}
          </p>
          <SessionPicture
            timeline={timelineOf(held)}
            assessment={assessment}
            secondsAcross={secondsAcross}
            label={`The session to scale with the capacity that remains. ${answer}`}
          />
          <p class="key">
            <span class="swatch hold-block" /> holds, % of MVC <span class="swatch capacity" /> what
            is left, from people who tire sooner to later
          </p>
          <details>
            <summary>What the model says and does not know</summary>
            <List items={noteLines(assessment.statements)} />
          </details>
        </>
      )}
      {fit === undefined ? null : (
        <details>
          <summary>What would make it fit</summary>
          <TableView table={fit} />
        </details>
      )}
      {dose === undefined ? null : (
        <details>
          <summary>All that follows from it</summary>
          <TableView table={dose} />
        </details>
      )}
    </>
  );
};

/** One protocol: written, moved by sliders, drawn to scale, judged. */
export const ProtocolCard = ({
  letter,
  read,
  last,
  session,
  secondsAcross,
  onText,
  onRemove,
}: Readonly<{
  letter: string;
  read: ReadProtocol;
  /** The protocol read last, shown while the text cannot be read. */
  last: Prescription | undefined;
  session: Moved<"hold"> | undefined;
  secondsAcross: number;
  onText: (text: string) => void;
  onRemove: (() => void) | undefined;
}>) => {
  const id = `protocol-${letter.toLowerCase()}`;
  return (
    <section class="card" aria-labelledby={`${id}-name`}>
      <div class="card-top">
        <h2 id={`${id}-name`}>Protocol {letter}</h2>
        {onRemove === undefined ? null : (
          <button type="button" class="quiet-button" onClick={onRemove}>
            Remove<span class="unseen"> protocol {letter}</span>
          </button>
        )}
      </div>
      <WrittenProtocol id={id} read={read} onText={onText} />
      {last === undefined ? null : (
        <div class={read.kind === "unreadable" ? "stale" : ""}>
          {read.kind === "unreadable" ? (
            <p class="quiet">Below is the protocol as it could last be read.</p>
          ) : null}
          <ProtocolSliders id={id} p={last} onChange={(next) => onText(writePrescription(next))} />
          <FirstQuantities p={last} />
          {session?.answer === undefined ? null : (
            <Session held={session.answer} secondsAcross={secondsAcross} />
          )}
          {session?.failure === undefined ? null : <p class="refusal">{session.failure.message}</p>}
        </div>
      )}
    </section>
  );
};
