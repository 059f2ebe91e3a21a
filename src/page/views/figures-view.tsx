import type { Answer } from "../../answers/answer.js";
import type { NamedFigure } from "../../figures/figure-list.js";
import type { Report } from "../../report/report-part.js";
import { useAnswer, useApp, useChoice } from "../app.js";
import { useFileKey, useShared, WhatIsAsked } from "../parts/asked.js";
import { FailedAnswer } from "../parts/failed-answer.js";
import { FigureView } from "../parts/figure-view.js";
import { Skeleton } from "../parts/hold-strip.js";
import type { View } from "./view.js";

const all = "all";

type Shown = Readonly<{ title: string; figure: NamedFigure; answer: Answer }>;

/** Every figure once, where it first stands: the brief shows some that stand in the evidence too. */
const figuresOf = ({ parts }: Report): readonly Shown[] => {
  const told = new Set<string>();
  return parts
    .flatMap(({ answers }) => answers)
    .flatMap(({ title, answer }) =>
      answer.figures
        .filter(({ data: { id } }) => !told.has(id) && told.add(id))
        .map((figure) => ({
          title: "title" in figure.data ? (figure.data.title ?? title) : title,
          figure,
          answer,
        })),
    );
};

const Gallery = ({ figures }: Readonly<{ figures: readonly Shown[] }>) => {
  const [wanted, choose] = useChoice("figures-one", all);
  const one = figures.filter(({ figure }) => figure.data.id === wanted);
  const shown = one.length > 0 ? one : figures;
  if (figures.length === 0)
    return <p>No row of this file makes a figure; the Data view says why.</p>;
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
  const app = useApp();
  const options = useShared();
  const answer = useAnswer(
    `${useFileKey()} ${JSON.stringify(options)}`,
    (tell) => app.worker.ask("report", { options }, { tell }),
    "Making figures",
  );
  return (
    <>
      {answer.state === "failed" ? <FailedAnswer answer={answer} /> : null}
      {answer.state === "waiting" ? <Skeleton /> : null}
      {answer.state === "done" ? <Gallery figures={figuresOf(answer.output)} /> : null}
      <WhatIsAsked />
    </>
  );
};

/** All figures of the open file. */
export const figuresView: View = {
  id: "figures",
  label: "Figures",
  needsFile: true,
  Body: FiguresBody,
};
