import { useRef } from "preact/hooks";
import type { Prescription } from "../../protocol/prescription.js";
import { writePrescription } from "../../protocol/write-prescription.js";
import { Headline } from "../parts/answer-view.js";
import { NoAnswerYet } from "../parts/failed-answer.js";
import { useMoving } from "../parts/use-moving.js";
import { CautionsLine, CautionsPanel } from "./cautions-panel.js";
import { ProtocolControls } from "./protocols/protocol-controls.js";
import { readProtocol } from "./protocols/read-protocol.js";
import { SessionBlock } from "./protocols/session-block.js";
import { useOneProtocol } from "./protocols/use-protocol-texts.js";
import { WrittenProtocol } from "./protocols/written-protocol.js";
import type { View } from "./view.js";

const firstSession = "4 × 20 s at 70%, rest 60 s, middle, knee";

const HoldBody = () => {
  const [text, setText] = useOneProtocol("hold-session", firstSession);
  const read = readProtocol(text);
  const before = useRef<Prescription | undefined>(undefined);
  if (read.kind === "sound") before.current = read.prescription;
  const p = before.current;
  const moving = useMoving(
    p === undefined
      ? []
      : [{ place: "session", id: "hold", options: { protocol: writePrescription(p) } }],
    "Working it out",
  );
  const session = moving.at("session", "hold");
  return (
    <div class="protocols">
      <div class="call">
        {session.answer !== undefined ? (
          <Headline answer={session.answer} />
        ) : (
          <NoAnswerYet failure={session.failure} again={moving.again} />
        )}
      </div>
      <div class="side-by-side">
        <section aria-label="The session" class="written-and-controls">
          <WrittenProtocol id="session" read={read} onText={setText} takes />
          {p === undefined ? null : (
            <ProtocolControls
              protocols={[
                {
                  id: "session",
                  letter: "",
                  p,
                  onChange: (next) => setText(writePrescription(next)),
                },
              ]}
            />
          )}
        </section>
        <div>
          <SessionBlock name="" session={session} isHeadline />
          <CautionsLine prescriptions={p === undefined ? [] : [p]} />
        </div>
      </div>
      <CautionsPanel prescriptions={p === undefined ? [] : [p]} />
    </div>
  );
};

/** Whether one session can be held to its end, without any file. */
export const holdView: View = {
  id: "hold",
  label: "Can it be held",
  needsFile: false,
  Body: HoldBody,
};
