import type { AnswerTo } from "../../../answers/question.js";
import type { QuestionOf } from "../../../answers/question-list.js";
import { CardButton } from "../../parts/card-button.js";
import { TableView } from "../../parts/table-view.js";
import { CoursePicture } from "./course-picture.js";
import type { LinearScale } from "./linear-scale.js";
import { RangesBlock } from "./ranges-block.js";
import { SupportBlock } from "./support-block.js";
import { confidenceWords, counted } from "../../../tables/number-format.js";

/** What is projected for one protocol, or why nothing is. */
export const ProjectionBlock = ({
  letter,
  answer,
  scale,
  courseScale,
  weeksAcross,
}: Readonly<{
  letter: string;
  answer: AnswerTo<QuestionOf<"project">>;
  scale: LinearScale;
  courseScale: LinearScale;
  weeksAcross: number;
}>) => {
  const nearest = answer.tables.find(({ id }) => id.startsWith("nearest-"));
  const projection = answer.data.answer;
  if (projection === null)
    return (
      <section class="projected">
        <h3>Protocol {letter}: nothing is projected</h3>
        <p class="refusal">{answer.headline.slice(letter.length + 2)}</p>
        {nearest === undefined ? null : <TableView table={nearest} />}
      </section>
    );
  const { written, weeks, ranges, course, parts, assumed } = projection;
  return (
    <section class="projected">
      <h3>
        {parts.ofProtocol ? (
          <>
            Protocol {letter} <span class="quiet written-form">{written}</span>
          </>
        ) : (
          `Whatever the protocol, after ${counted(weeks, "week")}`
        )}{" "}
        <CardButton answer={answer} />
      </h3>
      {parts.ofProtocol ? null : <p class="refusal">{answer.headline.slice(letter.length + 2)}</p>}
      <p class="range-title">
        {parts.ofProtocol ? "Gain" : "Gain in trials of this file, whatever the protocol,"} after{" "}
        {counted(weeks, "week")}, middle and range that holds{" "}
        {confidenceWords(answer.data.confidence ?? 0)}
      </p>
      <RangesBlock ranges={ranges} scale={scale} />
      <figure class="course">
        <CoursePicture
          course={course}
          weeksAcross={weeksAcross}
          scale={courseScale}
          label={`Course of protocol ${letter}`}
        />
        <figcaption class="key">
          <span class="swatch on-average" /> average <span class="swatch new-group" /> a new group{" "}
          <span class="swatch one-person" /> one person; broken line where no trial measured
        </figcaption>
      </figure>
      <SupportBlock projection={projection} nearest={nearest} />
      {assumed.length === 0 ? null : (
        <p class="quiet">
          Put in for what is not stated: {assumed.map(({ message }) => message).join("; ")}.
        </p>
      )}
    </section>
  );
};
