import { useMemo } from "preact/hooks";
import { joints, muscleLengths } from "../../protocol/prescription.js";
import { parsePrescription } from "../../protocol/written-form.js";
import { projectionGoals } from "../../projection/goals.js";
import { useAnswer, useApp, useAppState } from "../app.js";
import type { ExploreShown, ExploreWish } from "../jobs/explore-job.js";
import { FigureView } from "../parts/figure-view.js";
import { TableView } from "../parts/table-view.js";
import { exploreWords, type RecipeWords } from "../recipe-words.js";
import { CautionsLine, CautionsPanel } from "./cautions-panel.js";
import { Choice } from "./choice.js";
import { NumberBox, useNumberChoice } from "./number-choice.js";
import { projectedContrastLabel, projectedContrasts } from "./protocols/use-projection-wishes.js";
import { useOneOf } from "./use-one-of.js";
import type { View } from "./view.js";

const anyJoint = ["any joint", ...joints] as const;
const anyLength = ["as in the table", ...muscleLengths] as const;
const keepWords = ["comfortable", "near the limit"] as const;

type Found = Extract<ExploreShown, Readonly<{ kind: "frontier" }>>;

const Frontier = ({ found, words }: Readonly<{ found: Found; words: RecipeWords }>) => {
  const app = useApp();
  const compare = (written: string): void => {
    app.choose({ "protocols-b": written });
    app.go("protocols");
  };
  return (
    <>
      {found.sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <FigureView figure={found.figure} words={words} />
      {found.tables.map((table) => (
        <TableView key={table.id} table={table} />
      ))}
      <h2>Look at one more closely</h2>
      <ol class="to-compare">
        {found.written.map((written) => (
          <li key={written}>
            {written}{" "}
            <button type="button" class="quiet-button" onClick={() => compare(written)}>
              Put beside protocol A<span class="unseen">: {written}</span>
            </button>
          </li>
        ))}
      </ol>
    </>
  );
};

const Search = ({ wish }: Readonly<{ wish: ExploreWish }>) => {
  const app = useApp();
  const check = useAppState((state) => state.check);
  const answer = useAnswer(
    `${check?.fingerprint ?? ""} ${check?.name ?? ""} ${JSON.stringify(wish)}`,
    (tell) => app.worker.ask("explore", wish, { tell }),
    "Searching",
  );
  const written =
    answer.state === "done" && answer.output.kind === "frontier" ? answer.output.written : [];
  const prescriptions = useMemo(() => written.map((text) => parsePrescription(text)), [written]);
  return (
    <>
      {answer.state === "failed" ? (
        <p class="refusal" role="alert">
          {answer.failure.message}
        </p>
      ) : null}
      {answer.state !== "done" ? null : answer.output.kind === "refusal" ? (
        <p class="result-refusal">
          <strong>Nothing is found, and that is the answer.</strong>{" "}
          {answer.output.reason.charAt(0).toUpperCase()}
          {answer.output.reason.slice(1)}.
        </p>
      ) : (
        <Frontier found={answer.output} words={exploreWords(wish)} />
      )}
      <CautionsPanel prescriptions={prescriptions} />
    </>
  );
};

const ExploreBody = () => {
  const [goal, setGoal] = useOneOf(
    "explore-goal",
    projectionGoals,
    "strength at the trained angle",
  );
  const [contrast, setContrast] = useOneOf(
    "explore-contrast",
    projectedContrasts,
    "change-within-arm",
  );
  const [joint, setJoint] = useOneOf("explore-joint", anyJoint, "any joint");
  const [length, setLength] = useOneOf("explore-length", anyLength, "as in the table");
  const [keep, setKeep] = useOneOf("explore-keep", keepWords, "comfortable");
  const minutes = useNumberChoice("explore-minutes", "20", { low: 1, high: 120 });
  const sessions = useNumberChoice("explore-sessions", "3", { low: 1, high: 14 });
  const effort = useNumberChoice("explore-effort", "80", { low: 20, high: 100 });
  const weeks = useNumberChoice("explore-weeks", "", { low: 1, high: 104, optional: true });
  return (
    <div class="protocols">
      <p class="lead">
        Give the time and the effort there are; you see the protocols that give the most for their
        time, among those that can be held and that trials have come near to.
      </p>
      <CautionsLine />
      <div class="wishes">
        <Choice label="Goal" value={goal} words={projectionGoals} onChange={setGoal} />
        <Choice
          label="Measured as"
          value={contrast}
          words={projectedContrasts}
          shown={projectedContrastLabel}
          onChange={setContrast}
        />
        <Choice label="Joint" value={joint} words={anyJoint} onChange={setJoint} />
        <Choice label="Muscle length" value={length} words={anyLength} onChange={setLength} />
      </div>
      <div class="wishes">
        <NumberBox label="Minutes a session, at most" choice={minutes} />
        <NumberBox label="Sessions a week, at most" choice={sessions} />
        <NumberBox label="Effort up to, % of MVC" choice={effort} />
        <NumberBox label="Weeks" choice={weeks} placeholder="the usual" />
        <Choice label="Held at worst" value={keep} words={keepWords} onChange={setKeep} />
      </div>
      {minutes.value !== undefined &&
      sessions.value !== undefined &&
      effort.value !== undefined &&
      weeks.sound ? (
        <Search
          wish={{
            goal,
            contrast,
            keep,
            limits: {
              minutesPerSession: minutes.value,
              sessionsPerWeek: sessions.value,
              effortCeilingPercent: effort.value,
              ...(joint === "any joint" ? {} : { joint }),
              ...(length === "as in the table" ? {} : { muscleLengths: [length] }),
              ...(weeks.value === undefined ? {} : { weeks: weeks.value }),
            },
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
  label: "Explore",
  needsFile: true,
  Body: ExploreBody,
};
