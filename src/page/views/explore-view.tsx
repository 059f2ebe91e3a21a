import { useRef } from "preact/hooks";
import { parsePrescription } from "../../protocol/written-form.js";
import { useApp, useAppState } from "../app.js";
import { ComingAnswer } from "../parts/answer-view.js";
import { OwnOptions, useOwn, useQuestion, WhatIsAsked } from "../parts/asked.js";
import { CautionsLine, CautionsPanel } from "./cautions-panel.js";
import { NumberBox, useNumberChoice } from "./number-choice.js";
import type { View } from "./view.js";

/** Protocols that were found, each to be put beside another. */
const ToCompare = ({ written }: Readonly<{ written: readonly string[] }>) => {
  const app = useApp();
  const compare = (text: string): void => {
    app.choose({ "protocols-b": text });
    app.go("protocols");
  };
  return (
    <>
      <h2>Look at one more closely</h2>
      <ol class="to-compare">
        {written.map((text) => (
          <li key={text}>
            {text}{" "}
            <button type="button" class="quiet-button" onClick={() => compare(text)}>
              Put beside protocol A<span class="unseen">: {text}</span>
            </button>
          </li>
        ))}
      </ol>
    </>
  );
};

const ExploreBody = () => {
  const minutes = useNumberChoice("explore-minutes", "20", { low: 1, high: 120 });
  const sessions = useNumberChoice("explore-sessions", "3", { low: 1, high: 14 });
  const intensity = useNumberChoice("explore-intensity-up-to", "80", { low: 20, high: 100 });
  const wanted = {
    minutes: minutes.value,
    sessions: sessions.value,
    intensityUpTo: intensity.value,
  };
  // While a number cannot be read, the last search stands.
  const last = useRef(wanted);
  if (Object.values(wanted).every((value) => value !== undefined)) last.current = wanted;
  const answer = useQuestion("explore", { ...useOwn("explore"), ...last.current }, "Searching");
  const written =
    answer.state === "done"
      ? (answer.output.data.answer?.points.map((point) => point.written) ?? [])
      : [];
  const prescriptions = written.map((text) => parsePrescription(text));
  const ages = useAppState(({ check }) => check?.ages);
  return (
    <div class="protocols">
      <ComingAnswer
        answer={
          answer.state === "done"
            ? { ...answer, output: { ...answer.output, cautions: null } }
            : answer
        }
      >
        <div class="wishes">
          <NumberBox label="Minutes a session, at most" choice={minutes} />
          <NumberBox label="Sessions a week, at most" choice={sessions} />
          <NumberBox label="Intensity up to, % of MVC" choice={intensity} />
        </div>
        <OwnOptions id="explore" except={["minutes", "sessions", "intensityUpTo"]} />
        <WhatIsAsked />
        <CautionsLine prescriptions={prescriptions} ages={ages} />
      </ComingAnswer>
      {written.length === 0 ? null : <ToCompare written={written} />}
      <CautionsPanel prescriptions={prescriptions} />
    </div>
  );
};

/** The most gain for the time there is. */
export const exploreView: View = {
  id: "explore",
  label: "Most for the time",
  needsFile: true,
  shows: "The protocols that give most for the time a person has.",
  Body: ExploreBody,
};
