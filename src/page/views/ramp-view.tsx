import { useMemo, useRef } from "preact/hooks";
import { CallError } from "../../errors.js";
import { rampFigure } from "../../figures/ramp-figure.js";
import { mostRampWeeks } from "../../projection/ramp-options.js";
import { rampPlan, type RampPlan } from "../../projection/ramp-plan.js";
import type { RampRefusal } from "../../projection/ramp-refusal.js";
import { rampFroms, type RampFrom } from "../../projection/ramp-start.js";
import { sorenessNotes } from "../../projection/soreness.js";
import type { Prescription } from "../../protocol/prescription.js";
import { writePrescription } from "../../protocol/write-prescription.js";
import { rampSheet } from "../../report/ramp-sheet.js";
import { rampAnswer, rampRefusalTable, rampTable } from "../../tables/ramp-table.js";
import { useChoice } from "../app.js";
import { FigureView } from "../parts/figure-view.js";
import { TableView } from "../parts/table-view.js";
import { saveFile } from "../save-file.js";
import { CautionsLine, CautionsPanel } from "./cautions-panel.js";
import { Choice } from "./choice.js";
import { ProtocolSliders } from "./protocols/protocol-sliders.js";
import { readProtocol } from "./protocols/read-protocol.js";
import { SorenessSection } from "./protocols/soreness-section.js";
import { WrittenProtocol } from "./protocols/written-protocol.js";
import { useDraft } from "./use-draft.js";
import { useOneOf } from "./use-one-of.js";
import type { View } from "./view.js";

const firstTarget = "4 × 30 s at 70 %, rest 120 s, 3/week, long, knee";
const firstWeeks = "10";

/** Weeks as typed; undefined where they are no whole number in reach. */
const weeksOf = (text: string): number | undefined => {
  const weeks = Number(text);
  return Number.isInteger(weeks) && weeks >= 1 && weeks <= mostRampWeeks ? weeks : undefined;
};

const planOf = (
  target: Prescription,
  from: RampFrom,
  weeks: number,
): RampPlan | RampRefusal | string => {
  try {
    return rampPlan(target, { from, weeks });
  } catch (error) {
    if (error instanceof CallError) return error.message;
    throw error;
  }
};

const Plan = ({ plan }: Readonly<{ plan: RampPlan }>) => {
  const figure = useMemo(() => rampFigure(plan), [plan]);
  return (
    <>
      <p>
        <strong>{rampAnswer(plan)}</strong>
      </p>
      <div class="row">
        <button
          type="button"
          class="main"
          onClick={() => saveFile("working-up.html", rampSheet(plan), "text/html")}
        >
          Save the sheet to print
        </button>
        <button type="button" onClick={() => window.print()}>
          Print this screen
        </button>
        <span class="quiet">
          The sheet has boxes to tick on the front and the cautions on the back.
        </span>
      </div>
      <TableView table={rampTable(plan)} />
      <FigureView figure={figure} />
    </>
  );
};

const Answer = ({ answer }: Readonly<{ answer: RampPlan | RampRefusal | string }>) => {
  if (typeof answer === "string") return <p class="refusal">{answer}</p>;
  if (answer.kind === "plan") return <Plan plan={answer} />;
  return (
    <>
      <p class="result-refusal">
        <strong>No plan, and that is the answer.</strong> {rampAnswer(answer)}
      </p>
      <TableView table={rampRefusalTable(answer)} />
    </>
  );
};

const RampBody = () => {
  const [keptText, keepText] = useChoice("ramp-target", firstTarget);
  const [text, setText] = useDraft(keptText, keepText);
  const [keptWeeks, keepWeeks] = useChoice("ramp-weeks", firstWeeks);
  const [weeksText, setWeeks] = useDraft(keptWeeks, keepWeeks);
  const [from, setFrom] = useOneOf("ramp-from", rampFroms, "deconditioned");
  const read = readProtocol(text);
  const before = useRef<Prescription | undefined>(undefined);
  if (read.kind === "sound") before.current = read.prescription;
  const target = before.current;
  const weeks = weeksOf(weeksText);
  const key = JSON.stringify([target, from, weeks]);
  const answer = useMemo(
    () => (target === undefined || weeks === undefined ? undefined : planOf(target, from, weeks)),
    [key],
  );
  const prescriptions =
    answer !== undefined && typeof answer !== "string" && answer.kind === "plan"
      ? answer.weeks.map(({ prescription }) => prescription)
      : target === undefined
        ? []
        : [target];
  return (
    <div class="protocols">
      <p class="lead">
        From where a person is to a protocol, one change a week at most: middle length and moderate
        effort first, long muscle length and near-maximal effort last. Every week is checked against
        endurance.
      </p>
      <CautionsLine />
      <section class="card" aria-labelledby="target-name">
        <h2 id="target-name">The protocol to work up to</h2>
        <WrittenProtocol id="target" read={read} onText={setText} />
        {target === undefined ? null : (
          <details>
            <summary>Change it by sliders</summary>
            <ProtocolSliders
              id="target"
              p={target}
              onChange={(next) => setText(writePrescription(next))}
            />
          </details>
        )}
        <div class="wishes">
          <Choice
            label="Where the person is now"
            value={from}
            words={rampFroms}
            onChange={setFrom}
          />
          <label class="wish">
            <span>Weeks until the protocol itself</span>
            <input
              type="number"
              min={1}
              max={mostRampWeeks}
              value={weeksText}
              aria-invalid={weeks === undefined}
              onInput={(event) => setWeeks(event.currentTarget.value)}
            />
          </label>
        </div>
        {weeks === undefined ? (
          <p class="refusal">Weeks are a whole number from 1 to {mostRampWeeks}.</p>
        ) : null}
      </section>
      <h2>The weeks</h2>
      {answer === undefined ? null : <Answer answer={answer} />}
      {target === undefined ? null : (
        <SorenessSection protocols={[{ name: "At the target", notes: sorenessNotes(target) }]} />
      )}
      <CautionsPanel prescriptions={prescriptions} />
    </div>
  );
};

/** Working up to a protocol, week by week, with a sheet to print. */
export const rampView: View = {
  id: "ramp",
  label: "Working up",
  needsFile: false,
  Body: RampBody,
};
