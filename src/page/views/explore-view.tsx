import { parsePrescription } from "../../protocol/written-form.js";
import { useApp } from "../app.js";
import { AnswerView } from "../parts/answer-view.js";
import { OwnOptions, useOwn, useQuestion, WhatIsAsked } from "../parts/asked.js";
import { FailedAnswer } from "../parts/failed-answer.js";
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

const Search = ({ limits }: Readonly<{ limits: Readonly<Record<string, number>> }>) => {
  const answer = useQuestion("explore", { ...useOwn("explore"), ...limits }, "Searching");
  if (answer.state === "failed") return <FailedAnswer answer={answer} />;
  const shown = answer.state === "done" ? answer.output : undefined;
  const written = shown?.data.answer?.points.map((point) => point.written) ?? [];
  return (
    <>
      {shown === undefined ? null : <AnswerView answer={{ ...shown, cautions: null }} />}
      {written.length === 0 ? null : <ToCompare written={written} />}
      <CautionsPanel prescriptions={written.map((text) => parsePrescription(text))} />
    </>
  );
};

const ExploreBody = () => {
  const minutes = useNumberChoice("explore-minutes", "20", { low: 1, high: 120 });
  const sessions = useNumberChoice("explore-sessions", "3", { low: 1, high: 14 });
  const intensity = useNumberChoice("explore-intensity-up-to", "80", { low: 20, high: 100 });
  return (
    <div class="protocols">
      <p class="lead">
        Give the time there is and the highest intensity; you see the protocols that give the most
        for their time, among those that can be held and that trials have come near to.
      </p>
      <CautionsLine />
      <div class="wishes">
        <NumberBox label="Minutes a session, at most" choice={minutes} />
        <NumberBox label="Sessions a week, at most" choice={sessions} />
        <NumberBox label="Intensity up to, % of MVC" choice={intensity} />
      </div>
      <OwnOptions id="explore" except={["minutes", "sessions", "intensityUpTo"]} />
      <WhatIsAsked />
      {minutes.value !== undefined &&
      sessions.value !== undefined &&
      intensity.value !== undefined ? (
        <Search
          limits={{
            minutes: minutes.value,
            sessions: sessions.value,
            intensityUpTo: intensity.value,
          }}
        />
      ) : (
        <CautionsPanel prescriptions={[]} />
      )}
    </div>
  );
};

/** The most gain for the time there is. */
export const exploreView: View = {
  id: "explore",
  label: "Most for the time",
  needsFile: true,
  Body: ExploreBody,
};
