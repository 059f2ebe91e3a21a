import type { Projection } from "../../../projection/project-protocol.js";
import { nearestTable } from "../../../tables/projection-support-table.js";
import { TableView } from "../../parts/table-view.js";
import { titledFor } from "./titled-for.js";
import type { LinearScale } from "./linear-scale.js";
import type { ComparedShown } from "./compared-shown.js";
import { CoursePicture } from "./course-picture.js";
import { RangesBlock } from "./ranges-block.js";
import { SupportBlock } from "./support-block.js";

const sentence = (text: string): string =>
  `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? "" : "."}`;

/** What is projected for one protocol, or why nothing is. */
export const ProjectionBlock = ({
  letter,
  shown,
  scale,
  courseScale,
  weeksAcross,
}: Readonly<{
  letter: string;
  shown: NonNullable<ComparedShown["projections"]>[number];
  scale: LinearScale;
  courseScale: LinearScale;
  weeksAcross: number;
}>) => {
  if (shown.kind === "unanswered")
    return (
      <section class="projected">
        <h3>Protocol {letter}</h3>
        <p class="refusal">{sentence(shown.message)}</p>
      </section>
    );
  if (shown.kind === "refusal")
    return (
      <section class="projected">
        <h3>Protocol {letter}: nothing is projected</h3>
        <p class="refusal">{sentence(shown.reason)}</p>
        {shown.nearest === undefined ? null : (
          <TableView table={titledFor(letter, nearestTable([shown.nearest]))} />
        )}
      </section>
    );
  return (
    <section class="projected">
      <h3>
        Protocol {letter} <span class="quiet written-form">{shown.written}</span>
      </h3>
      <p class="range-title">Gain after {shown.weeks} weeks, middle and range that holds 95%</p>
      <RangesBlock ranges={shown.ranges} scale={scale} />
      <Course projection={shown} letter={letter} scale={courseScale} weeksAcross={weeksAcross} />
      <SupportBlock support={shown.support} letter={letter} />
      {shown.assumed.length === 0 ? null : (
        <p class="quiet">
          Put in for what is not stated: {shown.assumed.map(({ message }) => message).join("; ")}.
        </p>
      )}
    </section>
  );
};

const Course = ({
  projection,
  letter,
  scale,
  weeksAcross,
}: Readonly<{
  projection: Projection;
  letter: string;
  scale: LinearScale;
  weeksAcross: number;
}>) => (
  <figure class="course">
    <CoursePicture
      course={projection.course}
      weeksAcross={weeksAcross}
      scale={scale}
      label={`Course of protocol ${letter}`}
    />
    <figcaption class="key">
      <span class="swatch on-average" /> average <span class="swatch new-group" /> a new group{" "}
      <span class="swatch one-person" /> one person; broken line where no trial measured
    </figcaption>
  </figure>
);
