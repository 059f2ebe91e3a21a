import { noteLines } from "../../../tables/note-lines.js";
import { List } from "../../parts/answer-view.js";
import { CardButton } from "../../parts/card-button.js";
import { Skeleton } from "../../parts/hold-strip.js";
import { TableView } from "../../parts/table-view.js";
import type { Moved } from "../../parts/use-moving.js";
import { SessionPicture, timelineOf } from "./session-picture.js";

/** Whether one session can be held: the grade, the session with the capacity that remains, what would fit. */
export const SessionBlock = ({
  name,
  session,
  secondsAcross = timelineOf(session.answer).at(-1)?.endSeconds ?? 1,
  isHeadline = false,
}: Readonly<{
  /** Its letter among several; empty for the only one. */
  name: string;
  session: Moved<"hold">;
  /** Seconds of the longest session beside it; its own where it stands alone. */
  secondsAcross?: number;
  /** Whether its verdict stands above, in the headline of the screen. */
  isHeadline?: boolean;
}>) => {
  const { answer: held, failure } = session;
  if (failure !== undefined) return <p class="refusal">{failure.message}</p>;
  if (held === undefined) return <Skeleton />;
  const { assessment, answer } = held.data;
  const tableOf = (start: string) => held.tables.find(({ id }) => id.startsWith(start));
  const [dose, fit] = [tableOf("dose"), tableOf("what-would-fit")];
  return (
    <section class="session" aria-label={name === "" ? "Can it be held" : `Session ${name}`}>
      {isHeadline ? null : assessment === null || answer === null ? (
        <p class="not-judged">
          {name === "" ? null : <strong class="letter">{name} </strong>}
          {name === "" ? held.headline : held.headline.slice(held.headline.indexOf(": ") + 2)}
        </p>
      ) : (
        <p class="feasibility">
          {name === "" ? null : <strong class="letter">{name} </strong>}
          {answer} <CardButton answer={held} />
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
