/** Every figure of the open file, as its report shows them. */
import type { Answer } from "../../answers/answer.js";
import type { NamedFigure } from "../../figures/figure-list.js";
import { grouped } from "../../records/grouped.js";
import type { Report } from "../../report/report-part.js";
import { useAnswer, useApp, type App, type Coming } from "../app.js";
import { useFileKey, useShared } from "./asked.js";

export type TitledFigure = Readonly<{ title: string; figure: NamedFigure; answer: Answer }>;

/** Every figure once, where it first stands: the brief shows some that stand in the evidence too. */
const figuresOf = ({ parts }: Report): readonly TitledFigure[] => {
  const told = new Set<string>();
  const figures = parts
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
  const alike = grouped(figures, ({ title }) => title);
  // Figures of one answer are told apart in a list by what they are of, which their ids say.
  return figures.map((one) =>
    alike.get(one.title)!.length === 1
      ? one
      : { ...one, title: `${one.title}: ${one.figure.data.id.replaceAll("-", " ")}` },
  );
};

/** The figures made last: the whole screen shows those of the view it was opened from at once. */
const made = new WeakMap<App, Readonly<{ key: string; figures: readonly TitledFigure[] }>>();

/**
 * Every figure of the open file while they are made.
 *
 * @param title shown with progress and a cancel button while they are; empty where that would be in the way
 */
export const useAllFigures = (title: string): Coming<readonly TitledFigure[]> => {
  const app = useApp();
  const options = useShared();
  const key = `${useFileKey()} ${JSON.stringify(options)}`;
  return useAnswer(
    key,
    async (tell) => {
      const before = made.get(app);
      if (before?.key === key) return before.figures;
      const figures = figuresOf(await app.worker.ask("report", { options }, { tell }));
      made.set(app, { key, figures });
      return figures;
    },
    title,
  );
};
