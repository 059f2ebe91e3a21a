import type { Answer } from "../../../answers/answer.js";
import { noteLines } from "../../../tables/note-lines.js";
import { List } from "../../parts/answer-view.js";
import { FigureView } from "../../parts/figure-view.js";
import { TableView } from "../../parts/table-view.js";
import { Kept } from "../kept.js";
import { useRested } from "../use-rested.js";

/** The comparison as a figure for a slide and as tables to save, made when the hand rests; and what it rests on. */
export const ComparisonToKeep = ({ answer: moving }: Readonly<{ answer: Answer }>) => {
  const answer = useRested(moving);
  const figure = answer.figures.find(({ name }) => name === "comparison");
  // What stands elsewhere on the screen is not said twice.
  const tables = answer.tables.filter(
    ({ id }) => id !== "soreness" && !id.startsWith("single-trials"),
  );
  return (
    <Kept
      of={[answer]}
      draw={() => (
        <div>
          <details>
            <summary>What the projections rest on</summary>
            {answer.sentences.map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
            <List items={noteLines(answer.notes)} />
            {tables
              .filter(({ place }) => place === "folded")
              .map((table) => (
                <TableView key={table.id} table={table} />
              ))}
          </details>
          {figure === undefined ? null : (
            <>
              <h2>To keep</h2>
              <FigureView figure={figure} answer={answer} />
              <details>
                <summary>As tables</summary>
                {tables
                  .filter(({ place }) => place === undefined)
                  .map((table) => (
                    <TableView key={table.id} table={table} />
                  ))}
              </details>
            </>
          )}
        </div>
      )}
    />
  );
};
