import { useRef, useState } from "preact/hooks";
import type { Prescription } from "../../protocol/prescription.js";
import { writePrescription } from "../../protocol/write-prescription.js";
import { AnswerView, DoubtsAndCautions } from "../parts/answer-view.js";
import { useOwn, OwnOptions } from "../parts/asked.js";
import { NoAnswerYet } from "../parts/failed-answer.js";
import { NotYet } from "../parts/not-yet.js";
import { FileButton } from "../parts/open-panel.js";
import { useMoving } from "../parts/use-moving.js";
import { readProtocol } from "./protocols/read-protocol.js";
import { SessionBlock } from "./protocols/session-block.js";
import { useOneProtocol, type ProtocolFrom } from "./protocols/use-protocol-texts.js";
import { WrittenProtocol } from "./protocols/written-protocol.js";
import { useRested } from "./use-rested.js";
import type { View } from "./view.js";

const protocolField = "followed";
const firstProtocol = "4 × 10 s at 70%, rest 60 s, 3/week, 8 weeks, knee, 90°";

const header = "date,test,value,unit,notes\n";
const example = `${header}${[
  "2026-01-05,knee extension,181",
  "2026-01-08,knee extension,184",
  "2026-02-02,knee extension,199",
  "2026-03-02,knee extension,224",
]
  .map((line) => `${line},N·m,invented`)
  .join("\n")}\n`;

const LogInput = ({ log, onLog }: Readonly<{ log: string; onLog: (text: string) => void }>) => (
  <section class="card" aria-labelledby="log-name">
    <h2 id="log-name">The log</h2>
    <p class="quiet" id="log-form">
      One test a line: date (year first), test, value, unit; several trials on a day are welcome. It
      stays on this screen: nothing of it is kept.
    </p>
    <textarea
      class="file-text"
      aria-label="The client's log"
      aria-describedby="log-form"
      rows={8}
      spellcheck={false}
      value={log}
      onInput={(event) => onLog(event.currentTarget.value)}
    />
    <div class="row">
      <FileButton
        words="Open a log"
        label="A client's log"
        accept=".csv,.tsv,.txt,text/csv"
        take={async (file) => onLog(await file.text())}
      />{" "}
      <button type="button" class="quiet-button" onClick={() => onLog(example)}>
        An invented example
      </button>{" "}
      <button type="button" class="quiet-button" onClick={() => onLog(header)}>
        A blank log
      </button>
    </div>
  </section>
);

/** Why the protocol that is taken is that one, where nobody wrote it here. */
const takenAs: Readonly<Record<Exclude<ProtocolFrom, "own">, string>> = {
  comparison: "protocol A of the comparison, since none was written here",
  "last session": "the session asked about last, since none was written here",
  example: "an example, since no protocol was written yet",
};

/** Which protocol stands behind the numbers, and a way to change it. */
const Taken = ({ text, from }: Readonly<{ text: string; from: ProtocolFrom }>) =>
  from === "own" ? null : (
    <p class="taken">
      The protocol taken is {takenAs[from]}: {text}.{" "}
      <button
        type="button"
        class="quiet-button"
        onClick={() => document.getElementById(protocolField)?.focus()}
      >
        Change it to what the client did
      </button>
    </p>
  );

const FollowBody = () => {
  // In this screen's memory alone: neither the address nor a project holds a client's tests.
  const [log, setLog] = useState("");
  const rested = useRested(log);
  const [text, setText, from] = useOneProtocol("follow-protocol", firstProtocol);
  const read = readProtocol(text);
  const before = useRef<Prescription | undefined>(undefined);
  if (read.kind === "sound") before.current = read.prescription;
  const p = before.current;
  const { protocol: _typed, ...own } = useOwn("follow");
  const hasTests = rested.trim().split("\n").length > 1;
  const moving = useMoving(
    p === undefined
      ? []
      : [
          ...(hasTests
            ? ([
                {
                  place: "client",
                  id: "follow",
                  options: { ...own, log: rested, protocol: writePrescription(p) },
                },
              ] as const)
            : []),
          { place: "session", id: "hold", options: { protocol: writePrescription(p) } },
        ],
    "Following the client",
  );
  const { answer, failure } = moving.at("client", "follow");
  const taken = <Taken text={text} from={from} />;
  const asked = (
    <>
      <LogInput log={log} onLog={setLog} />
      <section class="card" aria-labelledby="followed-name">
        <h2 id="followed-name">The protocol</h2>
        {hasTests ? null : taken}
        <WrittenProtocol id={protocolField} read={read} onText={setText} takes />
        {p === undefined ? null : (
          <details>
            <summary>Can this session be held</summary>
            <SessionBlock name="" session={moving.at("session", "hold")} />
          </details>
        )}
        <OwnOptions id="follow" except={["log", "protocol"]} />
      </section>
    </>
  );
  if (!hasTests)
    return (
      <div class="protocols">
        <NotYet
          form="tests"
          parts="Dots: the tests. Band: the error of the test. Dashed: what trials of the open file gave for this protocol."
        >
          Two tests of one client on different days say whether a change is more than the error of
          the test. None is here yet.
        </NotYet>
        {asked}
      </div>
    );
  return (
    <div class="protocols">
      {answer === undefined ? (
        <NoAnswerYet failure={failure} again={moving.again} />
      ) : (
        <AnswerView answer={{ ...answer, notes: [], cautions: null }}>{taken}</AnswerView>
      )}
      {asked}
      {answer === undefined ? null : <DoubtsAndCautions answer={answer} />}
    </div>
  );
};

/** Whether one client's change is real, against the error of the test and what the open file projects. */
export const followView: View = {
  id: "follow",
  label: "Is it real",
  needsFile: true,
  shows:
    "Whether one client’s change is more than the error of the test, and what trials of the file gave.",
  Body: FollowBody,
};
