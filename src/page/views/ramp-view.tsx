import { useRef } from "preact/hooks";
import { rampFroms, rampWeeks } from "../../answers/ramp.js";
import type { Prescription } from "../../protocol/prescription.js";
import { writePrescription } from "../../protocol/write-prescription.js";
import { useChoice } from "../app.js";
import { AnswerView, Headline } from "../parts/answer-view.js";
import { OwnOptions, useOwn } from "../parts/asked.js";
import { NoAnswerYet } from "../parts/failed-answer.js";
import { useMoving } from "../parts/use-moving.js";
import { CautionsLine, CautionsPanel } from "./cautions-panel.js";
import { Choice } from "./choice.js";
import { NumberBox, useNumberChoice } from "./number-choice.js";
import { ProtocolControls } from "./protocols/protocol-controls.js";
import { SessionBlock } from "./protocols/session-block.js";
import { readProtocol } from "./protocols/read-protocol.js";
import { useOneProtocol } from "./protocols/use-protocol-texts.js";
import { WrittenProtocol } from "./protocols/written-protocol.js";
import { useDraft } from "./use-draft.js";
import type { View } from "./view.js";

const firstTarget = "4 × 20 s at 70%, rest 120 s, 3/week, long, knee";
const firstWeeks = "24";
const ownStart = "a session done now";
const firstStart = "2 × 10 s at 30%, middle";

const RampBody = () => {
  const [text, setText] = useOneProtocol("ramp-target", firstTarget);
  const weeks = useNumberChoice("ramp-weeks", firstWeeks, rampWeeks);
  const [from, setFrom] = useChoice("ramp-from", rampFroms[0]);
  const [startText, setStartText] = useDraft(from, setFrom);
  const isOwn = rampFroms.every((word) => word !== from);
  const start = readProtocol(startText);
  const own = useOwn("ramp");
  const read = readProtocol(text);
  const before = useRef<Prescription | undefined>(undefined);
  if (read.kind === "sound") before.current = read.prescription;
  const target = before.current;
  const moving = useMoving(
    target === undefined || weeks.value === undefined || (isOwn && start.kind !== "sound")
      ? []
      : [
          {
            place: "plan",
            id: "ramp",
            options: { ...own, protocol: writePrescription(target), from, weeks: weeks.value },
          },
          { place: "target", id: "hold", options: { protocol: writePrescription(target) } },
        ],
    "Working it out",
  );
  const { answer, failure } = moving.at("plan", "ramp");
  const sessions =
    answer?.data.weeks?.flatMap(({ prescription, long }) => [
      prescription,
      ...(long === undefined ? [] : [long.prescription]),
    ]) ?? (target === undefined ? [] : [target]);
  return (
    <div class="protocols">
      {answer === undefined ? (
        <NoAnswerYet failure={failure} again={moving.again} />
      ) : (
        <Headline answer={answer} />
      )}
      <section class="card" aria-labelledby="target-name">
        <h2 id="target-name">The protocol to work up to</h2>
        <WrittenProtocol id="target" read={read} onText={setText} takes />
        {target === undefined ? null : (
          <details>
            <summary>Can the protocol itself be held</summary>
            <SessionBlock name="" session={moving.at("target", "hold")} />
          </details>
        )}
        {target === undefined ? null : (
          <details>
            <summary>Change it by sliders</summary>
            <ProtocolControls
              protocols={[
                {
                  id: "target",
                  letter: "",
                  p: target,
                  onChange: (next) => setText(writePrescription(next)),
                },
              ]}
            />
          </details>
        )}
        <div class="wishes">
          <Choice
            label="Where the person is now"
            value={isOwn ? ownStart : from}
            words={[...rampFroms, ownStart]}
            onChange={(word) => setFrom(word === ownStart ? firstStart : word)}
          />
          <NumberBox label="Weeks until the protocol itself" choice={weeks} />
        </div>
        {isOwn ? (
          <WrittenProtocol
            id="start"
            label="The session done now, as you would write it"
            read={start}
            onText={setStartText}
          />
        ) : null}
        <OwnOptions id="ramp" except={["from", "weeks", "joint"]} />
      </section>
      <CautionsLine prescriptions={sessions} />
      <h2>The weeks</h2>
      {answer === undefined ? null : (
        <>
          <AnswerView answer={{ ...answer, cautions: null }} withHeadline={false} />
          <p class="quiet">
            The sheet has boxes to tick on the front and the cautions on the back.{" "}
            <button type="button" class="quiet-button" onClick={() => window.print()}>
              Print this screen
            </button>
          </p>
        </>
      )}
      <CautionsPanel prescriptions={sessions} />
    </div>
  );
};

/** Working up to a protocol, week by week, with a sheet to print. */
export const rampView: View = {
  id: "ramp",
  label: "Work up",
  needsFile: false,
  Body: RampBody,
};
