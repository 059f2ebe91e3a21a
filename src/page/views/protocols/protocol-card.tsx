import { shownDuration } from "../../../figures/shown-duration.js";
import type { Prescription } from "../../../protocol/prescription.js";
import {
  contractionsPerSession,
  sessionLengthSeconds,
  tensionTimePerSessionSeconds,
  torqueTimePerSession,
} from "../../../protocol/derived-quantities.js";
import { writePrescription } from "../../../protocol/write-prescription.js";
import { fieldWords } from "../../../protocol/written-reader.js";
import { holdAnswer, holdDoseTable } from "../../../tables/hold-table.js";
import { formatNumber } from "../../../tables/number-format.js";
import { TableView } from "../../parts/table-view.js";
import type { SessionShown } from "./compared-shown.js";
import { FitPanel } from "./fit-panel.js";
import { ProtocolSliders } from "./protocol-sliders.js";
import type { ReadProtocol } from "./read-protocol.js";
import { SessionPicture } from "./session-picture.js";
import { titledFor } from "./titled-for.js";
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

const Session = ({
  p,
  letter,
  session,
  secondsAcross,
}: Readonly<{
  p: Prescription;
  letter: string;
  session: SessionShown;
  secondsAcross: number;
}>) => {
  if (session.kind === "not judged")
    return (
      <p class="not-judged">
        Whether this can be held is not judged: it needs{" "}
        {session.needs.map((need) => fieldWords[need]).join(" and ")}.
      </p>
    );
  const { assessment, timeline } = session;
  const answer = holdAnswer(assessment);
  return (
    <>
      <p class="feasibility">
        <span class={gradeClass[assessment.grade]}>{assessment.grade}</span>{" "}
        {answer.slice(answer.indexOf(": ") + 2)}
      </p>
      <SessionPicture
        timeline={timeline}
        assessment={assessment}
        secondsAcross={secondsAcross}
        label={`The session to scale with the capacity that remains. ${answer}`}
      />
      <p class="key">
        <span class="swatch hold-block" /> holds, % of MVC <span class="swatch capacity" /> what is
        left, from people who tire sooner to later
      </p>
      <details>
        <summary>What the model says and does not know</summary>
        <ul>
          {assessment.statements.map(({ code, message }) => (
            <li key={code}>
              {message.charAt(0).toUpperCase()}
              {message.slice(1)}.
            </li>
          ))}
        </ul>
      </details>
      {assessment.maximal ? null : <FitPanel p={p} letter={letter} />}
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
  session: SessionShown | undefined;
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
          {session === undefined ? null : (
            <Session p={last} letter={letter} session={session} secondsAcross={secondsAcross} />
          )}
          <details>
            <summary>All that follows from it</summary>
            <TableView table={titledFor(letter, holdDoseTable(last))} />
          </details>
        </div>
      )}
    </section>
  );
};
