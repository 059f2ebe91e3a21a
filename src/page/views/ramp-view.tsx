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
import { rampSheet } from "../../answers/ramp-sheet.js";
import { rampAnswer, rampRefusalTable, rampTable } from "../../tables/ramp-table.js";
import { useChoice } from "../app.js";
import { FigureView } from "../parts/figure-view.js";
import { TableView } from "../parts/table-view.js";
import { saveFile } from "../save-file.js";
import { rampWords, type RecipeWords } from "../recipe-words.js";
import { CautionsLine, CautionsPanel } from "./cautions-panel.js";
import { Choice } from "./choice.js";
import { NumberBox, useNumberChoice } from "./number-choice.js";
import { ProtocolSliders } from "./protocols/protocol-sliders.js";
import { readProtocol } from "./protocols/read-protocol.js";
import { SorenessSection } from "./protocols/soreness-section.js";
import { WrittenProtocol } from "./protocols/written-protocol.js";
import { useDraft } from "./use-draft.js";
import { useOneOf } from "./use-one-of.js";
import type { View } from "./view.js";

const firstTarget = "4 × 30 s at 70 %, rest 120 s, 3/week, long, knee";
const firstWeeks = "10";

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

const Plan = ({ plan, words }: Readonly<{ plan: RampPlan; words: RecipeWords }>) => {
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
      <FigureView figure={figure} words={words} />
    </>
  );
};

const Answer = ({
  answer,
  words,
}: Readonly<{ answer: RampPlan | RampRefusal | string; words: RecipeWords }>) => {
  if (typeof answer === "string") return <p class="refusal">{answer}</p>;
  if (answer.kind === "plan") return <Plan plan={answer} words={words} />;
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
  const wanted = useNumberChoice("ramp-weeks", firstWeeks, { low: 1, high: mostRampWeeks });
  const [from, setFrom] = useOneOf("ramp-from", rampFroms, "deconditioned");
  const read = readProtocol(text);
  const before = useRef<Prescription | undefined>(undefined);
  if (read.kind === "sound") before.current = read.prescription;
  const target = before.current;
  const weeks = wanted.value;
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
          <NumberBox label="Weeks until the protocol itself" choice={wanted} />
        </div>
      </section>
      <h2>The weeks</h2>
      {answer === undefined || target === undefined || weeks === undefined ? null : (
        <Answer answer={answer} words={rampWords(target, from, weeks)} />
      )}
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
