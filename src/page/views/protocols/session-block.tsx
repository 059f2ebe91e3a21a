import { noteLines } from "../../../tables/note-lines.js";
import { List } from "../../parts/answer-view.js";
import { TableView } from "../../parts/table-view.js";
import type { Moved } from "../../parts/use-moving.js";
import { SessionPicture, timelineOf } from "./session-picture.js";

/** Whether one session can be held: the grade, the session with the capacity that remains, what would fit. */
export const SessionBlock = ({
  name,
  session,
  secondsAcross,
}: Readonly<{ name: string; session: Moved<"hold">; secondsAcross: number }>) => {
  const { answer: held, failure } = session;
  if (failure !== undefined) return <p class="refusal">{failure.message}</p>;
  if (held === undefined) return null;
  const { assessment, answer } = held.data;
  const tableOf = (start: string) => held.tables.find(({ id }) => id.startsWith(start));
  const [dose, fit] = [tableOf("dose"), tableOf("what-would-fit")];
  return (
    <section class="session" aria-label={name === "" ? "Can it be held" : `Session ${name}`}>
      {/* The only session's verdict stands in the headline above. */}
      {name === "" ? null : assessment === null || answer === null ? (
        <p class="not-judged">
          <strong class="letter">{name}</strong>{" "}
          {held.headline.slice(held.headline.indexOf(": ") + 2)}
        </p>
      ) : (
        <p class="feasibility">
          <strong class="letter">{name}</strong> {answer}
        </p>
      )}
      {assessment === null || answer === null ? null : (
        <>
          <SessionPicture
            timeline={timelineOf(held)}
            assessment={assessment}
            secondsAcross={secondsAcross}
            label={`The session to scale with the capacity that remains. ${answer}`}
          />
          <p class="key">
            <span class="swatch hold-block" /> holds, % of MVC <span class="swatch capacity" /> what
            is left, from those who tire early to late
          </p>
          <details>
            <summary>What the model says and does not know</summary>
            <List items={noteLines(assessment.statements)} />
          </details>
        </>
      )}
      {[
        { title: "What would make it fit", table: fit },
        { title: "All that follows from it", table: dose },
      ].map(({ title, table }) =>
        table === undefined ? null : (
          <details key={title}>
            <summary>{title}</summary>
            <TableView table={table} />
          </details>
        ),
      )}
    </section>
  );
};
