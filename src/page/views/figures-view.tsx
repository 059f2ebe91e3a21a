import type { Figure } from "../../figures/figure.js";
import { useAnswer, useApp, useAppState, useChoice } from "../app.js";
import { FailedAnswer } from "../parts/failed-answer.js";
import { FigureView } from "../parts/figure-view.js";
import { ScaleChoice, useScale } from "../parts/scale-choice.js";
import { reportWords, type RecipeWords } from "../recipe-words.js";
import type { View } from "./view.js";

const all = "all";

const Gallery = ({
  figures,
  words,
}: Readonly<{ figures: readonly Figure[]; words: RecipeWords }>) => {
  const [wanted, choose] = useChoice("figures-one", all);
  const known = wanted === all || figures.some(({ id }) => id === wanted);
  const shown = known && wanted !== all ? figures.filter(({ id }) => id === wanted) : figures;
  if (figures.length === 0)
    return <p>No row of this table makes a figure; the Data view says why.</p>;
  return (
    <>
      <label class="row">
        <span>Figure</span>
        <select
          value={known ? wanted : all}
          onChange={(event) => choose(event.currentTarget.value)}
        >
          <option value={all}>All {figures.length}</option>
          {figures.map(({ id, title }) => (
            <option key={id} value={id}>
              {title}
            </option>
          ))}
        </select>
      </label>
      {shown.map((figure) => (
        <section key={figure.id} id={figure.id}>
          <h2>{figure.title}</h2>
          <FigureView figure={figure} words={words} />
        </section>
      ))}
    </>
  );
};

const FiguresBody = () => {
  const app = useApp();
  const check = useAppState((state) => state.check);
  const scale = useScale();
  const answer = useAnswer(
    `${check?.fingerprint ?? ""} ${check?.name ?? ""} ${scale}`,
    (tell) => app.worker.ask("figures", { scale }, { tell }),
    "Making figures",
  );
  return (
    <>
      <p class="lead">
        Every figure of the report: full screen for a lecture, copied to a slide, or saved with its
        specification and the numbers it plots.
      </p>
      <ScaleChoice />
      {answer.state === "failed" ? <FailedAnswer answer={answer} /> : null}
      {answer.state === "done" ? (
        <Gallery figures={answer.output} words={reportWords(scale)} />
      ) : null}
    </>
  );
};

/** All figures of the open table. */
export const figuresView: View = {
  id: "figures",
  label: "Figures",
  needsFile: true,
  Body: FiguresBody,
};
