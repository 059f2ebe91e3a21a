import { writeAddress } from "../address.js";
import { useAppState, useChoice } from "../app.js";
import { useAllFigures, type TitledFigure } from "../parts/all-figures.js";
import { WhatIsAsked } from "../parts/asked.js";
import { FailedAnswer } from "../parts/failed-answer.js";
import { FigureView } from "../parts/figure-view.js";
import { Skeleton } from "../parts/hold-strip.js";
import type { View } from "./view.js";

const all = "all";

const Gallery = ({ figures }: Readonly<{ figures: readonly TitledFigure[] }>) => {
  const [wanted, choose] = useChoice("figures-one", all);
  const choices = useAppState((state) => state.address.choices);
  const one = figures.filter(({ figure }) => figure.data.id === wanted);
  const shown = one.length > 0 ? one : figures;
  if (figures.length === 0)
    return (
      <p class="lead">
        No row of this file makes a figure.{" "}
        <a href={writeAddress({ view: "data", choices })}>Data</a> says of each row what is missing.
      </p>
    );
  return (
    <>
      <label class="row">
        <span>Figure</span>
        <select
          value={one.length > 0 ? wanted : all}
          onChange={(event) => choose(event.currentTarget.value)}
        >
          <option value={all}>All {figures.length}</option>
          {figures.map(({ title, figure }) => (
            <option key={figure.data.id} value={figure.data.id}>
              {title}
            </option>
          ))}
        </select>
      </label>
      {shown.map(({ title, figure, answer }) => (
        <section key={figure.data.id}>
          <h2>{title}</h2>
          <FigureView figure={figure} answer={answer} />
        </section>
      ))}
    </>
  );
};

const FiguresBody = () => {
  const answer = useAllFigures("Making figures");
  return (
    <>
      {answer.state === "failed" ? <FailedAnswer answer={answer} /> : null}
      {answer.state === "waiting" ? <Skeleton /> : null}
      {answer.state === "done" ? <Gallery figures={answer.output} /> : null}
      <WhatIsAsked />
    </>
  );
};

/** All figures of the open file. */
export const figuresView: View = {
  id: "figures",
  label: "Figures",
  needsFile: true,
  shows: "Every figure of the file, to project, to copy or to save.",
  Body: FiguresBody,
};
