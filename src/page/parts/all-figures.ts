/** Every figure of the open file, as its report shows them. */
import type { Answer } from "../../answers/answer.js";
import type { NamedFigure } from "../../figures/figure-list.js";
import type { Report } from "../../report/report-part.js";
import { useAnswer, useApp, type Coming } from "../app.js";
import { useFileKey, useShared } from "./asked.js";

export type TitledFigure = Readonly<{ title: string; figure: NamedFigure; answer: Answer }>;

/** Every figure once, where it first stands: the brief shows some that stand in the evidence too. */
const figuresOf = ({ parts }: Report): readonly TitledFigure[] => {
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

/**
 * Every figure of the open file while they are made.
 *
 * @param title shown with progress and a cancel button while they are; empty where that would be in the way
 */
export const useAllFigures = (title: string): Coming<readonly TitledFigure[]> => {
  const { worker } = useApp();
  const options = useShared();
  return useAnswer(
    `${useFileKey()} ${JSON.stringify(options)}`,
    async (tell) => figuresOf(await worker.ask("report", { options }, { tell })),
    title,
  );
};
