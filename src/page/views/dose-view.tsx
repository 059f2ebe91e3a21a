import { useState } from "preact/hooks";
import { evaluateCurve } from "../../dose/averaged-curve.js";
import type { CurveUse } from "../../dose/curve-design.js";
import { doseAxes, doseAxisNames, type DoseAxisName } from "../../dose/dose-axes.js";
import type { EffectScale } from "../../effects/effect.js";
import { scaleDisplay, shownEstimate, shownInterval } from "../../tables/scale-display.js";
import { shownDose } from "../../tables/shown-dose.js";
import { useAnswer, useApp, useAppState } from "../app.js";
import type { DoseShown, ReadableCurve } from "../jobs/dose-job.js";
import { FigureView } from "../parts/figure-view.js";
import { TableView } from "../parts/table-view.js";
import { ScaleChoice, useScale } from "../parts/scale-choice.js";
import { doseWords, type RecipeWords } from "../recipe-words.js";
import { Choice } from "./choice.js";
import { familyWords } from "./family-words.js";
import { projectedContrastLabel, projectedContrasts } from "./protocols/use-projection-wishes.js";
import { useOneOf } from "./use-one-of.js";
import type { View } from "./view.js";

const comparisonsWords = [
  "best identified",
  "within studies",
  "between studies only",
  "within and between together",
] as const satisfies readonly (CurveUse | "best identified")[];

/** Steps of the slider that reads the curve. */
const readSteps = 200;

/** The curve read at any dose, without refitting anything. */
const ReadAt = ({
  readable,
  axis,
  scale,
}: Readonly<{ readable: ReadableCurve; axis: DoseAxisName; scale: EffectScale }>) => {
  const { low, high, curve } = readable;
  const [dose, setDose] = useState((low + high) / 2);
  const at = Math.min(high, Math.max(low, dose));
  const { estimate, interval, standardError } = evaluateCurve(curve, at);
  const unit = scaleDisplay(scale).sign;
  return (
    <div class="read-at">
      <label for="read-at">Read the curve at</label>
      <input
        id="read-at"
        type="range"
        min={low}
        max={high}
        step={(high - low) / readSteps}
        value={at}
        aria-valuetext={shownDose(at, doseAxes[axis])}
        onInput={(event) => setDose(Number(event.currentTarget.value))}
      />
      <output for="read-at">
        <strong>{shownDose(at, doseAxes[axis])}</strong>:{" "}
        {shownEstimate(estimate, scale, standardError)}
        {unit} ({shownInterval(interval, scale, standardError)})
      </output>
    </div>
  );
};

const List = ({ items }: Readonly<{ items: readonly string[] }>) => (
  <ul>
    {items.map((item) => (
      <li key={item}>{item}</li>
    ))}
  </ul>
);

const Shown = ({
  shown,
  axis,
  scale,
  words,
}: Readonly<{
  shown: DoseShown;
  axis: DoseAxisName;
  scale: EffectScale;
  words: RecipeWords;
}>) => (
  <>
    {shown.missing ? (
      <p class="result-refusal">
        <strong>No curve can be drawn, and that is the answer.</strong> {shown.sentence}
      </p>
    ) : (
      <p>{shown.sentence}</p>
    )}
    {shown.extent === "" ? null : <p class="quiet">{shown.extent}.</p>}
    {shown.figure === undefined ? null : <FigureView figure={shown.figure} words={words} />}
    {shown.readable === undefined ? null : (
      <ReadAt readable={shown.readable} axis={axis} scale={scale} />
    )}
    {shown.tables.map((table) => (
      <TableView key={table.id} table={table} />
    ))}
    {shown.map === undefined && shown.together.length === 0 ? null : (
      <>
        <h2>Can it be told apart from other doses?</h2>
        <List items={shown.together} />
        {shown.map === undefined ? null : <FigureView figure={shown.map} />}
      </>
    )}
    {shown.notes.length === 0 ? null : (
      <>
        <h2>Doubts</h2>
        <List items={shown.notes} />
      </>
    )}
    {shown.model === "" ? null : (
      <details>
        <summary>What this rests on</summary>
        <p>{shown.model}.</p>
        <List items={shown.assumptions} />
      </details>
    )}
  </>
);

const DoseBody = () => {
  const app = useApp();
  const check = useAppState((state) => state.check);
  const scale = useScale();
  const [axis, setAxis] = useOneOf("dose-on", doseAxisNames, "holdSeconds");
  const [family, setFamily] = useOneOf("dose-outcome", familyWords, "strength");
  const [contrast, setContrast] = useOneOf(
    "dose-contrast",
    projectedContrasts,
    "change-within-arm",
  );
  const [comparisons, setComparisons] = useOneOf(
    "dose-comparisons",
    comparisonsWords,
    "best identified",
  );
  const wish = { scale, contrast, family, axis, comparisons };
  const answer = useAnswer(
    `${check?.fingerprint ?? ""} ${check?.name ?? ""} ${JSON.stringify(wish)}`,
    (tell) => app.worker.ask("dose", wish, { tell }),
    "Fitting curves",
  );
  return (
    <div class="dose">
      <p class="lead">
        Does the gain follow the dose, over what range, and is that known from trials that compared
        doses, or only from trials that differ in everything else too?
      </p>
      <div class="wishes">
        <Choice
          label="Dose"
          value={axis}
          words={doseAxisNames}
          shown={(word) => doseAxes[word].label}
          onChange={setAxis}
        />
        <Choice label="Outcome" value={family} words={familyWords} onChange={setFamily} />
        <Choice
          label="Measured as"
          value={contrast}
          words={projectedContrasts}
          shown={projectedContrastLabel}
          onChange={setContrast}
        />
        <Choice
          label="Comparisons"
          value={comparisons}
          words={comparisonsWords}
          onChange={setComparisons}
        />
      </div>
      <ScaleChoice />
      <p class="quiet">
        {doseAxes[axis].label}: {doseAxes[axis].definition}.
      </p>
      {answer.state === "failed" ? <p role="alert">{answer.failure.message}</p> : null}
      {answer.state === "done" ? (
        <Shown shown={answer.output} axis={axis} scale={scale} words={doseWords(wish)} />
      ) : null}
    </div>
  );
};

/** Dose-response: one variable, one outcome family, and what is known of them. */
export const doseView: View = { id: "dose", label: "Dose", needsFile: true, Body: DoseBody };
