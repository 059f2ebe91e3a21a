import type { ProjectData } from "../../../answers/project.js";
import { formatPercent } from "../../../tables/number-format.js";
import type { LinearScale } from "./linear-scale.js";
import { tickText, type Ranges } from "./range-words.js";

type CoursePoint = NonNullable<ProjectData["answer"]>["course"][number];

const width = 1000;
const height = 400;

/** The course over weeks: the three ranges as bands, the average as a line, broken where no trial measured. */
export const CoursePicture = ({
  course,
  weeksAcross,
  scale,
  label,
}: Readonly<{
  course: readonly CoursePoint[];
  weeksAcross: number;
  scale: LinearScale;
  label: string;
}>) => {
  const along = (weeks: number): string => ((weeks / weeksAcross) * width).toFixed(1);
  const up = (percent: number): string => (height - scale.at(percent) * height).toFixed(1);
  const side = (
    points: readonly CoursePoint[],
    name: keyof Ranges,
    edge: "low" | "estimate" | "high",
  ): string => points.map((p) => `${along(p.weeks)} ${up(p[name].percent[edge])}`).join("L");
  const back = [...course].reverse();
  const band = (name: keyof Ranges): string =>
    `M${side(course, name, "high")}L${side(back, name, "low")}Z`;
  const steps = course.slice(1).map((point, i) => ({ from: course[i] ?? point, to: point }));
  const last = course.at(-1);
  const weekStep = Math.max(1, Math.ceil(weeksAcross / 6));
  const weekMarks = Array.from(
    { length: Math.floor(weeksAcross / weekStep) + 1 },
    (_, i) => i * weekStep,
  );
  return (
    <div class="course-picture">
      <div class="level-marks" aria-hidden="true">
        {scale.ticks.map((tick) => (
          <span key={tick} style={{ bottom: `${100 * scale.at(tick)}%` }}>
            {tickText(tick)}
          </span>
        ))}
      </div>
      <svg
        viewBox={`0 0 ${width} ${height}`}
        preserveAspectRatio="none"
        role="img"
        aria-label={
          last === undefined
            ? label
            : `${label}: from nothing at the start to ${formatPercent(last.average.percent.estimate)} after ${last.weeks} weeks`
        }
      >
        {scale.ticks.map((tick) => (
          <line
            key={tick}
            class={tick === 0 ? "zero" : "grid"}
            x1={0}
            x2={width}
            y1={up(tick)}
            y2={up(tick)}
          />
        ))}
        <path class="band" d={band("person")} />
        <path class="band" d={band("newGroup")} />
        <path class="band" d={band("average")} />
        {steps.map(({ from, to }) => (
          <line
            key={to.weeks}
            class={from.studied && to.studied ? "course-line" : "course-line not-studied"}
            x1={along(from.weeks)}
            y1={up(from.average.percent.estimate)}
            x2={along(to.weeks)}
            y2={up(to.average.percent.estimate)}
          />
        ))}
      </svg>
      <div class="time-marks" aria-hidden="true">
        {weekMarks.map((week) => (
          <span key={week} style={{ left: `${(100 * week) / weeksAcross}%` }}>
            {week}
          </span>
        ))}
        <span class="axis-name">weeks</span>
      </div>
    </div>
  );
};
